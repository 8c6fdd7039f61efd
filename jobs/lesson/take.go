package lesson

import (
	"context"
	"errors"

	"drawbar/booking"
	"drawbar/jobs"
)

// take keeps the timings of dockets that have none, or none that is settled.
func (t *Teacher) take(ctx context.Context) error {
	settled := t.Now().Add(-settles)
	for {
		found, err := t.Dockets.Untimed(ctx, settled, batch)
		if err != nil || len(found) == 0 {
			return err
		}
		timings := make([]jobs.Timing, len(found))
		for i, d := range found {
			around, err := t.around(ctx, d)
			if err != nil {
				return err
			}
			timings[i] = jobs.Timing{Docket: Observe(d, around), Settled: d.Signed.Before(settled)}
		}
		if err := t.Dockets.KeepTimings(ctx, timings); err != nil {
			return err
		}
	}
}

func (t *Teacher) around(ctx context.Context, d jobs.SignedDocket) (a Around, err error) {
	var booked booking.Booking
	var farm booking.Farm
	var open jobs.OpenDocket
	var errs [6]error
	a.Visit, errs[0] = t.Trade.Visit(ctx, d.VisitID)
	booked, errs[1] = t.Trade.Booking(ctx, d.BookingID)
	farm, errs[2] = t.Trade.Farm(ctx, d.FarmID)
	a.Yard, errs[3] = t.Trade.Yard(ctx, d.YardID)
	a.Rig, errs[4] = booking.GoingRig(ctx, t.Trade, d.RigID, a.Visit.Day)
	open, errs[5] = t.Dockets.Docket(ctx, d.VisitID)
	a.Mobs, a.Hygiene, a.Since = booked.Mobs, farm.Hygiene, open.Docket
	return a, errors.Join(errs[:]...)
}
