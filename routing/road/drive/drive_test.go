package drive_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"drawbar/routing/road/drive"
	"drawbar/routing/road/network"
	"drawbar/routing/road/tag"
)

func profile(region string, towing bool) *drive.Profile {
	rules, _ := drive.RulesFor(region)
	return &drive.Profile{Vehicle: drive.Vehicle{Towing: towing}, Rules: rules}
}

const mile = 1.609344

// TestTrailerLimits holds the table against published law: how fast a train may
// be at most on each kind of road.
func TestTrailerLimits(t *testing.T) {
	single := network.Kind{Class: network.Primary}
	dual := network.Kind{Class: network.Trunk, Features: network.Dual}
	motorway := network.Kind{Class: network.Motorway, Features: network.Dual}
	for _, c := range []struct {
		source, region string
		kind           network.Kind
		kmh            float64
	}{
		{"Highway Code rule 124", "GB", single, 50 * mile},
		{"Highway Code rule 124", "GB", dual, 60 * mile},
		{"Highway Code rule 124", "GB", motorway, 60 * mile},
		{"California Vehicle Code section 22406", "US-CA", single, 55 * mile},
		{"California Vehicle Code section 22406", "US-CA", motorway, 55 * mile},
		{"wiki table, Ireland", "IE", single, 80},
		{"wiki table, Ireland", "IE", motorway, 80},
		{"wiki table, Germany", "DE", single, 80},
		{"wiki table, Germany", "DE", motorway, 80},
		{"wiki table, New Zealand", "NZ", single, 90},
		{"wiki table, Poland", "PL", single, 70},
		{"wiki table, Isle of Man", "IM", dual, 40 * mile},
	} {
		c.kind.Limit = [2]uint16{180, 180} // a sign that would allow anything
		if got := profile(c.region, true).Speed(&c.kind, 0); got > c.kmh+0.5 {
			t.Errorf("%s %v: a train drives %.0f km/h, the limit is %.0f (%s)", c.region, c.kind.Class, got, c.kmh, c.source)
		}
		if got := profile(c.region, false).Speed(&c.kind, 0); got <= c.kmh && c.kind.Class == network.Motorway {
			t.Errorf("%s: the limit for trains slows a car alone to %.0f km/h on a motorway", c.region, got)
		}
	}
}

func TestRegionsFallBackToTheirCountry(t *testing.T) {
	if r, known := drive.RulesFor("GB-SCT"); !known || r.Region != "GB" || !r.DriveLeft {
		t.Errorf("Scotland: %+v, %v", r, known)
	}
	r, known := drive.RulesFor("XX")
	if known || r.Source != "common practice, no source" || r.Region != "XX" {
		t.Errorf("nowhere: %+v, %v", r, known)
	}
	codes := drive.Regions()
	if !slices.IsSorted(codes) || len(slices.Compact(slices.Clone(codes))) != len(codes) {
		t.Error("regions are not listed once each, in order")
	}
	for _, code := range codes {
		if r, _ := drive.RulesFor(code); r.Source == "" || r.Read == "" || r.Car.Rural == 0 {
			t.Errorf("%s has no source, date or rural limit", code)
		}
	}
}

// drawKind makes any kind of road the reader of tags can.
func drawKind(t *rapid.T) *network.Kind {
	size := rapid.Uint16Range(0, 600)
	return &network.Kind{
		Class:     network.Class(rapid.IntRange(0, int(network.Classes)-1).Draw(t, "class")),
		Limit:     [2]uint16{rapid.Uint16Range(0, 140).Draw(t, "limit"), 0},
		TowLimit:  [2]uint16{rapid.SampledFrom([]uint16{0, 30, 50, 80}).Draw(t, "tow limit"), 0},
		Surface:   network.Surface(rapid.IntRange(0, int(network.Soft)).Draw(t, "surface")),
		Roughness: uint8(rapid.IntRange(0, 8).Draw(t, "roughness")),
		Grade:     uint8(rapid.IntRange(0, 5).Draw(t, "grade")),
		Features:  network.Feature(rapid.Uint16Range(0, 1<<13-1).Draw(t, "features")),
		MaxKg:     rapid.SampledFrom([]uint32{0, 2000, 3500, 7500}).Draw(t, "max kg"),
		MaxHeight: size.Draw(t, "max height"), MaxWidth: size.Draw(t, "max width"), MaxLength: size.Draw(t, "max length"), Width: size.Draw(t, "width"),
		Incline: int8(rapid.IntRange(-30, 30).Draw(t, "incline")),
		Access:  [2]tag.Access{tag.Through, tag.Closed},
	}
}

