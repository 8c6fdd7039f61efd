package jobs

import "time"

// Span is a stretch of work; To is zero while it goes on.
type Span struct {
	From time.Time `json:"from"`
	To   time.Time `json:"to,omitzero"`
}

// milestone keeps the first time of what begins a stage and the last of what
// ends one, so that two phones pressing the same button agree. Events come in
// order of time.
func (d *Docket) milestone(e Event) {
	switch e.Kind {
	case Arrived:
		first(&d.Arrived, e.At)
	case SetUp:
		first(&d.SetUp, e.At)
	case Started:
		first(&d.Started, e.At)
	case Finished:
		d.Finished = e.At
	case Packed:
		d.Packed = e.At
	case Left:
		d.Left = e.At
	}
}

func first(kept *time.Time, at time.Time) {
	if kept.IsZero() {
		*kept = at
	}
}

// spans are the stretches of work between starting or resuming and pausing or
// finishing. A second phone that presses the same button again changes
// nothing. Events come in order of time.
func spans(events []Event) []Span {
	work := []Span{}
	running := false
	for _, e := range events {
		switch e.Kind {
		case Started, Resumed:
			if !running {
				work = append(work, Span{From: e.At})
			}
			running = true
		case Paused, Finished:
			if running {
				work[len(work)-1].To = e.At
			}
			running = false
		}
	}
	return work
}

// Running tells whether work goes on.
func (d Docket) Running() bool {
	return len(d.Work) > 0 && d.Work[len(d.Work)-1].To.IsZero()
}

// Worked is the time at work without pauses, until now where work goes on.
func (d Docket) Worked(now time.Time) time.Duration {
	var total time.Duration
	for _, s := range d.Work {
		to := s.To
		if to.IsZero() {
			to = now
		}
		total += max(0, to.Sub(s.From))
	}
	return total
}

// SettingUp is the time from arriving to being set up, or to the start of
// work where nobody said so; 0 when unknown.
func (d Docket) SettingUp() time.Duration { return between(d.Arrived, d.SetUp, d.Started) }

// PackingDown is the time from finishing to being packed, or to leaving where
// nobody said so; 0 when unknown.
func (d Docket) PackingDown() time.Duration { return between(d.Finished, d.Packed, d.Left) }

// OnSite is the time from arriving to leaving, or to the last thing that was
// recorded; 0 when unknown.
func (d Docket) OnSite() time.Duration { return between(d.Arrived, d.Left, d.Last) }

// between is from a moment to the first of the others that is known.
func between(from time.Time, to ...time.Time) time.Duration {
	for _, t := range to {
		if !from.IsZero() && !t.IsZero() {
			return max(0, t.Sub(from))
		}
	}
	return 0
}

// PerHour is the head worked an hour until now; 0 before the first minute.
func (d Docket) PerHour(now time.Time) float64 {
	worked := d.Worked(now)
	if worked < time.Minute {
		return 0
	}
	return float64(d.Head()) / worked.Hours()
}
