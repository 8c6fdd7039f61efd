package billing

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"

	"drawbar/booking"
	"drawbar/jobs"

	"cloud.google.com/go/civil"
)

// desk is one pass over the dockets of a month.
type desk struct {
	biller   Biller
	month    Month
	today    civil.Date
	business booking.Business
	lists    []PriceList
	farms    map[booking.ID]booking.Farm
	trips    map[journey]Trip
	work     []Work
	charges  map[chargeKey]*FarmCharge
	held     []Held
}

// chargeKey keeps price lists apart, so that one invoice has one currency,
// one way of paying and one reason for bearing no tax.
type chargeKey struct{ farm, list booking.ID }

// desk lays out all that pricing the dockets needs.
func (b Biller) desk(ctx context.Context, m Month, ids []booking.ID) (*desk, error) {
	d := &desk{biller: b, month: m, charges: map[chargeKey]*FarmCharge{}}
	var err error
	if d.business, err = b.Trade.Business(ctx); err != nil {
		return nil, err
	}
	d.today = b.Today(d.business)
	if d.lists, err = b.Store.PriceLists(ctx); err != nil {
		return nil, err
	}
	if d.farms, err = b.farms(ctx); err != nil {
		return nil, err
	}
	if d.work, err = b.works(ctx, ids); err != nil {
		return nil, err
	}
	d.trips, err = b.trips(ctx, d.business, d.work)
	return d, err
}

func (b Biller) farms(ctx context.Context) (map[booking.ID]booking.Farm, error) {
	all, err := b.Trade.Farms(ctx)
	byID := make(map[booking.ID]booking.Farm, len(all))
	for _, f := range all {
		byID[f.ID] = f
	}
	return byID, err
}

// works reads the dockets as work.
func (b Biller) works(ctx context.Context, ids []booking.ID) ([]Work, error) {
	dockets := make([]jobs.SignedDocket, len(ids))
	for i, id := range ids {
		var err error
		if dockets[i], err = b.Dockets.SignedDocket(ctx, id); err != nil {
			return nil, err
		}
	}
	visits, err := b.visits(ctx, dockets)
	if err != nil {
		return nil, err
	}
	services, err := b.Trade.Services(ctx)
	if err != nil {
		return nil, err
	}
	known, works := booking.ByCode(services), make([]Work, len(dockets))
	for i, d := range dockets {
		works[i] = WorkOf(d, visits, known)
	}
	return works, nil
}

// take prices one docket, or holds it.
func (d *desk) take(ctx context.Context, w Work) error {
	why, err := d.mustWait(ctx, w)
	if err != nil {
		return err
	}
	if why != "" {
		d.hold(w, why)
		return nil
	}
	list, ok := ListOn(d.lists, w.Day)
	if !ok {
		d.hold(w, "No price list holds on this day. Add one that begins on it or earlier.")
		return nil
	}
	q := Quote(list, w, d.trips[journey{w.RigID, w.YardID}])
	switch {
	case len(q.Missing) > 0:
		d.hold(w, "There is no price for "+missing(q.Missing)+". Add it to the price list \""+list.Name+"\", or waive this docket.")
	case len(q.Lines) == 0:
		d.hold(w, "Nothing was counted. Correct the docket, or waive it.")
	default:
		d.charge(list, w, q)
	}
	return nil
}

// mustWait says why a docket cannot be billed yet; "" where it can. A docket
// that corrects a billed one, directly or by way of others, waits until that
// one's charge is taken back.
func (d *desk) mustWait(ctx context.Context, w Work) (string, error) {
	for id := w.Supersedes; id != ""; {
		before, ok, err := d.biller.Store.Billed(ctx, id)
		if err != nil {
			return "", err
		}
		if ok && before.Waived == "" && !before.Credited {
			return fmt.Sprintf("It corrects a docket that was billed on invoice %s. Credit those lines first, then run the month again.", before.Invoice.Number), nil
		}
		docket, err := d.biller.Dockets.SignedDocket(ctx, id)
		if err != nil {
			return "", err
		}
		id = docket.Supersedes
	}
	return "", nil
}

func missing(lines []WorkLine) string {
	var parts []string
	for _, l := range lines {
		parts = append(parts, fmt.Sprintf("%s of %s", l.Name, l.Class.Count(l.Head)))
	}
	return strings.Join(parts, ", ")
}

func (d *desk) hold(w Work, why string) {
	d.held = append(d.held, Held{DocketID: w.DocketID, FarmID: w.FarmID, Farm: d.farms[w.FarmID].Name, Day: w.Day, Yard: w.YardName, Why: why})
}

func (d *desk) charge(list PriceList, w Work, q Quoted) {
	key := chargeKey{w.FarmID, list.ID}
	c := d.charges[key]
	if c == nil {
		farm := d.farms[w.FarmID]
		c = &FarmCharge{FarmID: farm.ID, Name: farm.Name, Invoice: Draft(d.month, farm, d.business, list, nil, d.today)}
		d.charges[key] = c
		if strings.TrimSpace(farm.Address) == "" {
			c.warn("This farm has no address on file; an invoice has to show one.")
		}
	}
	if w.Supersedes != "" {
		c.warn("The docket of " + DayWords(w.Day) + " was corrected after it was signed.")
	}
	if w.Day.Before(d.month.First()) {
		c.warn("The visit of " + DayWords(w.Day) + " is from an earlier month and was not billed then.")
	}
	for _, note := range q.Notes {
		c.warn(DayWords(w.Day) + ": " + note)
	}
	c.Invoice.Lines = append(c.Invoice.Lines, q.Lines...)
	c.Invoice.Totals = Sum(list.Currency, c.Invoice.Lines)
}

func (c *FarmCharge) warn(sentence string) { c.Warnings = append(c.Warnings, sentence) }

// preview puts the charges in order of farm.
func (d *desk) preview(run MonthRun) Preview {
	p := Preview{Run: run, Held: d.held, Farms: []FarmCharge{}}
	keys := slices.SortedFunc(maps.Keys(d.charges), func(a, b chargeKey) int {
		return strings.Compare(d.order(a), d.order(b))
	})
	sums := map[Currency]Money{}
	for _, k := range keys {
		c := *d.charges[k]
		p.Farms = append(p.Farms, c)
		gross := c.Invoice.Totals.Gross
		sums[gross.Currency] = gross.Currency.Of(sums[gross.Currency].Minor).Add(gross)
	}
	for _, c := range slices.Sorted(maps.Keys(sums)) {
		p.Totals = append(p.Totals, sums[c])
	}
	return p
}

func (d *desk) order(k chargeKey) string {
	return strings.ToLower(d.farms[k.farm].Name) + "\x00" + string(k.farm) + string(k.list)
}
