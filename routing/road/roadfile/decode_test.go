package roadfile

import (
	"bytes"
	"errors"
	"testing"

	"drawbar/routing/road/network"
	"drawbar/routing/road/tag"
)

// small is a network with something in every table.
func small() *network.Roads {
	return &network.Roads{
		Region: "GB", Source: "somebody", Names: []string{"", "Lane"},
		Kinds:    []network.Kind{{Class: network.Track, Access: [2]tag.Access{tag.LegOnly, tag.Closed}, Incline: -5, MaxKg: 3500}},
		Vertices: []network.Point{{Lat: 5, Lon: -5}, {Lat: 50, Lon: 7}}, At: []network.VertexFlags{0, network.TurningPlace},
		Edges:    []network.Edge{{From: 0, To: 1, Name: 1, Length: 77, Flags: network.ThroughAlong}, {From: 1, To: 0, Length: 80}},
		ShapeEnd: []uint32{1, 1}, Shapes: []network.Point{{Lat: 20}}, Bans: []network.Ban{{Arcs: []int32{0, 2}, Tow: true}}, Order: []int32{0},
	}
}

// FuzzDecode looks behind the checksum, which keeps FuzzRead from getting
// anywhere: whatever decodes must make a turn graph without a panic, and must
// be written the way it was read.
func FuzzDecode(f *testing.F) {
	f.Add(encode(small()))
	f.Add(encode(&network.Roads{Names: []string{""}}))
	f.Fuzz(func(t *testing.T, body []byte) {
		r, err := decode(body)
		if err != nil {
			if !errors.Is(err, errDecode) {
				t.Fatalf("error of another sort: %v", err)
			}
			return
		}
		turns := network.BuildTurns(r)
		turns.StrongParts(func(int32) bool { return true })
		again, err := decode(encode(r))
		if err != nil || !bytes.Equal(encode(again), encode(r)) {
			t.Errorf("written again it does not read the same: %v", err)
		}
	})
}

func TestUnsoundTablesAreRefused(t *testing.T) {
	for name, spoil := range map[string]func(*network.Roads){
		"edge to a vertex that is not there": func(r *network.Roads) { r.Edges[0].To = 2 },
		"kind that is not there":             func(r *network.Roads) { r.Edges[1].Kind = 1 },
		"name that is not there":             func(r *network.Roads) { r.Edges[1].Name = 2 },
		"class that is not there":            func(r *network.Roads) { r.Kinds[0].Class = network.Classes },
		"point off the Earth":                func(r *network.Roads) { r.Vertices[1].Lat = 90_000_001 },
		"shape off the Earth":                func(r *network.Roads) { r.Shapes[0].Lon = -180_000_001 },
		"ban of one arc":                     func(r *network.Roads) { r.Bans[0].Arcs = []int32{1} },
		"ban of an arc that is not there":    func(r *network.Roads) { r.Bans[0].Arcs[1] = 4 },
		"edge ordered twice":                 func(r *network.Roads) { r.Order = []int32{0, 0} },
		"no names, not even the empty one":   func(r *network.Roads) { r.Names = nil },
	} {
		r := small()
		spoil(r)
		if _, err := decode(encode(r)); !errors.Is(err, errDecode) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := decode(encode(small())); err != nil {
		t.Errorf("the unspoilt one: %v", err)
	}
}

func TestALengthCannotAskForMoreThanTheFileHolds(t *testing.T) {
	e := &encoder{}
	e.text("GB")
	e.text("")
	e.int(0)
	e.uint(1 << 60) // kinds
	if _, err := decode(e.b); !errors.Is(err, errDecode) {
		t.Errorf("error %v", err)
	}
}
