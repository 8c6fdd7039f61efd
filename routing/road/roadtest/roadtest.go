package roadtest

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"drawbar/routing/road/extract"
	"drawbar/routing/road/network"
)

// Extract is a file of real roads.
type Extract struct {
	Name   string
	File   string // inside the testdata of github.com/paulmach/osm
	Region string

	once   sync.Once
	roads  *network.Roads
	report *extract.Report
	err    error
}

// Delaware is flat, with 73,144 ways; Andorra is alpine.
var (
	Delaware = &Extract{Name: "Delaware", File: "delaware-latest.osm.pbf", Region: "US-DE"}
	Andorra  = &Extract{Name: "Andorra", File: "andorra-latest.osm.bz2", Region: "AD"}
)

// Path finds the file.
func (x *Extract) Path(t testing.TB) string {
	t.Helper()
	dir, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "github.com/paulmach/osm").Output()
	if err != nil {
		t.Fatalf("finding the module with the extracts: %v", err)
	}
	return filepath.Join(strings.TrimSpace(string(dir)), "testdata", x.File)
}

// Roads imports the extract, once a test run.
func (x *Extract) Roads(t testing.TB) (*network.Roads, *extract.Report) {
	t.Helper()
	x.once.Do(func() { x.load(x.Path(t)) })
	if x.err != nil {
		t.Fatalf("importing %s: %v", x.Name, x.err)
	}
	return x.roads, x.report
}

func (x *Extract) load(path string) {
	f, err := os.Open(path)
	if err != nil {
		x.err = err
		return
	}
	defer f.Close()
	format, err := extract.FormatOf(path)
	if err != nil {
		x.err = err
		return
	}
	x.roads, x.report, x.err = extract.Import(context.Background(), f, extract.Options{Format: format, Region: x.Region})
}
