package store

import (
	"context"
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"

	"gorm.io/gorm"
)

type visitRow struct {
	ID        booking.ID `gorm:"primaryKey"`
	BookingID booking.ID
	FarmID    booking.ID
	YardID    booking.ID
	RigID     booking.ID
	Day       string
	Part      int
	Parts     int
	Head      int
	State     booking.VisitState
	StartsAt  int64
	EndsAt    int64
	SetUp     int64 // seconds, as the four below
	Work      int64
	WorkLong  int64
	PackDown  int64
	WashDown  int64
	Overnight bool
	Lodged    bool
	Version   int
}

func (visitRow) TableName() string                  { return "visits" }
func (r *visitRow) key() (column string, value any) { return "id", r.ID }
func (r *visitRow) count() *int                     { return &r.Version }
func (*visitRow) kind() string                      { return "visit" }

func (r visitRow) domain() booking.Visit {
	return booking.Visit{
		ID: r.ID, BookingID: r.BookingID, FarmID: r.FarmID, YardID: r.YardID, RigID: r.RigID, Day: dateOf(r.Day),
		Part: r.Part, Parts: r.Parts, Head: r.Head, State: r.State, Arrive: instant(r.StartsAt),
		SetUp: seconds(r.SetUp), Work: seconds(r.Work), WorkLong: seconds(r.WorkLong),
		PackDown: seconds(r.PackDown), WashDown: seconds(r.WashDown), Overnight: r.Overnight, Lodged: r.Lodged, Version: r.Version,
	}
}

// visitRowOf holds the rig until the visit leaves by the durations that are
// kept, not by those that were given: what is read back must not overlap.
func visitRowOf(v booking.Visit) visitRow {
	row := visitRow{
		ID: v.ID, BookingID: v.BookingID, FarmID: v.FarmID, YardID: v.YardID, RigID: v.RigID, Day: v.Day.String(),
		Part: v.Part, Parts: v.Parts, Head: v.Head, State: v.State, StartsAt: millis(v.Arrive),
		SetUp: wholeSeconds(v.SetUp), Work: wholeSeconds(v.Work), WorkLong: wholeSeconds(v.WorkLong),
		PackDown: wholeSeconds(v.PackDown), WashDown: wholeSeconds(v.WashDown), Overnight: v.Overnight, Lodged: v.Lodged, Version: v.Version,
	}
	row.EndsAt = millis(row.domain().Leave())
	return row
}

func seconds(n int64) time.Duration { return time.Duration(n) * time.Second }

func wholeSeconds(d time.Duration) int64 { return int64(d.Round(time.Second) / time.Second) }

const mostVisits = 20_000

// Visits picks visits in order of arrival.
func (s *Store) Visits(ctx context.Context, q booking.VisitQuery) ([]booking.Visit, error) {
	return read(ctx, s.db, visitRow.domain, func(tx *gorm.DB) *gorm.DB {
		if q.From.IsValid() {
			tx = tx.Where("day >= ?", q.From.String())
		}
		if q.To.IsValid() {
			tx = tx.Where("day <= ?", q.To.String())
		}
		for column, id := range map[string]booking.ID{"rig_id": q.RigID, "farm_id": q.FarmID, "booking_id": q.BookingID} {
			if id != "" {
				tx = tx.Where(column+" = ?", id)
			}
		}
		if len(q.States) > 0 {
			tx = tx.Where("state IN ?", q.States)
		}
		return tx.Order("starts_at, id").Limit(limit(q.Limit, 5000, mostVisits))
	})
}

// Visit by id.
func (s *Store) Visit(ctx context.Context, id booking.ID) (booking.Visit, error) {
	return one(ctx, s.db, "visit", visitRow.domain, byID(id))
}

