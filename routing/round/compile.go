package round

import (
	"reflect"
	"slices"

	"drawbar/routing"
	"drawbar/routing/round/internal/search"
)

// Prices in ticks: an hour is 3600 seconds, a kilometre 1000 metres.
const (
	perSecond = int64(TicksPerMinor) / 3600
	perMetre  = int64(TicksPerMinor) / 1000
)

// unreachable stands for the time of a drive that cannot be made.
const unreachable = 1 << 25

// compiler turns a Problem that passed Check into the numbers of a search.
type compiler struct {
	p      *Problem
	m      *search.Model
	at     []int // place of each visit
	homes  []int
	yards  []int          // the homes, each once
	byID   map[string]int // rigs
	tables map[*routing.Table]*search.Drives
}

func compile(p *Problem) *compiler {
	c := &compiler{p: p, m: &search.Model{Days: p.Days, Wait: p.Hygiene.Wait}, byID: map[string]int{}, tables: map[*routing.Table]*search.Drives{}}
	for i := range p.Visits {
		at, _ := p.Towing.Index(p.Visits[i].Place)
		c.at = append(c.at, at)
	}
	for i := range p.Rigs {
		home, _ := p.Towing.Index(p.Rigs[i].Home)
		c.homes = append(c.homes, home)
		if !slices.Contains(c.yards, home) {
			c.yards = append(c.yards, home)
		}
		c.byID[p.Rigs[i].ID] = i
	}
	c.frame()
	c.rigs()
	c.visits()
	c.m.Prepare()
	return c
}

func (c *compiler) frame() {
	m, costs := c.m, c.p.Costs
	for _, s := range c.p.Daylight {
		m.Dawn, m.Dusk = append(m.Dawn, s.From), append(m.Dusk, s.To)
	}
	m.Price = search.Price{
		Second: costs.Hour * perSecond,
		Over:   costs.OvertimeHour * perSecond,
		Late:   costs.LateHour * perSecond,
		RigDay: costs.RigDay * int64(TicksPerMinor),
		Night:  costs.NightOut * int64(TicksPerMinor),
	}
	m.Timed = costs.Hour+costs.OvertimeHour+costs.LateHour > 0
	for i := range Classes {
		for j := range Classes {
			m.HasWait = m.HasWait || c.p.Hygiene.Wait[i][j] > 0
		}
	}
	for i := range c.p.Visits {
		m.HasDirt = m.HasDirt || c.p.Visits[i].Class > 0
	}
	m.HasDirt = m.HasDirt || m.HasWait
}

// leg is a drive as the search wants it.
func leg(t *routing.Table, from, to int, perKm int64) search.Edge {
	l := t.At(from, to)
	if !l.Reachable {
		return search.Edge{Dur: unreachable}
	}
	return search.Edge{Dur: min(l.Seconds, unreachable), Money: int64(l.Metres) * perKm * perMetre}
}

func (c *compiler) rigs() {
	for r := range c.p.Rigs {
		rig := &c.p.Rigs[r]
		out := search.Rig{Twin: c.twin(r)}
		for d := range rig.Days {
			out.Days = append(out.Days, c.rigDay(&rig.Days[d]))
			if out.Twin >= 0 {
				out.Days[d].Group = c.m.Rigs[out.Twin].Days[d].Group
			} else {
				out.Days[d].Group = c.groupOf(r, d, out.Days)
			}
		}
		out.Standing = c.standing(r)
		c.m.Rigs = append(c.m.Rigs, out)
	}
}

func (c *compiler) rigDay(d *RigDay) search.RigDay {
	out := search.RigDay{
		Open: d.Closed == "", AtHome: d.AtHome, Lodge: d.MayLodge,
		Start: d.Start, End: d.End, Latest: d.Latest,
		Longest: d.Longest, MaxLoad: d.MaxLoad,
	}
	if out.Longest == 0 {
		out.Longest = unreachable
	}
	if out.MaxLoad == 0 {
		out.MaxLoad = 1 << 60
	} else {
		c.m.HasLoad = true
	}
	return out
}

