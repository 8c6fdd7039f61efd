package jobs

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"slices"
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"

	"cloud.google.com/go/civil"
	"github.com/go-json-experiment/json/jsontext"
)

// SignedDocket is a docket as it stood when the farmer signed, with the names
// of that day. It never changes; a wrong one is superseded by another.
type SignedDocket struct {
	ID         booking.ID   `json:"id"`
	VisitID    booking.ID   `json:"visit"`
	BookingID  booking.ID   `json:"booking"`
	Number     int          `json:"number"` // of the booking
	FarmID     booking.ID   `json:"farm"`
	YardID     booking.ID   `json:"yard"`
	RigID      booking.ID   `json:"rig"`
	Day        civil.Date   `json:"day"` // of the visit, by the business's calendar
	Names      Names        `json:"names"`
	Mobs       []MobLine    `json:"mobs"`
	Lines      []Line       `json:"lines"`
	Minutes    int          `json:"minutes"` // on site, until signing or what was recorded last
	Docket     Docket       `json:"docket"`
	Doubts     []string     `json:"doubts,omitempty"` // what did not add up when it was signed
	Signed     time.Time    `json:"signed"`           // by the server's clock
	Supersedes booking.ID   `json:"supersedes,omitempty"`
	Reason     string       `json:"reason,omitempty"`  // of a correction
	By         booking.ID   `json:"by,omitempty"`      // who made the correction
	Changed    []Tally      `json:"changed,omitempty"` // heads set by this correction and those before it
	TookIn     []booking.ID `json:"tookIn,omitempty"`  // events after signing that corrections took in
	Hash       string       `json:"-"`                 // SHA-256 of the sealed text, hexadecimal
	Superseded booking.ID   `json:"-"`                 // by this later docket; "" where it stands
}

// Names are what things were called on the day.
type Names struct {
	Farm    string                `json:"farm"`
	Yard    string                `json:"yard"`
	Rig     string                `json:"rig"`
	Address string                `json:"address,omitempty"` // of the farm
	People  map[booking.ID]string `json:"people,omitempty"`
	Service map[string]string     `json:"service,omitempty"` // by code
}

// MobLine is a mob on a signed docket.
type MobLine struct {
	ID     booking.ID    `json:"id"`
	Class  booking.Class `json:"class"` // "" for a mob that had gone from the booking
	Booked int           `json:"booked"`
	Worked int           `json:"worked"`
}

// Line is what is billed: a service done to head of a class, over all gates.
type Line struct {
	Mob     booking.ID    `json:"mob"`
	Class   booking.Class `json:"class"`
	Service string        `json:"service"`
	Head    int           `json:"head"`
}

// Freeze makes the docket that is kept of a visit. It has no id until it is
// stored.
func Freeze(d Docket, s Sheet, names Names, signed time.Time) SignedDocket {
	v := s.Visit
	frozen := SignedDocket{
		VisitID: v.ID, BookingID: v.BookingID, Number: s.Number, FarmID: v.FarmID, YardID: v.YardID, RigID: v.RigID, Day: v.Day,
		Names: names, Minutes: int(d.OnSite().Minutes()), Docket: d, Doubts: Reconcile(d, s), Signed: signed,
	}
	frozen.setLines(s.AllMobs(d))
	return frozen
}

// setLines derives the mobs and lines from the tallies.
func (s *SignedDocket) setLines(mobs []booking.Mob) {
	s.Mobs, s.Lines = []MobLine{}, []Line{}
	for _, id := range s.Docket.mobs() {
		if classOf(mobs, id) == "" {
			mobs = append(mobs, booking.Mob{ID: id})
		}
	}
	for _, m := range mobs {
		s.Mobs = append(s.Mobs, MobLine{ID: m.ID, Class: m.Class, Booked: m.Head, Worked: s.Docket.MobHead(m.ID)})
		for _, code := range s.Docket.servicesOf(m.ID) {
			s.Lines = append(s.Lines, Line{Mob: m.ID, Class: m.Class, Service: code, Head: s.Docket.Done(m.ID, code)})
		}
	}
}

// Has tells whether an event that arrived after signing was taken in.
func (s SignedDocket) Has(late Event) bool { return slices.Contains(s.TookIn, late.ID) }

// Head is the head worked over all mobs.
func (s SignedDocket) Head() int { return s.Docket.Head() }

// Seal writes the docket in RFC 8785 form and sets its hash to the SHA-256 of
// that text. The text is what is kept.
func (s *SignedDocket) Seal() ([]byte, error) {
	text, err := json.Marshal(s)
	if err != nil {
		return nil, err
	}
	value := jsontext.Value(text)
	if err := value.Canonicalize(); err != nil {
		return nil, err
	}
	s.Hash = hashOf(value)
	return value, nil
}

// Unseal reads a sealed text and refuses one that is not what was sealed.
func Unseal(text []byte, hash string) (SignedDocket, error) {
	var s SignedDocket
	if hashOf(text) != hash {
		return s, fault.New(fault.Internal, "A signed docket does not match its hash: the database was changed by hand.")
	}
	d := json.NewDecoder(bytes.NewReader(text))
	if err := d.Decode(&s); err != nil {
		return s, err
	}
	s.Hash = hash
	return s, nil
}

func hashOf(text []byte) string {
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:])
}
