package roadfile_test

import (
	"bytes"
	"errors"
	"fmt"
	"reflect"
	"strings"
	"testing"
	"time"

	"drawbar/booking/fault"
	"drawbar/routing/road/network"
	"drawbar/routing/road/roadfile"
	"drawbar/routing/road/roadtest"
)

const village = `
n 1 0 0
n 2 100 0
n 3 200 50 barrier=gate access=private
n 4 300 50
n 5 100 -200 highway=turning_circle
n 6 250 90
w 10 1,2,3,6,4 highway=unclassified name=Ewe~Lane maxspeed=30~mph
w 11 2,5 highway=residential surface=gravel width=3 incline=-12%
w 12 1,5 highway=tertiary maxweight=3.5
r no_left_turn 10 2 11
r no_u_turn 11 2 11 restriction:caravan=no_u_turn
`

func written(t testing.TB, r *network.Roads) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := roadfile.Write(&b, r); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestWhatIsWrittenIsRead(t *testing.T) {
	r := roadtest.Town(t, village)
	r.Date = time.Date(2016, 8, 10, 19, 28, 3, 0, time.UTC)
	got, err := roadfile.Read(written(t, r))
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(got, r) {
		t.Errorf("read\n%+v\nwritten\n%+v", got, r)
	}
	if len(r.Bans) == 0 || len(r.Order) == 0 || len(r.Kinds) < 3 {
		t.Errorf("the village is too plain to prove much: %+v", r)
	}
}

func TestSameNetworkSameBytes(t *testing.T) {
	if !bytes.Equal(written(t, roadtest.Town(t, village)), written(t, roadtest.Town(t, village))) {
		t.Error("two imports of one extract differ")
	}
}

func TestEveryCutIsRefused(t *testing.T) {
	whole := written(t, roadtest.Town(t, village))
	for n := range whole {
		_, err := roadfile.Read(whole[:n])
		if !fault.Is(err, fault.Invalid) {
			t.Fatalf("%d of %d bytes: %v", n, len(whole), err)
		}
		if n >= 16 && !strings.Contains(fault.Sentence(err), "cut off") {
			t.Errorf("%d of %d bytes: %s", n, len(whole), fault.Sentence(err))
		}
	}
	if _, err := roadfile.Read(append(whole, 0)); !fault.Is(err, fault.Invalid) {
		t.Errorf("a byte too many: %v", err)
	}
}

func TestEveryFlippedBitIsRefused(t *testing.T) {
	whole := written(t, roadtest.Town(t, village))
	for i := range whole {
		bad := bytes.Clone(whole)
		bad[i] ^= 1 << (i % 8)
		if _, err := roadfile.Read(bad); !fault.Is(err, fault.Invalid) {
			t.Fatalf("bit of byte %d flipped: %v", i, err)
		}
	}
}

func TestRefusalsSayWhatToDo(t *testing.T) {
	whole := written(t, roadtest.Town(t, village))
	other := append([]byte("drawbar roads 9\n"), whole[16:]...)
	for name, c := range map[string]struct {
		data []byte
		want string
	}{
		"nothing":       {nil, "not a road file"},
		"a picture":     {[]byte("\x89PNG\r\n\x1a\n and so on, long enough to have a head of its own if it were one"), "not a road file"},
		"other version": {other, "another version"},
	} {
		_, err := roadfile.Read(c.data)
		if got := fault.Sentence(err); !strings.Contains(got, c.want) || !strings.Contains(got, "mport") {
			t.Errorf("%s: %q", name, got)
		}
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestWriteErrorsComeBack(t *testing.T) {
	if err := roadfile.Write(full{}, &network.Roads{}); err == nil || !strings.Contains(err.Error(), "disk full") {
		t.Errorf("error %v", err)
	}
}

func FuzzRead(f *testing.F) {
	f.Add(written(f, roadtest.Town(f, village)))
	f.Add([]byte("drawbar roads 1\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		if r, err := roadfile.Read(data); (r == nil) == (err == nil) {
			t.Errorf("roads %v, error %v", r, err)
		}
	})
}

func ExampleWrite() {
	var file bytes.Buffer
	if err := roadfile.Write(&file, &network.Roads{Region: "GB", Names: []string{""}}); err != nil {
		fmt.Println(err)
	}
	r, err := roadfile.Read(file.Bytes())
	fmt.Println(r.Region, err)
	// Output: GB <nil>
}
