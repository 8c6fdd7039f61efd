package jobs

import (
	"cmp"
	"slices"
	"time"

	"drawbar/booking"
)

// Docket is what the events of a visit add up to.
type Docket struct {
	Arrived    time.Time     `json:"arrived,omitzero"`
	SetUp      time.Time     `json:"setUp,omitzero"`
	Started    time.Time     `json:"started,omitzero"`
	Finished   time.Time     `json:"finished,omitzero"` // the last time, zero while work goes on
	Packed     time.Time     `json:"packed,omitzero"`
	Left       time.Time     `json:"left,omitzero"`
	Work       []Span        `json:"work"` // without pauses, in order
	Tallies    []Tally       `json:"tallies"`
	Below      []Tally       `json:"below,omitempty"` // where more was taken back than counted
	Added      []NewMob      `json:"added,omitempty"`
	Treatments []TreatmentAt `json:"treatments,omitempty"`
	Incidents  []IncidentAt  `json:"incidents,omitempty"`
	Notes      []NoteAt      `json:"notes,omitempty"`
	Hands      *Hands        `json:"hands,omitempty"`     // as told last; nil = as planned
	Signature  *Signature    `json:"signature,omitempty"` // the last one that stands
	SignedAt   time.Time     `json:"signedAt,omitzero"`
	Last       time.Time     `json:"last,omitzero"` // of any event
	People     []booking.ID  `json:"people,omitempty"`
}

// Entry says where something on a docket comes from.
type Entry struct {
	Event  booking.ID `json:"event"`
	At     time.Time  `json:"at"`
	Person booking.ID `json:"person"`
}

// TreatmentAt is a treatment with where it comes from.
type TreatmentAt struct {
	Entry
	Treatment
}

// IncidentAt is an incident with where it comes from.
type IncidentAt struct {
	Entry
	Incident
}

// NoteAt is a note with where it comes from.
type NoteAt struct {
	Entry
	Note
}

// Fold adds up a set of events of one visit. Two events with one id are the
// same event; the order of the events means nothing.
func Fold(events []Event) Docket {
	standing := standing(events)
	d := Docket{Work: []Span{}, Tallies: []Tally{}}
	var counts counts
	for _, e := range standing {
		d.Last = e.At
		d.milestone(e)
		d.take(e)
		counts.take(e)
		if !slices.Contains(d.People, e.Person) && e.Person != "" {
			d.People = append(d.People, e.Person)
		}
	}
	slices.Sort(d.People)
	d.Work = spans(standing)
	if d.Running() {
		d.Finished = time.Time{}
	}
	d.Tallies, d.Below = counts.tallies()
	return d
}

// standing is each event once, in order of time, without those struck out.
func standing(events []Event) []Event {
	struck := map[booking.ID]bool{}
	for _, e := range events {
		if s, ok := e.What.(Strike); ok {
			struck[s.Event] = true
		}
	}
	seen := map[booking.ID]bool{}
	var left []Event
	for _, e := range events {
		if !seen[e.ID] && (!struck[e.ID] || e.Kind == StruckOut) {
			left = append(left, e)
		}
		seen[e.ID] = true
	}
	slices.SortFunc(left, inTime)
	return left
}

func inTime(a, b Event) int { return cmp.Or(a.At.Compare(b.At), cmp.Compare(a.ID, b.ID)) }

// take notes what is kept one by one.
func (d *Docket) take(e Event) {
	from := Entry{Event: e.ID, At: e.At, Person: e.Person}
	switch what := e.What.(type) {
	case Treatment:
		d.Treatments = append(d.Treatments, TreatmentAt{from, what})
	case Incident:
		d.Incidents = append(d.Incidents, IncidentAt{from, what})
	case Note:
		d.Notes = append(d.Notes, NoteAt{from, what})
	case NewMob:
		d.Added = append(d.Added, what)
	case Hands:
		d.Hands = &what
	case Signature:
		d.Signature, d.SignedAt = &what, e.At
	}
}