// twin is the last rig before r that differs in nothing but its id, or -1.
func (c *compiler) twin(r int) int {
	for q := r - 1; q >= 0; q-- {
		if c.alike(q, r) {
			return q
		}
	}
	return -1
}

func (c *compiler) alike(q, r int) bool {
	a, b := &c.p.Rigs[q], &c.p.Rigs[r]
	if a.Standing != nil || b.Standing != nil || !reflect.DeepEqual(a.unnamed(), b.unnamed()) {
		return false
	}
	for i := range c.p.Visits {
		v := &c.p.Visits[i]
		if named(v, a.ID) || named(v, b.ID) || !v.takeAlike(a, b) {
			return false
		}
	}
	return true
}

// takeAlike tells whether a visit takes two rigs the same time on every day.
func (v *Visit) takeAlike(a, b *Rig) bool {
	for d := range a.Days {
		if v.takes(a, d) != v.takes(b, d) || v.mayTake(a, d) != v.mayTake(b, d) {
			return false
		}
	}
	return true
}

// unnamed is a rig without its name and those of its crews.
func (r *Rig) unnamed() Rig {
	out := *r
	out.ID, out.Days = "", slices.Clone(r.Days)
	for d := range out.Days {
		out.Days[d].Crew = ""
	}
	return out
}

// named tells whether a visit asks for a rig by name.
func named(v *Visit, rig string) bool {
	return v.Pin != nil && v.Pin.Rig == rig || v.Promise != nil && v.Promise.Rig == rig
}

// groupOf is the group for a rig's day, which days before it may have already.
func (c *compiler) groupOf(r, d int, before []search.RigDay) int {
	rig := &c.p.Rigs[r]
	for e := range d {
		if rig.crew(e) == rig.crew(d) {
			return before[e].Group
		}
	}
	c.m.Groups = append(c.m.Groups, c.group(r, d))
	return len(c.m.Groups) - 1
}

// group are the times of the crew that goes with a rig on a day.
func (c *compiler) group(r, d int) *search.Group {
	n := len(c.p.Visits)
	rig, home := &c.p.Rigs[r], c.homes[r]
	g := &search.Group{
		Drives: c.drives(c.p.drives(rig, false)), Home: c.homePoint(home), PerMetre: c.p.Costs.Km * perMetre,
		Out: make([]search.Edge, n), Back: make([]search.Edge, n),
		Work: make([]int32, n), Spread: make([]int64, n),
	}
	g.SetUp, g.Pack = make([]int32, g.Drives.Points()), make([]int32, g.Drives.Points())
	solo := c.p.drives(rig, true)
	for i := range n {
		t := c.p.Visits[i].takes(rig, d)
		g.SetUp[i], g.Work[i], g.Pack[i] = t.SetUp, t.Work, t.Pack
		g.Spread[i] = int64(t.Late90) * int64(t.Late90)
		g.Out[i] = leg(solo, home, c.at[i], c.p.Costs.SoloKm)
		g.Back[i] = leg(solo, c.at[i], home, c.p.Costs.SoloKm)
	}
	return g
}

// homePoint is where a home comes among the points of Drives.
func (c *compiler) homePoint(place int) int32 {
	return int32(len(c.p.Visits) + slices.Index(c.yards, place))
}

// drives are those of a table with the wash-downs, one for all rigs on it.
func (c *compiler) drives(t *routing.Table) *search.Drives {
	if known := c.tables[t]; known != nil {
		return known
	}
	n := len(c.p.Visits)
	out := search.NewDrives(n + len(c.yards))
	for i := range n {
		for j := range n {
			out.Set(i, j, c.between(t, i, j))
		}
		for h, yard := range c.yards {
			wash := c.p.Hygiene.Home[c.p.Visits[i].Class]
			out.Set(n+h, i, washed(t, yard, c.at[i], 0))
			out.Set(i, n+h, washed(t, c.at[i], yard, wash))
		}
	}
	c.tables[t] = out
	return out
}