// ApplyPlan stores a set of visits at once, or none, see booking.Store.
func (s *Store) ApplyPlan(ctx context.Context, change booking.PlanChange) error {
	var saved written
	err := s.write(ctx, func(tx *gorm.DB) error {
		saved = written{}
		if err := restsOn(tx, change.RestsOn); err != nil {
			return err
		}
		if err := restsOnDays(tx, change.Days); err != nil {
			return err
		}
		if err := s.move(tx, &saved, change); err != nil {
			return err
		}
		if err := s.tell(tx, change.Links, change.Notices); err != nil {
			return err
		}
		if err := s.account(ctx, tx, change, saved); err != nil {
			return err
		}
		return s.recordPlan(ctx, tx, change)
	})
	if err == nil {
		saved.handBack(change.Bookings, change.Save)
	}
	return err
}

// move stores the visits and bookings of a plan.
func (s *Store) move(tx *gorm.DB, saved *written, change booking.PlanChange) error {
	if err := dropVisits(tx, change.Drop); err != nil {
		return err
	}
	if err := saved.saveVisits(tx, change.Save); err != nil {
		return err
	}
	return saved.saveBookings(tx, change.Bookings)
}

// account keeps what was accepted, or that it is undone.
func (s *Store) account(ctx context.Context, tx *gorm.DB, change booking.PlanChange, saved written) error {
	if change.Undo != "" {
		if err := s.undo(tx, change.Undo); err != nil {
			return err
		}
	}
	if change.Accept == nil {
		return nil
	}
	for _, v := range change.Drop {
		v.State, v.Version = booking.CalledOff, v.Version+1
		saved.visits = append(saved.visits, v)
	}
	return s.accept(ctx, tx, *change.Accept, saved)
}

// visitIsOld says that a visit is not as whoever moves it saw it.
const visitIsOld = "A visit has changed since you looked. Nothing was moved; look again, or plan again to take the change in."

func (s *Store) recordPlan(ctx context.Context, tx *gorm.DB, change booking.PlanChange) error {
	if len(change.Save) == 1 && len(change.Drop) == 0 {
		return s.record(ctx, tx, change.Verb, "visit", change.Save[0].ID, change.Detail)
	}
	return s.record(ctx, tx, change.Verb, "plan", "", change.Detail)
}

// dropVisits takes pencilled visits out. They stay as called off: a phone that
// was there without signal may still bring events for them.
func dropVisits(tx *gorm.DB, visits []booking.Visit) error {
	for _, v := range visits {
		result := tx.Where("id = ? AND version = ? AND state = ?", v.ID, v.Version, booking.Pencilled).Model(&visitRow{}).
			Updates(map[string]any{"state": booking.CalledOff, "version": gorm.Expr("version + 1")})
		if result.Error != nil {
			return result.Error
		}
		if result.RowsAffected == 0 {
			return fault.New(fault.Conflict, visitIsOld)
		}
	}
	return nil
}

// written holds what a transaction stored until it is known to have gone
// through.
type written struct {
	bookings []booking.Booking
	visits   []booking.Visit
}

// saveVisits stores visits. Those that are there already first let go of
// their time, so that a set of visits may change places.
func (w *written) saveVisits(tx *gorm.DB, visits []*booking.Visit) error {
	for _, v := range visits {
		if v.Version == 0 {
			continue
		}
		if err := tx.Model(&visitRow{}).Where("id = ?", v.ID).Update("state", booking.CalledOff).Error; err != nil {
			return err
		}
	}
	for _, v := range visits {
		if v.ID == "" {
			v.ID = booking.NewID()
		}
		row := visitRowOf(*v)
		err := save(tx, &row)
		if fault.Is(err, fault.NotFound) { // dropped by a plan meanwhile
			return fault.Wrap(fault.Conflict, err, visitIsOld)
		}
		if err != nil {
			return err
		}
		w.visits = append(w.visits, row.domain())
	}
	return nil
}

func (w *written) saveBookings(tx *gorm.DB, bookings []*booking.Booking) error {
	for _, b := range bookings {
		changed := *b
		if err := saveBooking(tx, &changed); err != nil {
			return err
		}
		w.bookings = append(w.bookings, changed)
	}
	return nil
}

// handBack gives the caller the new versions.
func (w *written) handBack(bookings []*booking.Booking, visits []*booking.Visit) {
	for i, b := range w.bookings {
		*bookings[i] = b
	}
	for i, v := range w.visits {
		*visits[i] = v
	}
}
