package round

import (
	"cmp"

	"drawbar/routing"
)

// Day is the length of a day in seconds; no time of day lies past it.
const Day = 24 * 60 * 60

// Problem is everything the planner knows.
type Problem struct {
	Days     int            // days 0..Days-1 are planned
	Towing   *routing.Table // drives with a rig on, for rigs without their own
	Solo     *routing.Table // drives without it; all tables have the same places in the same order
	Rigs     []Rig
	Daylight []Span // one a day: when animals can be worked without lights
	Visits   []Visit
	Hygiene  Hygiene
	Costs    Costs
}

// Span is a stretch of a day in seconds of the day.
type Span struct{ From, To int32 }

// Size is what has to fit through gates and along lanes. In a Rig it is the
// size of the train; in a Visit the largest that fits. 0 is unknown: it fits.
type Size struct {
	Width, Length, Height int32 // centimetres
	Mass                  int32 // kilograms
}

// Rig is a handler, what tows it and whoever goes with it.
type Rig struct {
	ID       string
	Home     string   // place
	Has      []string // equipment: each need of a visit is met here or by RigDay.Skills
	Size     Size
	Towing   *routing.Table // its own drives, same places as the Problem's; nil = the Problem's
	Solo     *routing.Table // and those of its vehicle alone
	Days     []RigDay       // one for each day of the Problem
	Standing *Standing
	Visited  []Visited // yards of the days before the plan, for Hygiene.Wait
}

// RigDay is what a rig and its crew can do on one day.
type RigDay struct {
	Start    int32    // the crew starts no earlier
	End      int32    // ordinary end; later is overtime
	Latest   int32    // the crew is done by then; at least End
	Longest  int32    // most seconds from start to end; 0 = no limit
	Closed   string   // why nobody works that day; empty = they do
	AtHome   bool     // the rig has to be at home the night before
	MayLodge bool     // the crew would spend the night after this day away
	Skills   []string // what the day's crew can do
	Crew     string   // who goes, by a name in Visit.Times; empty = the usual crew, by the rig's id
	MaxLoad  int64    // most Load in a day; 0 = no limit
}

// Standing is where a rig stands on the morning of day 0, when it is not home.
type Standing struct {
	Place  string
	Pack   int32 // seconds to pack down before it moves; only if SetUp
	SetUp  bool  // it stands ready: a visit at this place needs no set-up
	Class  int   // hygiene class of what it worked last
	Lodged bool  // the crew slept there, not at home
}

// Visited is a yard that the rig was at before day 0.
type Visited struct {
	DaysAgo int // 1 = the day before day 0
	Class   int
}

// Visit is work at one yard that has to be placed.
type Visit struct {
	ID         string
	Place      string
	Times      map[string]Times // by rig id, and by RigDay.Crew: only these may come
	Needs      []string         // equipment and skills
	Limits     Size             // largest train that fits; 0 = no limit known
	Windows    []Window         // it begins in one of them; none = any time
	DoneWithin int              // finished in the first DoneWithin days; 0 = any day
	Class      int              // hygiene class, 0 clean .. Classes-1
	MayStay    bool             // the rig may stand there over night
	Lit        bool             // work needs no daylight
	Load       int64            // counts against RigDay.MaxLoad, shared over parts
	MinChunk   int32            // at least so many seconds of work a day when split; 0 = never split
	Value      int64            // what leaving it out costs
	Pin        *Pin             // nowhere else than here
	Promise    *Promise         // what was told to the farmer
}

// crew names those who go with a rig on a day, for Visit.Times.
func (r *Rig) crew(d int) string { return cmp.Or(r.Days[d].Crew, r.ID) }

// mayTake tells whether the crew of a rig's day may come to a visit.
func (v *Visit) mayTake(r *Rig, d int) bool {
	_, may := v.Times[r.crew(d)]
	return may
}

// takes is how long the crew of a rig's day takes at a visit. One that may not
// come may have to pack down there all the same, like the usual crew.
func (v *Visit) takes(r *Rig, d int) Times {
	if t, may := v.Times[r.crew(d)]; may {
		return t
	}
	return v.Times[r.ID]
}

// Times are the seconds a rig needs at a visit, as medians. Setting up and
// packing down take what the crew of that day takes; the work of a visit over
// several days takes what the crew of its first day would.
type Times struct {
	SetUp, Work, Pack int32
	Late80, Late90    int32 // what the 80 % and the 90 % time add to Work
}

// Window is when work may begin: on days FromDay..ToDay, between From and To.
type Window struct {
	FromDay, ToDay int
	From, To       int32
	Extra          int64 // what using this window costs
}

// AnyDay and AnyTime leave a part of a Pin open.
const (
	AnyDay        = -1
	AnyTime int32 = -1
)

// Pin holds a visit to a rig, a day, a time when work begins, or all of them.
// A pinned visit is left out only when it cannot be done as pinned.
type Pin struct {
	Rig   string // empty = any
	Day   int    // AnyDay = any
	Start int32  // AnyTime = any
}

// Promise is where a visit stands in what people were told. Moving it costs
// what Costs says; for a split visit the first part counts.
type Promise struct {
	Rig   string
	Day   int
	Start int32
}

// Classes is the number of hygiene classes: 0 known clean .. 3 known infected.
const Classes = 4

// Hygiene says what lies between a visit of one class and one of another.
type Hygiene struct {
	Between [Classes][Classes]int32 // wash-down seconds before the next visit
	Home    [Classes]int32          // wash-down seconds before going home
	Wait    [Classes][Classes]int   // days that pass: 0 = the same day will do, 1 = the next day
}

// Costs are prices in minor units.
type Costs struct {
	Hour         int64 // an hour of the crew
	OvertimeHour int64 // on top, after RigDay.End
	Km           int64 // a kilometre towing
	SoloKm       int64 // a kilometre without the rig
	RigDay       int64 // turning out at all on a day
	NightOut     int64 // lodging, for each night
	LateHour     int64 // each hour by which a day's last work may end after daylight, at its 90 % time
	MoveDay      int64 // another day than promised, or left out
	MoveTime     int64 // the promised day, but more than Tolerance from the time
	MoveRig      int64 // another rig than promised
	Tolerance    int32 // seconds
}
