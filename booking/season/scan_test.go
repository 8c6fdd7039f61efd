package season_test

import (
	"fmt"
	"strings"
	"testing"

	"drawbar/booking"
	"drawbar/booking/season"

	"cloud.google.com/go/civil"
	"pgregory.net/rapid"
)

func ExampleScanWindow() {
	in := civil.Date{Year: 2026, Month: 10, Day: 20}
	scan := season.ScanWindow(in, in.AddDays(51), booking.Sheep)
	fmt.Println(scan.Days)
	fmt.Println(scan.Basis)
	// Output:
	// 14 January 2027 to 28 January 2027
	// Teagasc (Irish agriculture and food authority), guidance of 2023
}

// Source of the sheep rows: Teagasc 2023, count 80 to 100 days after rams in
// and not before 35 days after rams out, so no single visit serves a joining
// of more than 65 days. Goat rows: 45 to 90 days, from memory, no source.
func TestScanWindow(t *testing.T) {
	for _, c := range []struct {
		name     string
		species  booking.Species
		joined   int // days
		from, to int // days after males in; 0, 0 for none
	}{
		{"two cycles", booking.Sheep, 34, 80, 100},
		{"out exactly 35 days before day 80", booking.Sheep, 45, 80, 100},
		{"a day more moves the first day", booking.Sheep, 46, 81, 100},
		{"the longest leaves one day", booking.Sheep, 65, 100, 100},
		{"a day more leaves none", booking.Sheep, 66, 0, 0},
		{"one night", booking.Sheep, 0, 80, 100},
		{"does", booking.Goat, 21, 66, 90},
		{"does, longest", booking.Goat, 45, 90, 90},
		{"does, too long", booking.Goat, 46, 0, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			in := date("2026-10-20")
			scan := season.ScanWindow(in, in.AddDays(c.joined), c.species)
			if c.to == 0 {
				if !scan.Days.Empty() || len(scan.Parts) != 2 {
					t.Errorf("days %s, %d parts", scan.Days, len(scan.Parts))
				}
				return
			}
			if want := (season.Days{From: in.AddDays(c.from), To: in.AddDays(c.to)}); scan.Days != want || scan.Parts != nil {
				t.Errorf("days %s, want %s", scan.Days, want)
			}
		})
	}
}

func TestScanSaysWhyNotAndWhatToDo(t *testing.T) {
	in := date("2026-10-01")
	for _, c := range []struct {
		name    string
		in, out civil.Date
		species booking.Species
		says    []string
	}{
		{"too long", in, in.AddDays(80), booking.Sheep, []string{"80 days", "up to 65", "Split the mob", "2 visits", "10 November 2026"}},
		{"all year", in, in.AddDays(300), booking.Sheep, []string{"300 days", "Ask whoever scans"}},
		{"out not known", in, civil.Date{}, booking.Sheep, []string{"out by 5 December 2026"}},
		{"in not known", civil.Date{}, in, booking.Sheep, []string{"day the rams went in"}},
		{"the wrong way round", in, in.AddDays(-1), booking.Goat, []string{"bucks", "look at both days"}},
		{"no such day", in, civil.Date{Year: 2026, Month: 13, Day: 1}, booking.Sheep, []string{"look at both days"}},
		{"another species", in, in, "llama", []string{"sheep or goats"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			scan := season.ScanWindow(c.in, c.out, c.species)
			for _, want := range c.says {
				if !strings.Contains(scan.Says, want) {
					t.Errorf("%q does not say %q", scan.Says, want)
				}
			}
		})
	}
}

// Whatever the joining, every day of a window counts every female: each was
// mated at least 35 and at most 100 days before (Teagasc 2023; 45 and 90 for
// goats). Parts together cover the joining without a gap.
func TestScanWindowServesEveryFemale(t *testing.T) {
	bounds := map[booking.Species][2]int{booking.Sheep: {35, 100}, booking.Goat: {45, 90}}
	rapid.Check(t, func(t *rapid.T) {
		species := rapid.SampledFrom([]booking.Species{booking.Sheep, booking.Goat}).Draw(t, "species")
		in := date("2024-01-01").AddDays(rapid.IntRange(0, 2000).Draw(t, "in"))
		out := in.AddDays(rapid.IntRange(0, 135).Draw(t, "joined"))
		scan := season.ScanWindow(in, out, species)
		parts := scan.Parts
		if !scan.Days.Empty() {
			parts = []season.Part{{Mated: season.Days{From: in, To: out}, Scan: scan.Days}}
		}
		if len(parts) == 0 || parts[0].Mated.From != in || parts[len(parts)-1].Mated.To != out {
			t.Fatalf("%v does not cover %s to %s", parts, in, out)
		}
		for i, p := range parts {
			if p.Scan.Empty() || (i > 0 && p.Mated.From != parts[i-1].Mated.To) {
				t.Fatalf("part %d of %v", i, parts)
			}
			if least := p.Scan.From.DaysSince(p.Mated.To); least < bounds[species][0] {
				t.Errorf("the last mated is only %d days on", least)
			}
			if most := p.Scan.To.DaysSince(p.Mated.From); most > bounds[species][1] {
				t.Errorf("the first mated is %d days on", most)
			}
		}
	})
}