func TestATrainIsNeverFaster(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := drawKind(t)
		region := rapid.SampledFrom(append(drive.Regions(), "XX")).Draw(t, "region")
		train, car := profile(region, true).Speed(k, 0), profile(region, false).Speed(k, 0)
		if train > car || train <= 0 {
			t.Fatalf("train %.1f km/h, car %.1f", train, car)
		}
		if limit := float64(k.Limit[0]); limit > 2 && k.Class != network.Ferry && car > limit {
			t.Fatalf("car %.1f km/h where %.0f is signed", car, limit)
		}
		if limit := float64(k.TowLimit[0]); limit > 2 && k.Class != network.Ferry && train > limit {
			t.Fatalf("train %.1f km/h where %.0f is signed for trains", train, limit)
		}
	})
}

func TestALargerTrainIsStoppedWhereASmallerOneIs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := drawKind(t)
		cm := rapid.IntRange(0, 700)
		small := drive.Vehicle{Towing: true, Kg: rapid.IntRange(1, 9000).Draw(t, "kg"), Length: cm.Draw(t, "length"), Width: cm.Draw(t, "width"), Height: cm.Draw(t, "height")}
		large := small
		large.Kg += cm.Draw(t, "more kg")
		large.Width += cm.Draw(t, "more width")
		large.Height += cm.Draw(t, "more height")
		large.Length += cm.Draw(t, "more length")
		if small.Stopped(k) != "" && large.Stopped(k) == "" {
			t.Fatalf("%+v is stopped (%s), %+v is not", small, small.Stopped(k), large)
		}
	})
}

func TestStoppedNamesWhatIsTooSmall(t *testing.T) {
	train := drive.Vehicle{Towing: true, Kg: 5200, Length: 1150, Width: 260, Height: 280}
	for _, c := range []struct {
		kind network.Kind
		want string
	}{
		{network.Kind{MaxKg: 3500}, "limit 3.5 t, the train weighs 5.2 t"},
		{network.Kind{MaxHeight: 250}, "2.5 m high, the train needs 2.8 m"},
		{network.Kind{MaxWidth: 240}, "2.4 m wide, the train needs 2.6 m"},
		{network.Kind{Width: 250}, "the road is 2.5 m wide, the train 2.6 m"},
		{network.Kind{MaxLength: 900}, "limit 9.0 m long, the train is 11.5 m"},
		{network.Kind{Features: network.NoTow}, "trailers are not allowed"},
		{network.Kind{Roughness: 7}, "too rough to drive"},
		{network.Kind{MaxKg: 5200, MaxHeight: 280, MaxWidth: 260, Width: 260, MaxLength: 1150}, ""},
	} {
		if got := train.Stopped(&c.kind); got != c.want {
			t.Errorf("%+v: %q, want %q", c.kind, got, c.want)
		}
	}
	if got := (drive.Vehicle{}).Stopped(&network.Kind{MaxKg: 1, MaxHeight: 1, MaxWidth: 1, Features: network.NoTow}); got != "" {
		t.Errorf("a car of unknown size is stopped: %s", got)
	}
}

// oneRoad is a single edge of a kilometre.
func oneRoad(k network.Kind) *network.Roads {
	return &network.Roads{
		Kinds: []network.Kind{k}, Names: []string{""}, Vertices: []network.Point{{}, {Lat: 8993}}, At: make([]network.VertexFlags, 2),
		Edges: []network.Edge{{From: 0, To: 1, Length: 10000}}, ShapeEnd: []uint32{0},
	}
}

func TestAKilometreAtSixty(t *testing.T) {
	// A kilometre at 60 km/h takes a minute; signs are driven at 92 %, and a
	// gate costs a car 45 s and a train 60 s (constants of this package).
	k := network.Kind{Class: network.Secondary, Limit: [2]uint16{60, 0}, Access: [2]tag.Access{tag.Through, tag.Closed}}
	c := profile("GB", false).Costs(oneRoad(k))
	if got, want := drive.Millis(c.Arc[0]), int64(math.Round(60000/0.92)); got != want {
		t.Errorf("%d ms, want %d", got, want)
	}
	if drive.Decimetres(c.Arc[0]) != 10000 || c.Arc[1] != drive.Inf {
		t.Errorf("%d dm; the closed direction costs %d", drive.Decimetres(c.Arc[0]), c.Arc[1])
	}
	k.Features = network.Gate
	gated := profile("GB", true).Costs(oneRoad(k))
	if got := drive.Millis(gated.Arc[0]) - drive.Millis(profile("GB", true).Costs(oneRoad(network.Kind{Class: k.Class, Limit: k.Limit, Access: k.Access})).Arc[0]); got != 60000 {
		t.Errorf("a gate costs a train %d ms", got)
	}
}

