package booking

import (
	"context"
	"time"

	"cloud.google.com/go/civil"
)

// Store keeps everything of this package. Each method is one transaction.
// Getting something unknown is fault.NotFound; saving an old Version is
// fault.Conflict. Save methods insert for Version 0 and fill in the id, and
// count Version up otherwise. Every change is written to the record in the
// same transaction, under the actor of the context.
type Store interface {
	Business(ctx context.Context) (Business, error) // NotFound before set-up
	SaveBusiness(ctx context.Context, b *Business) error

	People(ctx context.Context) ([]Person, error)
	Person(ctx context.Context, id ID) (Person, error)
	PersonByEmail(ctx context.Context, email string) (Person, error)
	SavePerson(ctx context.Context, p *Person) error             // Invalid when no active owner would be left
	PasswordHash(ctx context.Context, person ID) (string, error) // "" for none
	SetPasswordHash(ctx context.Context, person ID, hash string) error

	Farms(ctx context.Context) ([]Farm, error) // by name
	Farm(ctx context.Context, id ID) (Farm, error)
	FarmsByEmail(ctx context.Context, email string) ([]Farm, error)
	SaveFarm(ctx context.Context, f *Farm) error
	Yards(ctx context.Context, farm ID) ([]Yard, error) // of every farm for ""
	Yard(ctx context.Context, id ID) (Yard, error)
	SaveYard(ctx context.Context, y *Yard) error

	Rigs(ctx context.Context) ([]Rig, error) // by name
	Rig(ctx context.Context, id ID) (Rig, error)
	SaveRig(ctx context.Context, r *Rig) error
	DaysOff(ctx context.Context, from, to civil.Date) ([]DayOff, error)
	SaveDayOff(ctx context.Context, days ...DayOff) error // all or none; replaces the reason
	DropDayOff(ctx context.Context, rig ID, day civil.Date) error

	Services(ctx context.Context) ([]Service, error) // by position
	SaveService(ctx context.Context, s *Service) error

	BaseTimes(ctx context.Context) ([]BaseTime, error) // the business's own, by key
	SaveBaseTime(ctx context.Context, b *BaseTime) error
	DropBaseTime(ctx context.Context, b BaseTime) error // Conflict on an old Version
	// PaceModel is the newest one; of Version 0 where there is none.
	PaceModel(ctx context.Context) (PaceModel, error)
	PaceVersion(ctx context.Context) (int, error)
	// KeepPaceModel stores a model as the next Version and lets go of old ones;
	// of two at the same moment one may get Conflict. It is not written to the
	// record: a model changes nothing that people have entered.
	KeepPaceModel(ctx context.Context, m *PaceModel) error

	Bookings(ctx context.Context, q BookingQuery) ([]Booking, error)
	Booking(ctx context.Context, id ID) (Booking, error)
	// AddBooking stores a booking with, where they are new (Version 0), its
	// farm and yard, the links that open it and the notices about it.
	AddBooking(ctx context.Context, add NewBooking) error
	// ChangeBooking stores a changed booking, the visits the change touches
	// and the notices about it.
	ChangeBooking(ctx context.Context, change BookingChange) error

	Visits(ctx context.Context, q VisitQuery) ([]Visit, error)
	Visit(ctx context.Context, id ID) (Visit, error)
	// ApplyPlan stores a set of visits at once, or none: fault.Conflict when
	// anything it rests on has changed since it was made.
	ApplyPlan(ctx context.Context, change PlanChange) error

	AddLink(ctx context.Context, link Link, notices ...Notice) error
	// OpenLink finds a link that is good at the time: NotFound for none,
	// Expired for one that is used up or too old.
	OpenLink(ctx context.Context, hash [32]byte, purpose LinkPurpose, now time.Time) (Link, error)
	// SpendLink is OpenLink that also uses up a Once link; of two at the same
	// moment one gets Expired.
	SpendLink(ctx context.Context, hash [32]byte, purpose LinkPurpose, now time.Time) (Link, error)

	Changes(ctx context.Context, q ChangeQuery) ([]Change, error)

	Plannings
}

// NewBooking is what AddBooking stores together.
type NewBooking struct {
	Farm    *Farm // stored when its Version is 0
	Yard    *Yard // stored when its Version is 0
	Booking *Booking
	Links   []Link
	Notices []Notice
}

// BookingChange is what ChangeBooking stores together.
type BookingChange struct {
	Booking *Booking
	Visits  []*Visit
	Links   []Link
	Notices []Notice
	Verb    string // for the record, in the past tense
	Detail  string
}

// PlanChange is what ApplyPlan stores together.
type PlanChange struct {
	Save     []*Visit   // new for Version 0
	Bookings []*Booking // their state or attention changed
	Drop     []Visit    // pencilled visits that are taken out; Version is checked
	RestsOn  map[ID]int // what the plan saw, by id with the Version; see BusinessID
	Days     *SeenDays  // the days the plan saw; nil for none
	Accept   *Acceptance
	Undo     ID // the acceptance that this undoes; "" for none
	Links    []Link
	Notices  []Notice
	Verb     string
	Detail   string
}

// SeenDays is what a span of days held when a plan was made.
type SeenDays struct {
	From, To civil.Date // both included
	Off      []DayOff
	Visits   []ID // live ones
}

// BusinessID names the business in RestsOn. Bookings, yards, farms, rigs,
// people and visits go by their id there, services by their code.
const BusinessID ID = "business"
