package billing

import (
	"fmt"
	"math"
	"strings"

	"drawbar/booking"
)

// Quoted is what a visit costs before tax, line by line.
type Quoted struct {
	Lines   []Line
	Missing []WorkLine // what the price list has no price for; not in Lines
	Notes   []string   // sentences about what a reader should know
}

// Quote prices one visit: a booking form's expected work, or a signed
// docket's, by the same rules. The lines come in the order work, set-up,
// wash-down, top-up to the minimum, travel. Work without a single animal
// gives no line at all.
func Quote(p PriceList, w Work, trip Trip) Quoted {
	q := quoting{list: p, work: w}
	q.head()
	if len(q.Lines) == 0 {
		return q.Quoted
	}
	if w.SetUp {
		q.fixed(ForSetUp, "Setting up at "+w.YardName, "Charged once for each setting up of the rig.", p.SetUp, p.Taxes.SetUp)
	}
	if w.WashDown {
		q.fixed(ForWashDown, "Wash-down and disinfection", "The rig is washed and disinfected after this visit.", p.WashDown, p.Taxes.WashDown)
	}
	q.minimum()
	q.travel(trip)
	return q.Quoted
}

type quoting struct {
	list PriceList
	work Work
	Quoted
}

// add completes a line and appends it.
func (q *quoting) add(l Line) {
	l.Net = l.Rate.Times(l.Quantity, q.list.Currency)
	l.DocketID, l.Day, l.Yard = q.work.DocketID, q.work.Day, q.work.YardName
	q.Lines = append(q.Lines, l)
}

// head charges each count, class by class. Classes that share one price climb
// its tiers together.
func (q *quoting) head() {
	used := map[key]int{}
	for _, w := range merge(q.work.Lines) {
		price, ok := q.list.PriceOf(w.Service, w.Class)
		if !ok {
			q.Missing = append(q.Missing, w)
			continue
		}
		k := key{price.Service, price.Class}
		q.tiers(w, price, used[k])
		used[k] += w.Head
	}
}

type key struct {
	service string
	class   booking.Class
}

// merge adds up counts of the same class through the same service, in order
// of first mention; counts of nothing fall away.
func merge(lines []WorkLine) []WorkLine {
	var merged []WorkLine
	at := map[key]int{}
	for _, l := range lines {
		if l.Head <= 0 {
			continue
		}
		k := key{l.Service, l.Class}
		if i, ok := at[k]; ok {
			merged[i].Head += l.Head
			continue
		}
		at[k] = len(merged)
		merged = append(merged, l)
	}
	return merged
}

// tiers charges a count that begins after the head already counted at this
// price.
func (q *quoting) tiers(w WorkLine, price Price, before int) {
	for i, tier := range price.Tiers {
		end := math.MaxInt
		if i+1 < len(price.Tiers) {
			end = price.Tiers[i+1].From - 1
		}
		from, to := max(before+1, tier.From), min(before+w.Head, end)
		if from > to {
			continue
		}
		q.add(Line{
			Kind: ForWork, Text: w.Name + ", " + plural(w.Class), Quantity: int64(to - from + 1), Unit: Head,
			Rate: tier.Rate, Tax: q.list.Taxes.Work, Why: q.whyTier(w, price, tier, before, from, to),
		})
	}
}

func plural(c booking.Class) string { return strings.TrimPrefix(c.Count(0), "0 ") }

func (q *quoting) whyTier(w WorkLine, price Price, tier Tier, before, from, to int) string {
	each := tier.Rate.In(q.list.Currency) + " each"
	count := w.Class.Count(w.Head)
	if len(price.Tiers) == 1 {
		return fmt.Sprintf("%s at %s.", count, each)
	}
	of := "Of " + count
	if before > 0 {
		of = fmt.Sprintf("After %s head at this price, of %s", Number(int64(before)), count)
	}
	if from == to {
		return fmt.Sprintf("%s: number %d at %s.", of, from, each)
	}
	return fmt.Sprintf("%s: number %s to %s at %s.", of, Number(int64(from)), Number(int64(to)), each)
}

// fixed charges an amount once; nothing where it is zero.
func (q *quoting) fixed(kind LineKind, text, why string, amount Money, tax Tax) {
	if amount.Minor == 0 {
		return
	}
	q.add(Line{Kind: kind, Text: text, Why: why, Quantity: 1, Unit: Visit, Rate: amount.rate(), Tax: tax})
}

// rate is the amount as the price of one.
func (m Money) rate() Rate { return Rate(m.Minor * pow10(ratePlaces-m.Currency.Exponent())) }

// minimum tops up what the visit lacks, before travel.
func (q *quoting) minimum() {
	c := q.list.Currency
	net := Sum(c, q.Lines).Net
	lack := q.list.Minimum.Sub(net)
	if lack.Minor <= 0 {
		return
	}
	why := fmt.Sprintf("The visit came to %s; the least we charge for one, before travel, is %s.", net, q.list.Minimum)
	q.fixed(ForMinimum, "Up to the minimum charge", why, lack, q.list.Taxes.Work)
}

// travel charges whole units there and back, beyond those that are free.
func (q *quoting) travel(trip Trip) {
	t := q.list.Travel
	switch {
	case t.Rate == 0:
		return
	case !trip.Known:
		q.Notes = append(q.Notes, "No way from home to this yard is known, so no travel is charged.")
		return
	}
	whole := int64(math.Round(float64(trip.Metres) / metres[t.Unit]))
	charged := max(0, whole-int64(t.Free))
	if charged == 0 {
		return
	}
	q.add(Line{
		Kind: ForTravel, Text: "Travel to " + q.work.YardName + " and back", Quantity: charged, Unit: t.Unit,
		Rate: t.Rate, Tax: q.list.Taxes.Travel, Why: t.why(whole, trip.Estimate),
	})
}

func (t Travel) why(whole int64, estimate bool) string {
	why := fmt.Sprintf("%d %s from home to the yard and back", whole, t.Unit)
	if t.Free > 0 {
		why += fmt.Sprintf("; the first %d %s are free", t.Free, t.Unit)
	}
	if estimate {
		return why + ". The distance is an estimate."
	}
	return why + ", measured on roads."
}
