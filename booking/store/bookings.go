package store

import (
	"context"

	"drawbar/booking"
	"drawbar/migrations/db"

	"cloud.google.com/go/civil"
	"gorm.io/gorm"
)

type bookingRow struct {
	ID        booking.ID `gorm:"primaryKey"`
	Number    int
	FarmID    booking.ID
	YardID    booking.ID
	State     booking.State
	Windows   []booking.Window `gorm:"serializer:json"`
	Priority  booking.Priority
	Note      string
	Attention string
	Created   int64
	Version   int
	Mobs      []mobRow `gorm:"foreignKey:BookingID"`
}

func (bookingRow) TableName() string                  { return "bookings" }
func (r *bookingRow) key() (column string, value any) { return "id", r.ID }
func (r *bookingRow) count() *int                     { return &r.Version }
func (*bookingRow) kind() string                      { return "booking" }

func (r bookingRow) domain() booking.Booking {
	b := booking.Booking{
		ID: r.ID, Number: r.Number, FarmID: r.FarmID, YardID: r.YardID, State: r.State, Windows: r.Windows,
		Priority: r.Priority, Note: r.Note, Attention: r.Attention, Created: instant(r.Created), Version: r.Version,
	}
	for _, m := range r.Mobs {
		b.Mobs = append(b.Mobs, m.domain())
	}
	return b
}

func bookingRowOf(b booking.Booking) bookingRow {
	return bookingRow{
		ID: b.ID, Number: b.Number, FarmID: b.FarmID, YardID: b.YardID, State: b.State, Windows: list(b.Windows),
		Priority: b.Priority, Note: b.Note, Attention: b.Attention, Created: millis(b.Created), Version: b.Version,
	}
}

type mobRow struct {
	ID         booking.ID `gorm:"primaryKey"`
	BookingID  booking.ID
	Position   int
	Species    booking.Species
	Class      booking.Class
	Head       int
	MixedSizes bool
	Horned     bool
	FullWool   bool
	NewToCrate bool
	AtFoot     bool
	Services   []string `gorm:"serializer:json"`
	MalesIn    string
	MalesOut   string
	Weights    []booking.WeightClass `gorm:"serializer:json"`
}

func (mobRow) TableName() string { return "mobs" }

func (r mobRow) domain() booking.Mob {
	return booking.Mob{
		ID: r.ID, Species: r.Species, Class: r.Class, Head: r.Head, MixedSizes: r.MixedSizes, Horned: r.Horned,
		FullWool: r.FullWool, NewToCrate: r.NewToCrate, AtFoot: r.AtFoot, Services: r.Services,
		MalesIn: dateOf(r.MalesIn), MalesOut: dateOf(r.MalesOut), Weights: orNone(r.Weights),
	}
}

func mobRowOf(of booking.ID, position int, m booking.Mob) mobRow {
	return mobRow{
		ID: m.ID, BookingID: of, Position: position, Species: m.Species, Class: m.Class, Head: m.Head, MixedSizes: m.MixedSizes,
		Horned: m.Horned, FullWool: m.FullWool, NewToCrate: m.NewToCrate, AtFoot: m.AtFoot, Services: list(m.Services),
		MalesIn: dateText(m.MalesIn), MalesOut: dateText(m.MalesOut), Weights: list(m.Weights),
	}
}

// dateText keeps a day that may be missing; "" for none.
func dateText(d civil.Date) string {
	if !d.IsValid() {
		return ""
	}
	return d.String()
}

func dateOf(text string) civil.Date {
	d, _ := civil.ParseDate(text) // "" and nothing else fails: dateText wrote it
	return d
}

const mostBookings = 10_000

// Bookings picks bookings with their mobs, oldest first.
func (s *Store) Bookings(ctx context.Context, q booking.BookingQuery) ([]booking.Booking, error) {
	return read(ctx, s.db, bookingRow.domain, func(tx *gorm.DB) *gorm.DB {
		if q.FarmID != "" {
			tx = tx.Where("farm_id = ?", q.FarmID)
		}
		if len(q.States) > 0 {
			tx = tx.Where("state IN ?", q.States)
		}
		if q.IDs != nil {
			tx = tx.Where("id IN ?", q.IDs)
		}
		return withMobs(tx).Order("number").Limit(limit(q.Limit, 1000, mostBookings))
	})
}

func withMobs(tx *gorm.DB) *gorm.DB {
	return tx.Preload("Mobs", func(tx *gorm.DB) *gorm.DB { return tx.Order("position") })
}

// Booking by id, with its mobs.
func (s *Store) Booking(ctx context.Context, id booking.ID) (booking.Booking, error) {
	return one(ctx, s.db, "booking", bookingRow.domain, func(tx *gorm.DB) *gorm.DB { return withMobs(byID(id)(tx)) })
}

