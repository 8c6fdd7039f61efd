package search

// Classes is the number of hygiene classes.
const Classes = 4

// Model is a problem in numbers. Visits are 0..len(Visits)-1.
type Model struct {
	Days    int
	Rigs    []Rig
	Visits  []Visit
	Groups  []*Group
	Dawn    []int32
	Dusk    []int32
	Wait    [Classes][Classes]int
	Price   Price
	HasWait bool // some Wait is above zero
	Timed   bool // hours, overtime or lateness have a price
	HasLoad bool // some day limits its load
	HasDirt bool // some visit is above class 0
	Roaming bool // count every rig as able to stay out
}

// Price is in ticks.
type Price struct {
	Second, Over, Late int64 // a second
	RigDay, Night      int64
}

// Rig is one rig over the days.
type Rig struct {
	Days     []RigDay
	Quickest *Group    // the least times of all its groups
	Twin     int       // the last rig before it that is the same in everything, or -1
	Standing *Standing // where it stands on the first morning; nil = home
}

// RigDay are the hours of a rig.
type RigDay struct {
	Group               int
	Open, AtHome, Lodge bool
	Start, End, Latest  int32
	Longest             int32 // far when unlimited
	MaxLoad             int64
}

// Standing is a rig that does not start at home.
type Standing struct {
	Lodged bool
	Fetch  Edge   // solo from home to it
	Home   Edge   // from it home, pack-down and wash-down included
	To     []Edge // to the first visit, pack-down included, but not set-up
	Ready  []bool // it is set up for that visit
}

// Visit is what has to be placed.
type Visit struct {
	Class    uint8
	MayStay  bool
	Lit      bool
	Load     int64
	MinChunk int32    // 0 = never split
	Absent   int64    // ticks when left out
	Last     int32    // the last day on which it may be worked
	Able     [][]bool // by rig and day, whether its crew can; only for visits that may be split
	Near     []int32  // other visits, nearest first
	Where    []Choice // every way in which it may begin, by rig and day
}

// splits tells whether a visit may be spread over days.
func (v *Visit) splits() bool { return v.MinChunk > 0 && v.MayStay }

// Choice is a rig, a day, a stretch of it in which work may begin, and what
// that costs.
type Choice struct {
	Rig, Day    int32
	Early, Late int32
	Extra       int64
}

// group is what holds for a rig on a day.
func (m *Model) group(rig *Rig, d int) *Group { return m.Groups[rig.Days[d].Group] }

// at is the group of a choice.
func (m *Model) at(c *Choice) *Group { return m.group(&m.Rigs[c.Rig], int(c.Day)) }

// Prepare makes a model ready for states once everything is filled in.
func (m *Model) Prepare() {
	for _, g := range m.Groups {
		g.prepare()
	}
	for r := range m.Rigs {
		m.Rigs[r].Quickest = m.quickest(r)
	}
}

// quickest are the least times of a rig's groups: what it takes on any day at
// the least.
func (m *Model) quickest(r int) *Group {
	rig := &m.Rigs[r]
	first := m.group(rig, 0)
	least := first
	for d := range rig.Days {
		if g := m.group(rig, d); g != first {
			least = least.min(g)
		}
	}
	return least
}
