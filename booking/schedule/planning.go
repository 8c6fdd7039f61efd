package schedule

import (
	"context"
	"encoding/json"
	"sync"
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/routing/round"

	"cloud.google.com/go/civil"
)

// Order asks for a plan.
type Order struct {
	From       civil.Date
	Days       int
	Mend       bool
	Seed       int64
	Seconds    int
	Iterations int
}

// Ask stores the wish for a plan, to be worked by whichever process is free.
func (p *Planner) Ask(ctx context.Context, o Order) (booking.Planning, error) {
	order := booking.Planning{From: o.From, Days: o.Days, Mend: o.Mend, Seed: o.Seed, Seconds: o.Seconds, Iterations: o.Iterations}
	if err := order.Check(); err != nil {
		return order, err
	}
	business, err := p.Store.Business(ctx)
	if err != nil {
		return order, err
	}
	if order.From.AddDays(order.Days - 1).Before(business.Today(p.Now())) {
		const over = "These days are over; choose a week from this one on."
		return order, &fault.Error{Kind: fault.Invalid, Sentence: over, Fields: fault.Fields{"from": over}}
	}
	return order, p.Store.AddPlanning(ctx, &order)
}

// beat is how often a searcher shows a sign of life, and Left how long without
// one it is taken for gone.
const (
	beat = 500 * time.Millisecond
	Left = 30 * time.Second
)

// Work searches for a plan that was asked for, unless somebody else does, and
// keeps what it finds. A context that ends stops the search; the best plan so
// far is kept all the same.
func (p *Planner) Work(ctx context.Context, id booking.ID) error { return p.WorkShown(ctx, id, nil) }

// WorkShown is Work that also shows how far it is, now and then.
func (p *Planner) WorkShown(ctx context.Context, id booking.ID, show func(booking.Progress)) error {
	order, mine, err := p.Store.ClaimPlanning(ctx, id)
	if err != nil || !mine {
		return err
	}
	keep := context.WithoutCancel(ctx)
	s := &searcher{planner: p, order: order, show: show, stop: make(chan struct{}), ended: make(chan struct{})}
	s.beating.Go(func() { s.beats(keep) })
	prop, err := p.Propose(keep, order.From, order.Days, Search{
		Mend: order.Mend, Seed: order.Seed, Iterations: order.Iterations, Time: time.Duration(order.Seconds) * time.Second, Progress: s.note, Stop: s.until(ctx),
	})
	if err := s.end(); err != nil {
		return err
	}
	order.Progress = s.last()
	return p.keep(keep, order, prop, err)
}

// keep stores what was found, or why nothing was.
func (p *Planner) keep(ctx context.Context, order booking.Planning, prop *Proposal, failed error) error {
	order.State = booking.PlanFailed
	if failed == nil {
		order.State, order.Fingerprint = booking.PlanFound, prop.Ground.Fingerprint()
		order.Result, failed = json.Marshal(prop)
	}
	if failed != nil {
		order.State, order.Trouble = booking.PlanFailed, fault.Sentence(failed)
	}
	if err := p.Store.EndPlanning(ctx, order); err != nil {
		return err
	}
	if fault.KindOf(failed) == fault.Internal {
		return failed
	}
	return nil
}

// searcher shows that a search is alive, and hears when it is to stop.
type searcher struct {
	planner *Planner
	order   booking.Planning
	show    func(booking.Progress)
	mutex   sync.Mutex
	at      booking.Progress
	priced  time.Time
	stop    chan struct{} // closed when somebody wants the best so far
	ended   chan struct{} // closed when the search is over
	failed  error
	beating sync.WaitGroup
}

// note takes down how far the search is. What a plan costs is reckoned at most
// twice a second.
func (s *searcher) note(r round.Progress) {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	s.at.Iteration, s.at.Placed, s.at.Of = r.Iteration, r.Placed, r.Of
	if now := time.Now(); now.Sub(s.priced) >= beat {
		c := r.Plan().Cost
		s.at.Cost, s.priced = (c.Hours + c.Overtime + c.Driving + c.Days + c.Nights).Minor(), now
	}
}

func (s *searcher) last() booking.Progress {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	return s.at
}

// until is closed when somebody stops the search or the context ends.
func (s *searcher) until(ctx context.Context) <-chan struct{} {
	out := make(chan struct{})
	go func() {
		defer close(out)
		select {
		case <-ctx.Done():
		case <-s.stop:
		case <-s.ended:
		}
	}()
	return out
}

