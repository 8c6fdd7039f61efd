package search

import "sync/atomic"

// Team improves a plan with several searches side by side. All begin a turn
// with the same plan. After it, the first takes the steps of the others that
// still can be taken beside its own, and the others what it has then.
type Team struct {
	members []*Search
	best    Snapshot
	common  news // the days of the plan that may have changed in the last turn
	looks   int  // at rigs, in a turn
	heat    float64
	timed   bool // nobody waits for a slower member

	did     []int // steps of each in the last turn
	trouble []any // what each panicked with
	turns   int64
	begun   bell        // once for each turn, and at the end
	ended   bell        // once for each member but the first, for each turn
	enough  atomic.Bool // somebody has done all of this turn
	over    bool
}

// A team works when there are enough visits, and is larger when there are many
// more. Its size does not depend on the machine, so that its plans do not
// either.
const (
	teamVisits  = 80
	visitsEach  = 200
	mostMembers = 4
)

// teamHot is the heat with which a team begins. Large plans were found to be
// better off when that is more, and when large ruins become rarer with the heat:
// they take a quarter of the time and hardly ever help in the cold.
const teamHot = 2 * hot

// NewTeam starts from a plan; nil when it is too small for a team. Where the
// time is limited, nobody waits for a member that is slower than another;
// otherwise a seed gives the same plan each time.
func NewTeam(st *State, seed uint64, timed bool) *Team {
	if len(st.where) < teamVisits {
		return nil
	}
	t := newTeam(st, seed, min(max(2, len(st.where)/visitsEach), mostMembers))
	t.timed = timed
	return t
}

func newTeam(st *State, seed uint64, size int) *Team {
	t := &Team{best: st.Snapshot(), looks: fewLooks}
	t.did, t.trouble = make([]int, size), make([]any, size)
	for i := range size {
		member := NewState(st.m)
		member.Load(t.best)
		s := New(member, NewRand(seed, uint64(2+i)))
		s.news = &news{}
		t.members = append(t.members, s)
	}
	return t
}

// Best is the best plan so far.
func (t *Team) Best() Snapshot { return t.best }

// Run anneals as a Search does, once.
func (t *Team) Run(passed func() float64, done func(iterations int)) {
	t.start()
	defer t.dismiss()
	for share := passed(); share < 1; share = passed() {
		t.heat = heat(teamHot, share)
		steps := t.work()
		t.meet()
		done(steps)
	}
}

// start has all members but the first wait for their turns.
func (t *Team) start() {
	for i := range t.members[1:] {
		go t.serve(i + 1)
	}
}

// serve gives a member its turns until the team is dismissed.
func (t *Team) serve(i int) {
	for n := int64(1); ; n++ {
		t.begun.await(n)
		if t.over {
			return
		}
		t.turn(i)
		t.ended.ring()
	}
}

func (t *Team) dismiss() {
	t.over = true
	t.begun.ring()
}

// work lets every member have its turn, and counts the steps. A member that
// panics does so in the caller's goroutine.
func (t *Team) work() (steps int) {
	t.turns++
	t.enough.Store(false)
	t.begun.ring()
	t.turn(0)
	t.ended.await(t.turns * int64(len(t.members)-1))
	for i, what := range t.trouble {
		if what != nil {
			panic(what)
		}
		steps += t.did[i]
	}
	return steps
}

// turn lets a member take over the plan and do its steps; those that are
// begun when somebody has done enough are the last of a timed turn.
func (t *Team) turn(i int) {
	defer func() { t.trouble[i] = recover() }()
	s, n := t.members[i], 0
	s.join(&t.common)
	for until := s.st.looks + t.looks; s.st.looks < until && !(t.timed && t.enough.Load()); n++ {
		s.step(t.heat, manyOdds*t.heat)
	}
	t.enough.Store(true)
	t.did[i] = n
}

// meet brings the first member to the plan of all, and notes it for the others.
func (t *Team) meet() {
	first, changes := t.members[0], 0
	for i, s := range t.members {
		changes += len(s.news.steps)
		if i > 0 {
			first.follow(s.news)
		}
		if s.best.Cost < t.best.Cost {
			t.best = s.best
		}
	}
	if first.st.cost < t.best.Cost {
		t.best = first.st.Snapshot()
	}
	t.common.clear()
	for _, s := range t.members {
		s.best = t.best
		t.common.gather(s.news, first.st)
	}
	t.pace(changes)
}

// A turn is so long that members make a few changes in it: in a longer one they
// get into each other's way, in a shorter one they wait for each other.
const (
	fewLooks, manyLooks = 600, 16000
	changesEach         = 6
	paces               = 16 // one in so many looks more, or less, in the next turn
)

func (t *Team) pace(changes int) {
	if changes > changesEach*len(t.members) {
		t.looks = max(t.looks-t.looks/paces, fewLooks)
	} else {
		t.looks = min(t.looks+t.looks/paces, manyLooks)
	}
}
