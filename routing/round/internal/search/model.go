package search

// Classes is the number of hygiene classes.
const Classes = 4

// Model is a problem in numbers. Visits are 0..len(Visits)-1; in a Group's
// tables the index len(Visits) is home.
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

// Group is what rigs with one home and the same times share. Edges are from
// work done to work begun: pack-down, wash-down, drive, set-up.
type Group struct {
	stride int
	// The same two tables with rows and columns exchanged: a visit is tried
	// after many others, and its row then stays in the nearest cache.
	inDur   []int32
	inMoney []int64
	Dur     []int32 // (n+1)×(n+1)
	Money   []int64
	Out     []Edge // solo from home to the visit's place
	Back    []Edge // and back
	Work    []int32
	Spread  []int64 // square of what the 90 % time adds
}

// Edge is a drive in seconds and ticks.
type Edge struct {
	Dur   int32
	Money int64
}

// Rig is one rig over the days.
type Rig struct {
	Group    int
	Days     []RigDay
	Twin     int       // the last rig before it that is the same in everything, or -1
	Standing *Standing // where it stands on the first morning; nil = home
}

// RigDay are the hours of a rig.
type RigDay struct {
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
	To     []Edge // to the first visit, pack-down to set-up included
}

// Visit is what has to be placed.
type Visit struct {
	Class    uint8
	MayStay  bool
	Lit      bool
	Load     int64
	MinChunk int32 // 0 = never split
	Absent   int64 // ticks when left out
	Rank     Rank
	Last     int32    // the last day on which it may be worked
	Able     [][]bool // by rig and day, whether its crew can; only for visits that may be split
	Near     []int32  // other visits, nearest first
	Where    []Choice // every way in which it may begin
}

// Choice is a rig, a day, a stretch of it in which work may begin, and what
// that costs.
type Choice struct {
	Rig, Day    int32
	Early, Late int32
	Extra       int64
}

// home is the index of home in a group's tables.
func (m *Model) home() int32 { return int32(len(m.Visits)) }

// edge is from the work of one visit to that of another, or home.
func (g *Group) edge(from, to int32) (int32, int64) {
	i := int(from)*g.stride + int(to)
	return g.Dur[i], g.Money[i]
}

// Prepare makes a model ready for states once everything is filled in.
func (m *Model) Prepare() {
	n := len(m.Visits) + 1
	for _, g := range m.Groups {
		g.stride = n
		g.inDur, g.inMoney = make([]int32, n*n), make([]int64, n*n)
		for i := range n {
			for j := range n {
				g.inDur[j*n+i], g.inMoney[j*n+i] = g.Dur[i*n+j], g.Money[i*n+j]
			}
		}
	}
}

// Rank is what insertion orders go by.
type Rank struct {
	Work  float64 // seconds, the rigs' mean
	Far   float64 // seconds from the nearest home
	Room  float64 // how many seconds of begin the windows leave
	Until float64 // when the windows close for good
}