// beats stores how far the search is until it is over.
func (s *searcher) beats(ctx context.Context) {
	ticker := time.NewTicker(beat)
	defer ticker.Stop()
	stopped := false
	for {
		at := s.last()
		stop, mine, err := s.planner.Store.NotePlanning(ctx, s.order.ID, s.order.Tries, at)
		if s.show != nil {
			s.show(at)
		}
		s.failed = err
		if (stop || !mine && err == nil) && !stopped {
			stopped = true
			close(s.stop)
		}
		select {
		case <-s.ended:
			return
		case <-ticker.C:
		}
	}
}

// end waits until the last sign of life is stored.
func (s *searcher) end() error {
	close(s.ended)
	s.beating.Wait()
	return s.failed
}

// Found is a planning with its plan and what was accepted of it.
type Found struct {
	Planning booking.Planning
	Plan     *Proposal
	Accepted []booking.Acceptance // newest first
}

// Found reads a plan that was found.
func (p *Planner) Found(ctx context.Context, id booking.ID) (*Found, error) {
	order, err := p.Store.Planning(ctx, id)
	if err != nil {
		return nil, err
	}
	return p.Read(ctx, order)
}

// Read is Found for a planning that was loaded already.
func (p *Planner) Read(ctx context.Context, order booking.Planning) (*Found, error) {
	if order.State != booking.PlanFound {
		return nil, fault.New(fault.Conflict, "There is no plan to accept here yet.")
	}
	f := &Found{Planning: order, Plan: &Proposal{}}
	if err := json.Unmarshal(order.Result, f.Plan); err != nil {
		return nil, fault.Wrap(fault.Internal, err, "a plan cannot be read back")
	}
	var err error
	f.Accepted, err = p.Store.Acceptances(ctx, order.ID)
	return f, err
}

// Done are the bookings that were accepted, and not undone.
func (f *Found) Done() map[booking.ID]bool {
	done := map[booking.ID]bool{}
	for _, a := range f.Accepted {
		for _, id := range a.Units {
			done[id] = done[id] || a.Undone.IsZero()
		}
	}
	return done
}

// changed says what differs from what the plan rests on, leaving out what the
// plan itself changed when parts of it were accepted. For some moves only what
// they rest on counts: whether they fit beside the rest is tried.
func (f *Found) changed(w *world, moves []Move, all bool) []string {
	g := f.expected()
	matters := func(booking.ID) bool { return true }
	if !all {
		ids := w.under(moves)
		matters = func(id booking.ID) bool { return ids[id] }
	}
	changes := w.since(g, matters)
	for _, m := range moves {
		if len(m.New) > 0 && m.New[0].Working().Before(w.now) {
			changes = append(changes, "The time of "+m.Farm+" is over.")
		}
	}
	return changes
}

// expected is the ground as it should be after what was accepted and undone.
func (f *Found) expected() Ground {
	g := f.Plan.Ground
	visits := byID(g.Visits, func(v booking.Visit) booking.ID { return v.ID })
	for i := len(f.Accepted) - 1; i >= 0; i-- {
		a := f.Accepted[i]
		undone := 0
		if !a.Undone.IsZero() {
			undone = 1
		}
		before := byID(a.Before, func(v booking.Visit) booking.ID { return v.ID })
		for _, v := range a.After {
			if old, there := before[v.ID]; undone == 1 && there {
				old.Version = v.Version
				v = old
			} else if undone == 1 {
				v.State = booking.CalledOff
			}
			v.Version += undone
			visits[v.ID] = v
		}
		for _, b := range a.Left {
			g.Versions[b.ID] = b.Version + undone
		}
	}
	g.Visits = nil
	for _, v := range visits {
		if v.State.Live() {
			g.Visits = append(g.Visits, v)
		}
	}
	return g
}

// under are the things that some moves rest on.
func (w *world) under(moves []Move) map[booking.ID]bool {
	ids := map[booking.ID]bool{booking.BusinessID: true}
	for _, m := range moves {
		g := Ground{Versions: map[booking.ID]int{}}
		w.restOn(&g, w.bookings[m.Booking])
		for id := range g.Versions {
			ids[id] = true
		}
		ids[m.Booking] = true
		for _, v := range append(m.Old, m.New...) {
			ids[v.ID] = true
		}
		for _, v := range m.New {
			ids[v.RigID], ids[v.YardID], ids[v.FarmID] = true, true, true
			for _, r := range w.rigs {
				if r.ID == v.RigID {
					for _, person := range r.Crew {
						ids[person] = true
					}
				}
			}
		}
	}
	return ids
}
