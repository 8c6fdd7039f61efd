package archtest

import (
	"bufio"
	"crypto/sha256"
	"encoding/hex"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// atTop is everything that may lie at the top; anything else has a better place.
var atTop = []string{
	".ci", ".gitignore", ".golangci.yml", "DEVELOPERS.md", "LICENSE", "Makefile", "README.md",
	"billing", "booking", "cmd", "go.mod", "go.sum", "jobs", "migrations", "routing", "testdata", "web",
}

func TestNothingElseLiesAtTheTop(t *testing.T) {
	entries, err := os.ReadDir(root)
	if err != nil {
		t.Fatal(err)
	}
	ignored := lines(t, filepath.Join(root, ".gitignore"))
	var found []string
	for _, entry := range entries {
		if name := entry.Name(); name != ".git" && !slices.ContainsFunc(ignored, func(pattern string) bool { return ignores(pattern, name) }) {
			found = append(found, name)
		}
	}
	for _, name := range found {
		if !slices.Contains(atTop, name) {
			t.Errorf("%s does not belong at the top", name)
		}
	}
	for _, name := range atTop {
		if !slices.Contains(found, name) {
			t.Errorf("%s is missing at the top", name)
		}
	}
}

func ignores(pattern, name string) bool {
	match, err := path.Match(strings.Trim(pattern, "/"), name)
	return err == nil && match
}

const vendored = root + "/web/static/vendor"

// records are the files of the folder that come from us.
var records = []string{"README.md", "SHA256SUMS", "package.json", "package-lock.json", "refresh"}

func TestVendoredLibrariesAreAsRecorded(t *testing.T) {
	sums := map[string]string{}
	for _, line := range lines(t, filepath.Join(vendored, "SHA256SUMS")) {
		sum, name, found := strings.Cut(line, "  ")
		if !found {
			t.Fatalf("SHA256SUMS has the line %q", line)
		}
		sums[path.Clean(name)] = sum
	}
	for name, want := range sums {
		if got := hash(t, filepath.Join(vendored, name)); got != want {
			t.Errorf("%s has hash %s, recorded is %s; see web/static/vendor/README.md", name, got, want)
		}
	}
	entries, err := os.ReadDir(vendored)
	if err != nil {
		t.Fatal(err)
	}
	for _, entry := range entries {
		if _, known := sums[entry.Name()]; !known && !slices.Contains(records, entry.Name()) {
			t.Errorf("%s lies in web/static/vendor but is not in SHA256SUMS", entry.Name())
		}
	}
}

func hash(t *testing.T, name string) string {
	t.Helper()
	content, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	sum := sha256.Sum256(content)
	return hex.EncodeToString(sum[:])
}

func lines(t *testing.T, name string) []string {
	t.Helper()
	file, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	var all []string
	scanner := bufio.NewScanner(file)
	for scanner.Scan() {
		if line := strings.TrimSpace(scanner.Text()); line != "" && !strings.HasPrefix(line, "#") {
			all = append(all, line)
		}
	}
	if err := scanner.Err(); err != nil {
		t.Fatal(err)
	}
	return all
}