// between is the leg from the work at one visit to the work at another.
func (c *compiler) between(t *routing.Table, i, j int) search.Leg {
	wash := c.p.Hygiene.Between[c.p.Visits[i].Class][c.p.Visits[j].Class]
	if c.at[i] == c.at[j] {
		return search.Leg{Dur: wash, Metres: search.Here}
	}
	return washed(t, c.at[i], c.at[j], wash)
}

func washed(t *routing.Table, from, to int, wash int32) search.Leg {
	l := t.At(from, to)
	if !l.Reachable {
		return search.Leg{Dur: unreachable}
	}
	return search.Leg{Dur: min(l.Seconds, unreachable) + wash, Metres: l.Metres}
}

func (c *compiler) standing(r int) *search.Standing {
	rig := &c.p.Rigs[r]
	s, towing := rig.Standing, c.p.drives(rig, false)
	if s == nil {
		return nil
	}
	at, _ := c.p.Towing.Index(s.Place)
	out := &search.Standing{Lodged: s.Lodged, Fetch: leg(c.p.drives(rig, true), c.homes[r], at, c.p.Costs.SoloKm)}
	out.Home = leg(towing, at, c.homes[r], c.p.Costs.Km)
	out.Home.Dur += s.Pack + c.p.Hygiene.Home[s.Class]
	for i := range c.p.Visits {
		out.To = append(out.To, c.fromStanding(s, towing, at, i))
		out.Ready = append(out.Ready, s.SetUp && at == c.at[i])
	}
	return out
}

// fromStanding is the way from where a rig stands to a visit, without setting
// up.
func (c *compiler) fromStanding(s *Standing, towing *routing.Table, at, i int) search.Edge {
	wash := c.p.Hygiene.Between[s.Class][c.p.Visits[i].Class]
	if at == c.at[i] {
		return search.Edge{Dur: wash}
	}
	e := leg(towing, at, c.at[i], c.p.Costs.Km)
	e.Dur += s.Pack + wash
	return e
}

func (c *compiler) visits() {
	for i := range c.p.Visits {
		v := &c.p.Visits[i]
		absent := v.Value
		if v.Promise != nil {
			absent += c.p.Costs.MoveDay
		}
		out := c.visit(v)
		out.Absent = absent * int64(TicksPerMinor)
		out.Near = c.near(i)
		c.m.Visits = append(c.m.Visits, out)
	}
}

// visit is what a search has to know about one visit, but for its neighbours
// and its value.
func (c *compiler) visit(v *Visit) search.Visit {
	return search.Visit{
		Class: uint8(v.Class), MayStay: v.MayStay, Lit: v.Lit, Load: v.Load, MinChunk: v.MinChunk,
		Last:  int32(lastDay(c.p, v)),
		Able:  c.able(v),
		Where: c.choices(v),
	}
}

// maxNear bounds the list of neighbours of a visit.
const maxNear = 100

// meet tells whether two visits can be on one day.
func (c *compiler) meet(i, j int) bool {
	a, b := &c.p.Visits[i], &c.p.Visits[j]
	return a.firstDay() <= b.lastDay(c.p.Days) && b.firstDay() <= a.lastDay(c.p.Days)
}

// near are the visits around one, nearest first.
func (c *compiler) near(i int) []int32 {
	type other struct{ seconds, visit int32 }
	var all []other
	for j := range c.p.Visits {
		if j != i && c.meet(i, j) {
			there := leg(c.p.Towing, c.at[i], c.at[j], 0).Dur
			back := leg(c.p.Towing, c.at[j], c.at[i], 0).Dur
			all = append(all, other{there + back, int32(j)})
		}
	}
	slices.SortFunc(all, func(a, b other) int {
		if a.seconds != b.seconds {
			return int(a.seconds - b.seconds)
		}
		return int(a.visit - b.visit)
	})
	out := make([]int32, 0, min(maxNear, len(all)))
	for _, o := range all[:min(maxNear, len(all))] {
		out = append(out, o.visit)
	}
	return out
}