func TestTurnsFollowTheSideOfTheRoad(t *testing.T) {
	// Where one drives on the left, turning right crosses the other traffic.
	gb, de := profile("GB", false).Costs(oneRoad(network.Kind{})), profile("DE", false).Costs(oneRoad(network.Kind{}))
	if gb.Turn[network.Right] <= gb.Turn[network.Left] || de.Turn[network.Left] <= de.Turn[network.Right] {
		t.Error("the turn across the traffic is not the slower one")
	}
	if gb.Turn[network.Right] != de.Turn[network.Left] || gb.Turn[network.Ahead] != 0 {
		t.Error("left and right are not mirrored")
	}
}

func TestWithTheTrailerOnNobodyTurnsInTheOpen(t *testing.T) {
	train, car := profile("GB", true).Costs(oneRoad(network.Kind{})), profile("GB", false).Costs(oneRoad(network.Kind{}))
	if train.Turn[network.UOpen] != drive.Inf || car.Turn[network.UOpen] >= drive.Inf {
		t.Error("turning round in the open is for cars alone")
	}
	for _, u := range []network.Turn{network.UCircle, network.UDeadEnd, network.UBackIn} {
		if train.Turn[u] >= drive.Inf || train.Turn[u] <= car.Turn[u] {
			t.Errorf("turn %v: train %d, car %d", u, train.Turn[u], car.Turn[u])
		}
	}
	if train.Turn[network.Left|network.NotTowing] != drive.Inf || car.Turn[network.Left|network.NotTowing] >= drive.Inf {
		t.Error("a turn forbidden with trailers is not just that")
	}
}

func TestCostsCompareByTimeThenDistance(t *testing.T) {
	if !(drive.Pack(1, 900) < drive.Pack(2, 0) && drive.Pack(1, 1) < drive.Pack(1, 2)) {
		t.Error("order")
	}
	rapid.Check(t, func(t *rapid.T) {
		ms, dm := rapid.Int64Range(0, 1<<29).Draw(t, "ms"), rapid.Int64Range(0, 1<<31).Draw(t, "dm")
		c := drive.Pack(ms, dm) + drive.Pack(5, 7)
		if drive.Millis(c) != ms+5 || drive.Decimetres(c) != dm+7 {
			t.Fatalf("%d ms %d dm", drive.Millis(c), drive.Decimetres(c))
		}
		whole := rapid.Int64Range(1, 100000).Draw(t, "whole")
		cut := rapid.Int64Range(0, whole).Draw(t, "cut")
		a, b := drive.Part(c, cut, whole), drive.Part(c, whole-cut, whole)
		if a+b > c || drive.Millis(c)-drive.Millis(a+b) > 1 {
			t.Fatalf("parts %d and %d of %d", a, b, c)
		}
	})
	if drive.Part(drive.Pack(9, 9), 0, 0) != 0 {
		t.Error("part of an edge of no length")
	}
}

func TestCautions(t *testing.T) {
	train := drive.Vehicle{Towing: true, Kg: 3000, Width: 250, Height: 280}
	k := network.Kind{Features: network.Ford | network.Gate | network.Lane, Incline: -14, Surface: network.Earth, MaxKg: 3500, MaxHeight: 300}
	var codes []string
	for _, c := range train.Cautions(&k) {
		codes = append(codes, c.Code)
	}
	if want := []string{"ford", "gate", "weak bridge", "low", "narrow", "steep", "unpaved"}; !slices.Equal(codes, want) {
		t.Errorf("cautions %v, want %v", codes, want)
	}
	if got := train.Cautions(&network.Kind{Class: network.Primary, Surface: network.Paved, MaxKg: 18000, MaxHeight: 450}); len(got) != 0 {
		t.Errorf("cautions on a good road: %v", got)
	}
}

func ExampleRulesFor() {
	r, _ := drive.RulesFor("NZ")
	fmt.Println(r.Car.Rural, r.Trailer.Rural, r.Read)
	// Output: 100 90 2026-02-04
}
