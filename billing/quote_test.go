package billing_test

import (
	"math/big"
	"slices"
	"strings"
	"testing"

	"drawbar/billing"
	"drawbar/booking"

	"pgregory.net/rapid"
)

func kinds(lines []billing.Line) []billing.LineKind {
	var all []billing.LineKind
	for _, l := range lines {
		all = append(all, l.Kind)
	}
	return all
}

// Worked by hand: 100 × 0.50 = 50.00; 140 × 0.4525 = 63.35; set-up 40.00;
// 56 km − 10 free = 46 × 0.60 = 27.60; together 180.95.
func TestQuoteOfAnOrdinaryVisit(t *testing.T) {
	q := billing.Quote(priceList(t), work(drench(booking.Ewe, 240)), trip(56_400))
	var got []string
	for _, l := range q.Lines {
		got = append(got, l.Text+": "+l.Net.String()+". "+l.Why)
	}
	want := []string{
		"Drench, ewes: $50.00. Of 240 ewes: number 1 to 100 at $0.50 each.",
		"Drench, ewes: $63.35. Of 240 ewes: number 101 to 240 at $0.4525 each.",
		"Setting up at Top Yard: $40.00. Charged once for each setting up of the rig.",
		"Travel to Top Yard and back: $27.60. 56 km from home to the yard and back; the first 10 km are free. The distance is an estimate.",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if net := billing.Sum(usd, q.Lines).Net; net.String() != "$180.95" {
		t.Errorf("net %s", net)
	}
}

// 40 head × 0.50 = 20.00, set-up 40.00: 60.00 below the minimum of 120.00.
func TestMinimumIsToppedUpBeforeTravel(t *testing.T) {
	q := billing.Quote(priceList(t), work(drench(booking.Lamb, 40)), trip(56_000))
	want := []billing.LineKind{billing.ForWork, billing.ForSetUp, billing.ForMinimum, billing.ForTravel}
	if got := kinds(q.Lines); !slices.Equal(got, want) {
		t.Fatalf("got %v, want %v", got, want)
	}
	top := q.Lines[2]
	if top.Net.String() != "$60.00" || !strings.Contains(top.Why, "came to $60.00") || !strings.Contains(top.Why, "is $120.00") {
		t.Errorf("got %s: %s", top.Net, top.Why)
	}
}

func TestClassesOfOnePriceClimbItsTiersTogether(t *testing.T) {
	q := billing.Quote(priceList(t), work(drench(booking.Ewe, 80), drench(booking.Lamb, 50), drench(booking.Ewe, 10)), trip(0))
	var got []string
	for _, l := range q.Lines {
		if l.Kind == billing.ForWork {
			got = append(got, l.Text+" "+billing.Number(l.Quantity)+" at "+l.Rate.In(usd))
		}
	}
	want := []string{"Drench, ewes 90 at $0.50", "Drench, lambs 10 at $0.50", "Drench, lambs 40 at $0.4525"}
	if !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
	if !strings.HasPrefix(q.Lines[1].Why, "After 90 head at this price, of 50 lambs: number 91 to 100") {
		t.Errorf("got %q", q.Lines[1].Why)
	}
}

func TestWhatHasNoPriceIsNamedAndNotCharged(t *testing.T) {
	kid := billing.WorkLine{Service: "foot-trim", Name: "Foot trim", Class: booking.Kid, Head: 12}
	ewe := billing.WorkLine{Service: "foot-trim", Name: "Foot trim", Class: booking.Ewe, Head: 100}
	q := billing.Quote(priceList(t), work(kid, ewe), trip(0))
	if len(q.Missing) != 1 || q.Missing[0] != kid {
		t.Errorf("missing: %v", q.Missing)
	}
	if got := kinds(q.Lines); !slices.Equal(got, []billing.LineKind{billing.ForWork, billing.ForSetUp}) {
		t.Errorf("lines: %v", got)
	}
}

func TestNothingCountedCostsNothing(t *testing.T) {
	if q := billing.Quote(priceList(t), work(drench(booking.Ewe, 0)), trip(90_000)); len(q.Lines)+len(q.Missing) != 0 {
		t.Errorf("got %+v", q)
	}
}

func TestWashDownAndStandingRig(t *testing.T) {
	w := work(drench(booking.Ewe, 400))
	w.SetUp, w.WashDown = false, true
	if got := kinds(billing.Quote(priceList(t), w, trip(1000)).Lines); !slices.Equal(got, []billing.LineKind{billing.ForWork, billing.ForWork, billing.ForWashDown}) {
		t.Errorf("got %v", got)
	}
}

// One international mile is 1609.344 m: 100 km are 62.14 miles.
func TestTravelInMiles(t *testing.T) {
	p := priceList(t)
	p.Travel = billing.Travel{Unit: billing.Miles, Rate: rate(t, "1")}
	lines := billing.Quote(p, work(drench(booking.Ewe, 400)), billing.Trip{Metres: 100_000, Known: true}).Lines
	if last := lines[len(lines)-1]; last.Quantity != 62 || last.Why != "62 mi from home to the yard and back, measured on roads." {
		t.Errorf("got %+v", last)
	}
}

func TestNoWayMeansNoTravelAndANote(t *testing.T) {
	q := billing.Quote(priceList(t), work(drench(booking.Ewe, 400)), billing.Trip{})
	if slices.Contains(kinds(q.Lines), billing.ForTravel) || len(q.Notes) != 1 {
		t.Errorf("got %v, notes %q", kinds(q.Lines), q.Notes)
	}
}

// steps draws rising tiers.
func steps(t *rapid.T) []billing.Tier {
	tiers, from := []billing.Tier{}, 1
	for range rapid.IntRange(1, billing.MaxTiers).Draw(t, "tiers") {
		tiers = append(tiers, billing.Tier{From: from, Rate: billing.Rate(rapid.Int64Range(0, 100_000).Draw(t, "rate"))})
		from += rapid.IntRange(1, 500).Draw(t, "gap")
	}
	return tiers
}

// Every line is quantity × rate rounded once in exact fractions, every head
// is charged once at the price of its own number, and the lines add up.
func TestQuoteAgainstExactFractions(t *testing.T) {
	base := priceList(t)
	rapid.Check(t, func(t *rapid.T) {
		p := base
		p.Prices = []billing.Price{{Service: "drench", Tiers: steps(t)}}
		p.Currency = rapid.SampledFrom([]billing.Currency{"USD", "JPY", "KWD"}).Draw(t, "currency")
		p.SetUp, p.WashDown, p.Minimum = p.Currency.Of(0), p.Currency.Of(0), p.Currency.Of(0)
		heads := rapid.SliceOfN(rapid.IntRange(0, 900), 1, 4).Draw(t, "heads")
		var lines []billing.WorkLine
		for i, h := range heads {
			lines = append(lines, drench(booking.Classes[i], h))
		}
		unit := new(big.Rat).SetInt64(map[billing.Currency]int64{"USD": 100, "JPY": 1, "KWD": 1000}[p.Currency])
		number, q := 0, billing.Quote(p, work(lines...), billing.Trip{Known: true})
		for _, l := range q.Lines {
			exact := new(big.Rat)
			for range l.Quantity {
				number++
				exact.Add(exact, big.NewRat(int64(priceOfHead(p.Prices[0].Tiers, number)), 10_000))
			}
			if want := round(exact.Mul(exact, unit)); l.Net.Minor != want {
				t.Errorf("%d head at %s: %d, want %d", l.Quantity, l.Rate.Plain(), l.Net.Minor, want)
			}
		}
		if total := heads[0] + sum(heads[1:]); number != total {
			t.Errorf("%d head charged of %d", number, total)
		}
	})
}

func sum(ns []int) (total int) {
	for _, n := range ns {
		total += n
	}
	return total
}

func priceOfHead(tiers []billing.Tier, number int) billing.Rate {
	found := tiers[0].Rate
	for _, t := range tiers {
		if t.From <= number {
			found = t.Rate
		}
	}
	return found
}

// With prices in whole cents, cutting a price into steps of the same price
// changes no cent, and one more head never costs less.
func TestTiersLoseNoCentAndHaveNoCliff(t *testing.T) {
	base := priceList(t)
	rapid.Check(t, func(t *rapid.T) {
		tiers, head := steps(t), rapid.IntRange(1, 3000).Draw(t, "head")
		for i := range tiers {
			tiers[i].Rate = tiers[i].Rate / 100 * 100
		}
		cost := func(tiers []billing.Tier, head int) int64 {
			p := base
			p.Prices, p.Minimum = []billing.Price{{Service: "drench", Tiers: tiers}}, usd.Of(0)
			return billing.Sum(usd, billing.Quote(p, work(drench(booking.Ewe, head)), billing.Trip{Known: true}).Lines).Net.Minor
		}
		if cost(tiers, head+1) < cost(tiers, head) {
			t.Errorf("%d head cost less than %d", head+1, head)
		}
		flat := slices.Clone(tiers)
		for i := range flat {
			flat[i].Rate = tiers[0].Rate
		}
		if got, want := cost(flat, head), cost(tiers[:1], head); got != want {
			t.Errorf("in steps %d, at once %d", got, want)
		}
	})
}

func BenchmarkQuote(b *testing.B) {
	p, w := priceList(b), work(drench(booking.Ewe, 240), drench(booking.Lamb, 310))
	for b.Loop() {
		billing.Quote(p, w, trip(56_000))
	}
}
