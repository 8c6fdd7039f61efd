package archtest

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
)

const (
	root   = "../../.."
	module = "drawbar"
)

// pkg is what the go command tells of a package of this module.
type pkg struct {
	ImportPath   string
	Dir          string
	Name         string
	Doc          string
	GoFiles      []string
	Imports      []string
	TestImports  []string
	XTestImports []string
}

// top is the folder at the top of the module that the package lies in.
func top(path string) string {
	first, _, _ := strings.Cut(strings.TrimPrefix(path, module+"/"), "/")
	return first
}

func ours(path string) bool { return path == module || strings.HasPrefix(path, module+"/") }

// has tells whether an element of the path is one of the names.
func has(path string, names ...string) bool {
	for element := range strings.SplitSeq(path, "/") {
		for _, name := range names {
			if element == name {
				return true
			}
		}
	}
	return false
}

// house lists all packages of the module by import path.
func house(t *testing.T) map[string]pkg {
	t.Helper()
	all, err := listed()
	if err != nil {
		t.Fatal(err)
	}
	return all
}

var listed = sync.OnceValues(func() (map[string]pkg, error) {
	command := exec.Command("go", "list", "-e", "-json=ImportPath,Dir,Name,Doc,GoFiles,Imports,TestImports,XTestImports", "./...")
	command.Dir = root
	command.Stderr = os.Stderr
	out, err := command.Output()
	if err != nil {
		return nil, err
	}
	all := map[string]pkg{}
	for decoder := json.NewDecoder(bytes.NewReader(out)); ; {
		var p pkg
		if err := decoder.Decode(&p); errors.Is(err, io.EOF) {
			return all, nil
		} else if err != nil {
			return nil, err
		}
		all[p.ImportPath] = p
	}
})

func TestEveryPackageSaysWhatItPromises(t *testing.T) {
	for path, p := range house(t) {
		if _, err := os.Stat(filepath.Join(p.Dir, "doc.go")); err != nil {
			t.Errorf("%s has no doc.go", path)
			continue
		}
		begins := "Package " + p.Name + " "
		if p.Name == "main" {
			begins = "Command " + filepath.Base(path) + " "
		}
		if !strings.HasPrefix(p.Doc, begins) {
			t.Errorf("the comment of %s begins %q, not %q", path, p.Doc, begins)
		}
	}
}
