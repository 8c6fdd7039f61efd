package store

import (
	"context"

	"drawbar/booking"
	"drawbar/booking/fault"

	"gorm.io/gorm"
)

type acceptanceRow struct {
	ID             booking.ID `gorm:"primaryKey"`
	PlanningID     booking.ID
	At             int64
	ActorKind      booking.ActorKind
	ActorID        booking.ID
	ActorName      string
	Says           string
	Units          []booking.ID    `gorm:"serializer:json"`
	VisitsBefore   []booking.Visit `gorm:"serializer:json"`
	VisitsAfter    []booking.Visit `gorm:"serializer:json"`
	BookingsBefore []bookingRow    `gorm:"serializer:json"` // rows keep days that may be missing
	BookingsAfter  []bookingRow    `gorm:"serializer:json"`
	Undone         int64
}

func (acceptanceRow) TableName() string { return "acceptances" }

func (r acceptanceRow) domain() booking.Acceptance {
	return booking.Acceptance{
		ID: r.ID, Planning: r.PlanningID, At: instant(r.At), Who: booking.Actor{Kind: r.ActorKind, ID: r.ActorID, Name: r.ActorName},
		Says: r.Says, Units: r.Units, Before: r.VisitsBefore, After: r.VisitsAfter, Was: bookingsOf(r.BookingsBefore), Left: bookingsOf(r.BookingsAfter), Undone: instant(r.Undone),
	}
}

// rowsOf are bookings with their mobs, as rows.
func rowsOf(bookings []booking.Booking) []bookingRow {
	rows := make([]bookingRow, len(bookings))
	for i, b := range bookings {
		rows[i] = bookingRowOf(b)
		for position, m := range b.Mobs {
			rows[i].Mobs = append(rows[i].Mobs, mobRowOf(b.ID, position, m))
		}
	}
	return rows
}

func bookingsOf(rows []bookingRow) []booking.Booking {
	bookings := make([]booking.Booking, len(rows))
	for i, r := range rows {
		bookings[i] = r.domain()
	}
	return bookings
}

// Acceptances of a planning, or of all, newest first.
func (s *Store) Acceptances(ctx context.Context, planning booking.ID) ([]booking.Acceptance, error) {
	return read(ctx, s.db, acceptanceRow.domain, func(tx *gorm.DB) *gorm.DB {
		if planning != "" {
			tx = tx.Where("planning_id = ?", planning)
		}
		return tx.Order("at DESC, id DESC").Limit(100)
	})
}

// accept stores an acceptance with the visits and bookings as the transaction
// leaves them.
func (s *Store) accept(ctx context.Context, tx *gorm.DB, a booking.Acceptance, left written) error {
	who := booking.ActorOf(ctx)
	return tx.Create(&acceptanceRow{
		ID: booking.NewID(), PlanningID: a.Planning, At: millis(s.now()), ActorKind: who.Kind, ActorID: who.ID, ActorName: who.Name,
		Says: a.Says, Units: list(a.Units), VisitsBefore: list(a.Before), VisitsAfter: list(left.visits),
		BookingsBefore: rowsOf(a.Was), BookingsAfter: rowsOf(left.bookings),
	}).Error
}

// undo marks an acceptance as undone, once.
func (s *Store) undo(tx *gorm.DB, id booking.ID) error {
	done := tx.Model(&acceptanceRow{}).Where("id = ? AND undone = 0", id).Update("undone", millis(s.now()))
	if done.Error == nil && done.RowsAffected == 0 {
		return fault.New(fault.Conflict, "This has been undone already. Nothing was moved.")
	}
	return done.Error
}
