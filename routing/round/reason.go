package round

// LeftOut is a visit without a place in the plan, and the truth about why.
type LeftOut struct {
	Visit  string
	Reason Reason
	Way    *Way // the cheapest way out found; nil = none
}

// Cause is why a visit is left out. Append only: screens and checks read it.
type Cause string

// The causes, the most fundamental first. The first that holds for every rig
// is the one told.
const (
	NoRig       Cause = "no rig"       // no rig is named in Visit.Times
	Equipment   Cause = "equipment"    // no rig, and no crew on any day, has Reason.Need
	TooBig      Cause = "too big"      // every rig that could is larger than a limit
	Unreachable Cause = "unreachable"  // no way to drive there
	WrongDays   Cause = "wrong days"   // no rig that could is working on a day of its windows
	TooLong     Cause = "too long"     // alone on the best day, hours, daylight or windows are too short
	Waiting     Cause = "waiting"      // a rig would have to wait after another flock
	NoRoom      Cause = "no room"      // other visits take the time
	NotWorth    Cause = "not worth it" // it could be placed, but costs more than its value
)

// Reason is a cause with the facts a sentence needs. Fields that do not matter
// to the cause are zero; days are -1 when there is none.
type Reason struct {
	Cause     Cause
	Rig       string // the rig that comes nearest
	Need      string // Equipment
	Dimension string // TooBig: width, length, height or mass
	Limit     int32  // TooBig: what fits
	Size      int32  // TooBig: what the rig has
	FromDay   int    // first day the windows allow
	ToDay     int    // last
	Nearest   int    // nearest day on which it could be placed
	Short     int32  // TooLong: seconds missing
	Price     Ticks  // NotWorth: what placing it would cost
}

// WayKind is a rule that could be relaxed. Append only.
type WayKind string

// The ways out.
const (
	OtherDay   WayKind = "another day"     // outside the windows
	OtherTime  WayKind = "another time"    // the windows' days, at any time
	LongerDay  WayKind = "a longer day"    // past RigDay.Latest or Longest
	Lights     WayKind = "lights"          // working past daylight
	OtherRig   WayKind = "another rig"     // than pinned or named
	MoreKit    WayKind = "more equipment"  // the rig would need Reason.Need
	Split      WayKind = "over two days"   // where the rig may stay
	LessWait   WayKind = "a shorter wait"  // after another flock
	HigherWork WayKind = "a higher value"  // it is only not worth it now
	SmallerRig WayKind = "a smaller train" // past a limit
)

// Way is one rule relaxed and where the visit would then go.
type Way struct {
	Kind  WayKind
	Rig   string
	Day   int
	Begin int32
	Cost  Ticks // added to the plan, without the visit's value
}
