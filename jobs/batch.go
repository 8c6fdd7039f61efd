package jobs

import (
	"encoding/json"
	"maps"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"drawbar/booking"
	"drawbar/booking/fault"
)

// Answer is what became of one event of a batch.
type Answer struct {
	ID     booking.ID `json:"id"` // as it was sent
	Result Result     `json:"result"`
	Why    string     `json:"why,omitempty"` // for a refused one, sentences
}

// Result of sending an event.
type Result string

// The results. A phone may forget an event that is accepted or already had.
const (
	Accepted   Result = "accepted"
	AlreadyHad Result = "already had"
	Refused    Result = "refused"
)

// MaxBatch is how many events are taken in one go.
const MaxBatch = 500

// Batch is the events that were sent for one visit, each either read or
// refused, in the order they were sent.
type Batch struct {
	events  []Event  // zero where the answer is a refusal
	answers []Answer // Result "" where an event waits to be stored
}

// ParseBatch reads {"events": […]} for a visit. An event that cannot be used
// is refused by itself; only a text that is no batch at all is an error.
func ParseBatch(data []byte, visit booking.ID, now time.Time) (Batch, error) {
	var sent struct {
		Events []json.RawMessage `json:"events"`
	}
	if err := strict(data, &sent); err != nil {
		return Batch{}, fault.Wrap(fault.Invalid, err, `This is not a batch of events; send {"events": [ … ]}.`)
	}
	if len(sent.Events) > MaxBatch {
		return Batch{}, fault.Newf(fault.TooLarge, "Send at most %d events at once.", MaxBatch)
	}
	b := NewBatch()
	for _, raw := range sent.Events {
		b.add(raw, visit, now)
	}
	return b, nil
}

// NewBatch is a batch of events that are known to be sound.
func NewBatch(events ...Event) Batch {
	b := Batch{}
	for _, e := range events {
		b.events = append(b.events, e)
		b.answers = append(b.answers, Answer{ID: e.ID})
	}
	return b
}

func (b *Batch) add(raw json.RawMessage, visit booking.ID, now time.Time) {
	e, err := parseEvent(raw, visit, now)
	answer := Answer{ID: e.ID}
	if err != nil {
		answer = Answer{ID: sentID(raw), Result: Refused, Why: why(err)}
		e = Event{}
	}
	b.events, b.answers = append(b.events, e), append(b.answers, answer)
}

func parseEvent(raw json.RawMessage, visit booking.ID, now time.Time) (Event, error) {
	var e Event
	if err := json.Unmarshal(raw, &e); err != nil {
		return e, fault.Wrap(fault.Invalid, err, "The event could not be read.")
	}
	if e.VisitID == "" {
		e.VisitID = visit
	}
	if e.VisitID != visit {
		return e, fault.New(fault.Invalid, "The event belongs to another visit.")
	}
	return e, e.Check(now)
}

// sentID is the id of an event that could not be read, so the phone can find
// it again; "" where there is none.
func sentID(raw json.RawMessage) booking.ID {
	var e struct {
		ID string `json:"id"`
	}
	if json.Unmarshal(raw, &e) != nil || len(e.ID) > maxDevice || !utf8.ValidString(e.ID) {
		return ""
	}
	return booking.ID(e.ID)
}

// why joins what is wrong into sentences, field by field.
func why(err error) string {
	fields := fault.FieldsOf(err)
	if len(fields) == 0 {
		return fault.Sentence(err)
	}
	var sentences []string
	for _, name := range slices.Sorted(maps.Keys(fields)) {
		sentences = append(sentences, fields[name])
	}
	return strings.Join(sentences, " ")
}

// Sound are the events to store, without repeats.
func (b Batch) Sound() []Event {
	var sound []Event
	seen := map[booking.ID]bool{}
	for i, a := range b.answers {
		if a.Result == "" && !seen[a.ID] {
			sound = append(sound, b.events[i])
			seen[a.ID] = true
		}
	}
	return sound
}

// Answered fills in what became of the sound events and gives the answers in
// the order of sending. An event sent twice in the batch gets the same answer
// twice.
func (b Batch) Answered(stored map[booking.ID]Answer) []Answer {
	all := slices.Clone(b.answers)
	for i, a := range all {
		if a.Result == "" {
			all[i] = stored[a.ID]
		}
	}
	return all
}
