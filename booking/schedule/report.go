package schedule

import (
	"context"
	"time"

	"drawbar/booking"
)

// Reports tell what has come in from the phones. A planner without any takes
// visits to run as they were planned.
type Reports interface {
	// Reported is what is known of a visit that has begun; zero for nothing.
	Reported(ctx context.Context, visit booking.ID) (Report, error)
}

// Report is how far a visit is. Moments are zero until they have come.
type Report struct {
	Arrived  time.Time
	Started  time.Time // the work
	Finished time.Time // the work, for good
	Left     time.Time
	Head     int // counted so far
}

// loadReports reads how far today's visits are that have begun.
func (p *Planner) loadReports(ctx context.Context, w *world) error {
	w.reports = map[booking.ID]Report{}
	if p.Reports == nil {
		return nil
	}
	for _, v := range w.visits {
		if !begun(v) || v.Day != w.today() {
			continue
		}
		report, err := p.Reports.Reported(ctx, v.ID)
		if err != nil {
			return err
		}
		w.reports[v.ID] = report
	}
	return nil
}

// real is a visit with its times as they were reported, and those that are to
// come as they are to be expected now.
func (w *world) real(v booking.Visit) booking.Visit {
	r := w.reports[v.ID]
	switch {
	case !r.Arrived.IsZero():
		v.Arrive = r.Arrived
	case !r.Started.IsZero():
		v.Arrive = r.Started.Add(-v.SetUp)
	}
	if !r.Started.IsZero() {
		v.SetUp = max(r.Started.Sub(v.Arrive), 0)
	} else if v.State == booking.UnderWay {
		v.SetUp = max(v.SetUp, w.now.Sub(v.Arrive))
	}
	v.Work, v.WorkLong = w.working(v, r)
	if !r.Left.IsZero() {
		after := max(r.Left.Sub(v.Finish()), 0)
		v.WashDown = min(v.WashDown, after)
		v.PackDown = after - v.WashDown
	}
	return v
}

// working is how long the work of a visit takes, and at most. While it goes on,
// what is left goes at a pace between the one that was planned and the one that
// is seen, the nearer to what is seen the more is done.
func (w *world) working(v booking.Visit, r Report) (work, long time.Duration) {
	if !r.Finished.IsZero() {
		done := max(r.Finished.Sub(v.Working()), 0)
		return done, done
	}
	if v.State != booking.UnderWay {
		return v.Work, v.WorkLong
	}
	spent := max(w.now.Sub(v.Working()), 0)
	if r.Head == 0 || v.Head == 0 {
		work = max(v.Work, spent)
		return work, max(v.WorkLong, work)
	}
	left := max(1-float64(r.Head)/float64(v.Head), 0)
	work = spent + time.Duration(left*(left*float64(v.Work)+float64(spent))).Round(time.Second)
	return work, work + time.Duration(left*float64(v.WorkLong-v.Work)).Round(time.Second)
}

// latestBegun tells whether a visit is the last of its rig's day that has
// begun. What came before it is over and in nobody's way.
func (w *world) latestBegun(v booking.Visit) bool {
	for _, o := range w.visits {
		if o.RigID == v.RigID && o.Day == v.Day && begun(o) && w.real(o).Arrive.After(w.real(v).Arrive) {
			return false
		}
	}
	return true
}

// dirtiest is the hygiene class of a visit, or of one that its rig has begun
// before it that day where that is worse.
func (w *world) dirtiest(v booking.Visit) int {
	class := w.farms[v.FarmID].Hygiene
	for _, o := range w.visits {
		if o.RigID == v.RigID && o.Day == v.Day && begun(o) {
			class = max(class, w.farms[o.FarmID].Hygiene)
		}
	}
	return int(class)
}
