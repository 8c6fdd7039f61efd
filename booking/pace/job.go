package pace

// Species of the animals in a mob.
type Species string

// The species Drawbar works with.
const (
	Sheep Species = "sheep"
	Goat  Species = "goat"
)

// Class of animal inside its species.
type Class string

// Sheep are ewe, ram, hogget or lamb; goats are doe, buck or kid.
const (
	Ewe    Class = "ewe"
	Ram    Class = "ram"
	Hogget Class = "hogget"
	Lamb   Class = "lamb"
	Doe    Class = "doe"
	Buck   Class = "buck"
	Kid    Class = "kid"
)

// Surface is the ground the rig is set up on.
type Surface string

// The surfaces. The empty surface counts as Firm.
const (
	Firm  Surface = "firm"  // dry grass or gravel
	Hard  Surface = "hard"  // concrete
	Soft  Surface = "soft"  // mud, sand, long wet grass
	Slope Surface = "slope" // needs levelling
)

// Mount is how a rig travels.
type Mount string

// The mounts. The empty mount counts as OnTrailer.
const (
	OnTrailer Mount = "trailer" // lowered on site, wheels off
	OnSkid    Mount = "skid"    // lifted down with forks at the yard
)

// Limits of what can be asked. They catch slips of the keyboard; no yard works
// more in one visit.
const (
	MaxHead   = 20000 // head in one mob
	MaxMobs   = 20    // mobs in one visit
	MaxPeople = 6     // people in one crew
	MaxPlaces = 60    // places in the lead-up race
	Sizes     = 6     // positions of the clamp wall, 1 narrowest (common practice, no source)
)

// Lot is the part of a mob that is of one size.
type Lot struct {
	Head int `json:"head"`
	Size int `json:"size"` // wall position it fits best, 1 narrowest to Sizes widest
}

// Mob is like animals worked together.
type Mob struct {
	Species Species `json:"species"`
	Class   Class   `json:"class"`
	Head    int     `json:"head"`
	// Lots says how a mob of mixed sizes divides. Empty means all of the usual
	// size of the class. The head of the lots must add up to Head.
	Lots []Lot `json:"lots,omitempty"`
	// AsTheyCome means the lots reach the race mixed, not drafted by size.
	AsTheyCome  bool     `json:"as_they_come,omitempty"`
	Horned      bool     `json:"horned,omitempty"`
	FullWool    bool     `json:"full_wool,omitempty"`
	NewToCrate  bool     `json:"new_to_crate,omitempty"`
	LambsAtFoot bool     `json:"lambs_at_foot,omitempty"`
	Services    []string `json:"services"` // service codes, each once
	// Gates is how many ways the mob is sorted, 1 to 3. 0 means 2 when the mob
	// is sorted and 1 when it is not.
	Gates int `json:"gates,omitempty"`
}

// Setting is what the yard offers and asks.
type Setting struct {
	Surface Surface `json:"surface,omitempty"`
	Lights  bool    `json:"lights,omitempty"` // the yard has lights
	Power   bool    `json:"power,omitempty"`  // the yard has power for compressor and reader
	Helper  bool    `json:"helper,omitempty"` // somebody of the farm helps to set up and pack down
	// RigStanding means the rig stands ready from the day before.
	RigStanding bool `json:"rig_standing,omitempty"`
	// LeaveStanding means the rig stays for another day: nothing is packed or washed.
	LeaveStanding bool `json:"leave_standing,omitempty"`
	Hygiene       int  `json:"hygiene,omitempty"` // 0 known clean … 3 known infected
}

// Rig is the handler, as far as it matters for time.
type Rig struct {
	Mount        Mount `json:"mount,omitempty"`
	SideTilt     bool  `json:"side_tilt,omitempty"`
	LeadUpPlaces int   `json:"lead_up_places,omitempty"` // 0 means 8
	PoweredGates int   `json:"powered_gates,omitempty"`  // sort gates moved by air, 0 to 3
	CalmPanel    bool  `json:"calm_panel,omitempty"`     // panel for animals new to the crate
}

// Crew is the hands that come along.
type Crew struct {
	People int `json:"people"`
	// Pusher means a dog or a person besides People pushes animals up.
	Pusher bool `json:"pusher,omitempty"`
}

// Job is one visit described. FarmID and CrewID only choose what has been
// learned about them; empty or unknown ids mean an average farm or crew.
type Job struct {
	Mobs    []Mob   `json:"mobs"`
	Setting Setting `json:"setting"`
	Rig     Rig     `json:"rig"`
	Crew    Crew    `json:"crew"`
	FarmID  string  `json:"farm_id,omitempty"`
	CrewID  string  `json:"crew_id,omitempty"`
}

// Head is the number of animals in all mobs.
func (j Job) Head() int {
	n := 0
	for i := range j.Mobs {
		n += j.Mobs[i].Head
	}
	return n
}
