package jobs

import (
	"regexp"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/pace"
)

// Count is head that went through the crate in one go: which mob, what was
// done to each, and the gate they left by.
type Count struct {
	Mob      booking.ID `json:"mob"`
	Services []string   `json:"services"`
	Gate     Gate       `json:"gate,omitempty"`
	Head     int        `json:"head"` // below zero takes back
}

// Gate animals leave by; "" where they are not sorted.
type Gate string

// The usual gates of a three-way sort.
const (
	Ahead     Gate = "ahead"
	LeftGate  Gate = "left"
	RightGate Gate = "right"
)

// Limits of one count.
const (
	maxGate     = 30
	maxAtOnce   = 1000
	maxTogether = 20
)

// Gates in the order a screen shows them.
var Gates = []Gate{Ahead, LeftGate, RightGate}

var serviceCode = regexp.MustCompile(`^[a-z][a-z-]{1,29}$`)

func (c Count) check(f fault.Fields) {
	checkMob(f, c.Mob)
	f.Text("gate", string(c.Gate), maxGate, fault.Optional)
	if c.Head == 0 || c.Head < -maxAtOnce || c.Head > maxAtOnce {
		f.Add("head", "Count from 1 to %d head at once, or take as many back.", maxAtOnce)
	}
	if len(c.Services) == 0 || len(c.Services) > maxTogether {
		f.Add("services", "Say what was done to them: from 1 to %d services.", maxTogether)
	}
	seen := map[string]bool{}
	for _, code := range c.Services {
		if seen[code] || !serviceCode.MatchString(code) {
			f.Add("services", "Name each service once, by its code.")
		}
		seen[code] = true
	}
}

// NewMob is a mob that stood in the yard without being booked.
type NewMob struct {
	Mob   booking.ID    `json:"mob"`
	Class booking.Class `json:"class"`
}

func (m NewMob) check(f fault.Fields) {
	checkMob(f, m.Mob)
	for _, c := range booking.Classes {
		if m.Class == c {
			return
		}
	}
	f.Add("class", "Choose what the animals are from the list.")
}

// Hands are those who worked: the crew, and whether somebody or a dog besides
// them pushed up.
type Hands struct {
	People int  `json:"people"`
	Pusher bool `json:"pusher,omitempty"`
}

// MaxHands is the largest crew of a visit.
const MaxHands = pace.MaxPeople

func (h Hands) check(f fault.Fields) {
	f.Range("people", float64(h.People), 1, MaxHands, "people of the crew")
}

// Note is anything worth remembering.
type Note struct {
	Text string `json:"text"`
}

const maxNote = 2000

func (n Note) check(f fault.Fields) { f.Text("text", n.Text, maxNote, fault.Required) }

// Incident is something that went wrong. Head are animals that went in and
// did not leave by a gate because of it; 0 where none was lost to the count.
type Incident struct {
	Mob  booking.ID `json:"mob,omitempty"`
	Head int        `json:"head,omitempty"`
	Text string     `json:"text"`
}

func (i Incident) check(f fault.Fields) {
	if i.Mob != "" || i.Head != 0 {
		checkMob(f, i.Mob)
	}
	f.Range("head", float64(i.Head), 0, maxAtOnce, "animals; 0 if all are counted")
	f.Text("text", i.Text, maxNote, fault.Required)
}

// Signature is the farmer's. Where nobody draws, the typed name stands.
type Signature struct {
	Name    string `json:"name"`
	Drawing string `json:"drawing,omitempty"` // SVG path data (M and L, absolute) in a box of 600 × 200
	Seen    int    `json:"seen"`              // head worked that the screen showed when it was signed
}

// MaxDrawing is the longest signature kept, in bytes.
const MaxDrawing = 64 << 10

// pathData holds only what a pen stroke needs, so it can be put on a page.
var pathData = regexp.MustCompile(`^[ML0-9., ]*$`)

func (s Signature) check(f fault.Fields) {
	f.Text("name", s.Name, 120, fault.Required)
	f.Range("seen", float64(s.Seen), 0, 1e6, "head worked")
	switch {
	case len(s.Drawing) > MaxDrawing:
		f.Add("drawing", "The signature is too long to keep; clear it and sign again with fewer strokes.")
	case !pathData.MatchString(s.Drawing):
		f.Add("drawing", "The signature could not be read; clear it and sign again.")
	}
}

// Strike takes back an event of the same visit, whichever arrives first. A
// strike itself cannot be taken back.
type Strike struct {
	Event booking.ID `json:"event"`
}

func (s Strike) check(f fault.Fields) {
	if !madeOnPhone(s.Event) {
		f.Add("event", "Say which event is taken back, by its id.")
	}
}

func checkMob(f fault.Fields, mob booking.ID) {
	if _, ok := booking.ParseID(string(mob)); !ok {
		f.Add("mob", "Choose which mob this is about.")
	}
}
