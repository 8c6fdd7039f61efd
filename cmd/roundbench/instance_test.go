package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// square has four customers round a depot, each a 3-4-5 triangle away, in
// opposite pairs; one vehicle can carry two.
const square = `SQUARE1

VEHICLE
NUMBER     CAPACITY
  4         2

CUSTOMER
CUST NO.  XCOORD.  YCOORD.  DEMAND  READY  DUE  SERVICE
    0      0       0        0       0    1000   0
    1      3       4        1       0    1000   1
    2     -3       4        1       0    1000   1
    3      3      -4        1       0    1000   1
    4     -3      -4        1       0    1000   1
`

// By hand: pairs that are 6 apart, twice 5+6+5.
func TestFolderOfOneSquare(t *testing.T) {
	dir := t.TempDir()
	for name, text := range map[string]string{"square.txt": square, "best-known.csv": "instance,distance_trunc1\nSQUARE1,32.0\n"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	var out strings.Builder
	if err := run(t.Context(), []string{"-iterations", "300", dir}, &out); err != nil {
		t.Fatal(err)
	}
	if !strings.HasSuffix(out.String(), "gap 0.00 % over 1 instances\n") {
		t.Errorf("%s", out.String())
	}
}

func TestReadSaysWhatIsWrong(t *testing.T) {
	for name, text := range map[string]string{
		"nothing":         "",
		"no depot":        "X\n 4 2\n",
		"six numbers":     strings.Replace(square, "1000   1", "1000", 1),
		"closes too soon": strings.Replace(square, "0    1000   1", "9    8   1", 1),
	} {
		if _, err := read(strings.NewReader(text)); err == nil {
			t.Errorf("%s: no objection", name)
		}
	}
}

func FuzzRead(f *testing.F) {
	f.Add(square)
	f.Fuzz(func(t *testing.T, text string) {
		in, err := read(strings.NewReader(text))
		if err != nil {
			return
		}
		if len(in.customers) < 2 || in.vehicles < 1 {
			t.Errorf("accepted %+v", in)
		}
	})
}
