package billing

import (
	"context"

	"drawbar/booking"
	"drawbar/jobs"
)

// WorkOf reads a signed docket as work. The visits are those around it, by
// id; they say whether the rig was set up and washed down for it.
func WorkOf(d jobs.SignedDocket, visits map[booking.ID]booking.Visit, known map[string]booking.Service) Work {
	visit := visits[d.VisitID]
	w := Work{
		DocketID: d.ID, Supersedes: d.Supersedes, FarmID: d.FarmID, YardID: d.YardID, YardName: d.Names.Yard, RigID: d.RigID, Day: d.Day,
		SetUp: !stoodOvernight(visit, visits), WashDown: visit.WashDown > 0,
	}
	for _, l := range d.Lines {
		w.Lines = append(w.Lines, WorkLine{Service: l.Service, Name: nameOf(l.Service, d.Names.Service, known), Class: l.Class, Head: l.Head})
	}
	return w
}

// nameOf is the service's name of the day, else today's, else its code.
func nameOf(code string, then map[string]string, known map[string]booking.Service) string {
	if name := then[code]; name != "" {
		return name
	}
	if s, ok := known[code]; ok {
		return s.Name
	}
	return code
}

// stoodOvernight tells whether the rig was left standing at the yard by the
// same booking the day before.
func stoodOvernight(v booking.Visit, visits map[booking.ID]booking.Visit) bool {
	for _, other := range visits {
		if other.BookingID == v.BookingID && other.RigID == v.RigID && other.YardID == v.YardID &&
			other.Overnight && other.State.Live() && other.Day == v.Day.AddDays(-1) {
			return true
		}
	}
	return false
}

// visits are those of the dockets and of the day before the first.
func (b Biller) visits(ctx context.Context, dockets []jobs.SignedDocket) (map[booking.ID]booking.Visit, error) {
	byID := map[booking.ID]booking.Visit{}
	for _, d := range dockets {
		if _, had := byID[d.VisitID]; had {
			continue
		}
		found, err := b.Trade.Visits(ctx, booking.VisitQuery{BookingID: d.BookingID})
		if err != nil {
			return nil, err
		}
		for _, v := range found {
			byID[v.ID] = v
		}
	}
	return byID, nil
}
