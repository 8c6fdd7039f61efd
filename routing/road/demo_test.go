//go:build !race

package road_test

import (
	"bytes"
	"flag"
	"os"
	"runtime"
	"testing"
	"time"

	"drawbar/routing/road/roadfile"
	"drawbar/routing/road/roadtest"
)

var update = flag.Bool("update", false, "write the road file of the demo anew")

// demoFile is the road file the demo drives on.
const demoFile = "../../testdata/roads/delaware.road"

// TestDemoFileIsWhatTheImporterWrites keeps the file in step with the code:
// after a change to either, run this test with -update.
func TestDemoFileIsWhatTheImporterWrites(t *testing.T) {
	if runtime.GOARCH != "amd64" {
		t.Skip("lengths are rounded differently where the processor fuses multiplication and addition")
	}
	roads, _ := roadtest.Delaware.Roads(t)
	if want := time.Date(2016, 8, 10, 19, 28, 3, 0, time.UTC); !roads.Date.Equal(want) {
		t.Errorf("data of %v, the extract's head says %v", roads.Date, want)
	}
	var file bytes.Buffer
	if err := roadfile.Write(&file, roads); err != nil {
		t.Fatal(err)
	}
	if *update {
		if err := os.WriteFile(demoFile, file.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(demoFile)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, file.Bytes()) {
		t.Errorf("the file (%d bytes) is not what the importer writes (%d bytes); run with -update", len(got), file.Len())
	}
}
