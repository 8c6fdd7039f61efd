package round

// Plan is what to do. It holds for the Problem it was made from and no other.
type Plan struct {
	Rounds  []Round   // by rig in the order of the Problem, then by day
	Nights  []Night   // for each rig and each of its nights away from home
	LeftOut []LeftOut // in the order of the Problem
	Cost    Cost
	Totals  Totals
	Search  Search
}

// Round is one rig's working day.
type Round struct {
	Rig    string
	Day    int
	Start  int32  // the crew leaves its bed
	Fetch  *Drive // solo to where the rig stands, when they slept apart
	Pack   int32  // seconds packing down what stood over night
	Wash   int32  // seconds washing it down
	Stops  []Stop
	Back   *Drive  // home with the rig, or solo; nil when lodging
	End    int32   // the crew is done
	Duty   int32   // seconds from Start to End
	Over   int32   // seconds of overtime
	Late   int32   // seconds by which the 90 % time of the last work passes daylight
	Chance float64 // that the last work is done in daylight; 1 when lit
	Slack  int32   // seconds the whole day could start later and still work
}

// Drive is one leg of a round.
type Drive struct {
	From, To string // places
	Seconds  int32
	Metres   int32
	Solo     bool
	Estimate bool
}

// Stop is a visit, or one day's part of it. In time order: Drive, Arrive,
// set-up until Ready, perhaps waiting until Begin, work until Done, pack-down
// and wash-down until Leave. A rig that stays, or whose next visit is at the
// same place, does not pack: Leave equals Done, or Done plus Wash.
type Stop struct {
	Visit       string
	Part, Parts int    // from 1; Parts 1 = done in one go
	Drive       *Drive // nil when the rig already stands there
	Arrive      int32
	Ready       int32
	Begin       int32
	Done        int32 // median
	Done80      int32 // 80 % sure
	Done90      int32 // 90 % sure
	Pack        int32 // seconds
	Wash        int32 // seconds
	Leave       int32
}

// Night is one night a rig is not at home.
type Night struct {
	Rig    string
	Day    int    // the night after this day
	Place  string // where the rig stands
	Lodged bool   // the crew sleeps there; else at home
}

// Ticks are money, exactly: a price an hour and a price a kilometre both come
// out whole for whole seconds and metres.
type Ticks int64

// TicksPerMinor is one minor unit.
const TicksPerMinor Ticks = 18000

// Minor is the amount in whole minor units, halves away from zero.
func (t Ticks) Minor() int64 {
	half := TicksPerMinor / 2
	if t < 0 {
		half = -half
	}
	return int64((t + half) / TicksPerMinor)
}

// Cost is what a plan costs and for what.
type Cost struct {
	Hours    Ticks // crew, ordinary rate
	Overtime Ticks // the surcharge
	Driving  Ticks // kilometres
	Days     Ticks // turning out
	Nights   Ticks // lodging
	Risk     Ticks // Costs.LateHour
	Windows  Ticks // Window.Extra
	Promises Ticks // moved or broken
	LeftOut  Ticks // Visit.Value
}

// Total is the sum.
func (c Cost) Total() Ticks {
	return c.Hours + c.Overtime + c.Driving + c.Days + c.Nights + c.Risk + c.Windows + c.Promises + c.LeftOut
}

// Totals are what people ask first.
type Totals struct {
	Placed, LeftOut int   // visits
	Drive           int64 // seconds driven, solo included
	Metres          int64 // solo included
	Duty            int64 // seconds
	Overtime        int64 // seconds
	Nights          int   // rig nights away from home
	Lodged          int   // of which the crew slept away
}

// Search says how the plan was found.
type Search struct {
	Iterations int
	Stopped    bool // by the context or the deadline, before Iterations were done
}
