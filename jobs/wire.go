package jobs

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"time"

	"drawbar/booking"
)

// wireEvent is an event as a phone sends it. Who was signed in and when it
// was received are the server's to say.
type wireEvent struct {
	ID     booking.ID      `json:"id"`
	Visit  booking.ID      `json:"visit"`
	Device string          `json:"device"`
	Seq    int             `json:"seq"`
	At     time.Time       `json:"at"`
	Kind   Kind            `json:"kind"`
	What   json.RawMessage `json:"what,omitempty"`
}

// MarshalJSON writes the event as a phone sends it.
func (e Event) MarshalJSON() ([]byte, error) {
	w := wireEvent{ID: e.ID, Visit: e.VisitID, Device: e.Device, Seq: e.Seq, At: e.At, Kind: e.Kind}
	if e.What != nil {
		what, err := json.Marshal(e.What)
		if err != nil {
			return nil, err
		}
		w.What = what
	}
	return json.Marshal(w)
}

// UnmarshalJSON reads an event as a phone sends it, refusing members it does
// not know.
func (e *Event) UnmarshalJSON(data []byte) error {
	var w wireEvent
	if err := strict(data, &w); err != nil {
		return err
	}
	what, err := DecodePayload(w.Kind, w.What)
	if err != nil {
		return err
	}
	*e = Event{ID: w.ID, VisitID: w.Visit, Device: w.Device, Seq: w.Seq, At: w.At.UTC().Truncate(time.Millisecond), Kind: w.Kind, What: what}
	return nil
}

// payloads says how the payload of each kind is read; nil for those that
// have none.
var payloads = map[Kind]func([]byte) (Payload, error){
	Arrived: nil, SetUp: nil, Started: nil, Paused: nil, Resumed: nil, Finished: nil, Packed: nil, Left: nil,
	Counted: read[Count], Treated: read[Treatment], Noted: read[Note], Happened: read[Incident],
	AddedMob: read[NewMob], SignedFor: read[Signature], StruckOut: read[Strike],
	HandsTold: read[Hands],
}

func read[P Payload](data []byte) (Payload, error) {
	var p P
	err := strict(data, &p)
	return p, err
}

var errSilent = errors.New("an event of this kind has nothing more to say")

// DecodePayload reads what an event of a kind says. Unknown kinds give nil,
// for Event.Check to refuse.
func DecodePayload(kind Kind, data []byte) (Payload, error) {
	none := len(data) == 0 || string(data) == "null"
	decode := payloads[kind]
	switch {
	case none:
		return nil, nil
	case decode == nil:
		if _, known := payloads[kind]; known {
			return nil, errSilent
		}
		return nil, nil
	}
	return decode(data)
}

// strict reads exactly one value and no unknown members.
func strict(data []byte, into any) error {
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		return err
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return errors.New("more than one value")
	}
	return nil
}