// AddBooking stores a booking and all that belongs to it, see booking.Store.
func (s *Store) AddBooking(ctx context.Context, add booking.NewBooking) error {
	completeIDs(add)
	b := *add.Booking
	err := s.write(ctx, func(tx *gorm.DB) error {
		b = *add.Booking
		if err := queueForNumber(tx); err != nil {
			return err
		}
		if err := s.addHolding(ctx, tx, add); err != nil {
			return err
		}
		if err := nextNumber(tx, &b.Number); err != nil {
			return err
		}
		if err := saveBooking(tx, &b); err != nil {
			return err
		}
		if err := s.tell(tx, add.Links, add.Notices); err != nil {
			return err
		}
		return s.record(ctx, tx, "asked for", "booking", b.ID, bookingDetail(b))
	})
	if err != nil {
		return err
	}
	*add.Booking = b
	add.Farm.Version = max(1, add.Farm.Version)
	add.Yard.Version = max(1, add.Yard.Version)
	return nil
}

// completeIDs gives ids to what has none and ties the parts together.
func completeIDs(add booking.NewBooking) {
	for _, id := range []*booking.ID{&add.Farm.ID, &add.Yard.ID, &add.Booking.ID} {
		if *id == "" {
			*id = booking.NewID()
		}
	}
	add.Yard.FarmID = add.Farm.ID
	add.Booking.FarmID, add.Booking.YardID = add.Farm.ID, add.Yard.ID
	completeMobs(add.Booking)
}

func completeMobs(b *booking.Booking) {
	for i := range b.Mobs {
		if b.Mobs[i].ID == "" {
			b.Mobs[i].ID = booking.NewID()
		}
		b.Mobs[i].Species = b.Mobs[i].Class.Species()
	}
}

// addHolding stores the farm and the yard where they are new.
func (s *Store) addHolding(ctx context.Context, tx *gorm.DB, add booking.NewBooking) error {
	if add.Farm.Version == 0 {
		farm := farmRow(*add.Farm)
		if err := save(tx, &farm); err != nil {
			return err
		}
		if err := s.record(ctx, tx, "added", "farm", farm.ID, farm.Name); err != nil {
			return err
		}
	}
	if add.Yard.Version != 0 {
		return nil
	}
	yard := yardRowOf(*add.Yard)
	if err := save(tx, &yard); err != nil {
		return err
	}
	return s.record(ctx, tx, "added", "yard", yard.ID, yard.Name)
}

// queueForNumber lets those who want the next number wait in line. Without it
// PostgreSQL lets them all count, makes all but one start over, and a busy
// morning runs out of tries. It has to come first: only a transaction that
// has read nothing yet sees what those before it wrote. SQLite's writers
// stand in line anyway.
func queueForNumber(tx *gorm.DB) error {
	if tx.Dialector.Name() != db.Postgres {
		return nil
	}
	return tx.Exec("LOCK TABLE bookings IN SHARE ROW EXCLUSIVE MODE").Error
}

// nextNumber counts bookings up from 1.
func nextNumber(tx *gorm.DB, number *int) error {
	var last int
	err := tx.Model(&bookingRow{}).Select("COALESCE(MAX(number), 0)").Scan(&last).Error
	*number = last + 1
	return err
}

// saveBooking stores the booking, with its moment as it is kept, and replaces
// its mobs.
func saveBooking(tx *gorm.DB, b *booking.Booking) error {
	row := bookingRowOf(*b)
	if err := save(tx, &row); err != nil {
		return err
	}
	if err := tx.Where("booking_id = ?", b.ID).Delete(&mobRow{}).Error; err != nil {
		return err
	}
	mobs := make([]mobRow, len(b.Mobs))
	for i, m := range b.Mobs {
		mobs[i] = mobRowOf(b.ID, i, m)
	}
	b.Created, b.Version = instant(row.Created), row.Version
	if len(mobs) == 0 {
		return nil
	}
	return tx.Create(&mobs).Error
}

// bookingDetail is the booking in the record of changes.
func bookingDetail(b booking.Booking) string {
	text := ""
	for i, m := range b.Mobs {
		if i > 0 {
			text += ", "
		}
		text += m.Class.Count(m.Head)
	}
	return text
}

// ChangeBooking stores a changed booking and all that goes with it, see
// booking.Store.
func (s *Store) ChangeBooking(ctx context.Context, change booking.BookingChange) error {
	completeMobs(change.Booking)
	var saved written
	err := s.write(ctx, func(tx *gorm.DB) error {
		saved = written{}
		b := *change.Booking
		if err := saveBooking(tx, &b); err != nil {
			return err
		}
		saved.bookings = append(saved.bookings, b)
		if err := saved.saveVisits(tx, change.Visits); err != nil {
			return err
		}
		if err := s.tell(tx, change.Links, change.Notices); err != nil {
			return err
		}
		return s.record(ctx, tx, change.Verb, "booking", b.ID, change.Detail)
	})
	if err == nil {
		saved.handBack([]*booking.Booking{change.Booking}, change.Visits)
	}
	return err
}
