package store

import (
	"errors"

	"drawbar/booking"

	"gorm.io/gorm"
)

// Around is a visit with all that belongs to it.
type Around struct {
	Visit    booking.Visit
	Booking  booking.Booking
	Farm     booking.Farm
	Yard     booking.Yard
	Rig      booking.Rig
	Services map[string]booking.Service
}

// ReadAround reads a visit in the transaction of another store.
func ReadAround(tx *gorm.DB, visit booking.ID) (a Around, err error) {
	if a.Visit, err = within(tx, "visit", visitRow.domain, visit); err != nil {
		return a, err
	}
	var services []serviceRow
	steps := []func() error{
		func() error {
			a.Booking, err = within(withMobs(tx), "booking", bookingRow.domain, a.Visit.BookingID)
			return err
		},
		func() error { a.Farm, err = within(tx, "farm", farmRow.domain, a.Visit.FarmID); return err },
		func() error { a.Yard, err = within(tx, "yard", yardRow.domain, a.Visit.YardID); return err },
		func() error { a.Rig, err = within(tx, "rig", rigRow.domain, a.Visit.RigID); return err },
		func() error { return tx.Find(&services).Error },
	}
	for _, step := range steps {
		if err := step(); err != nil {
			return a, err
		}
	}
	a.Services = make(map[string]booking.Service, len(services))
	for _, s := range services {
		a.Services[s.Code] = s.domain()
	}
	return a, nil
}

// within reads one row by id.
func within[R, D any](tx *gorm.DB, what string, domain func(R) D, id booking.ID) (D, error) {
	var row R
	err := tx.Where("id = ?", id).Take(&row).Error
	if errors.Is(err, gorm.ErrRecordNotFound) {
		err = notFound(what)
	}
	return domain(row), err
}

// NamesOf are the names of people, in the transaction of another store.
func NamesOf(tx *gorm.DB, people []booking.ID) (map[booking.ID]string, error) {
	var rows []personRow
	err := tx.Where("id IN ?", people).Find(&rows).Error
	names := make(map[booking.ID]string, len(rows))
	for _, r := range rows {
		names[r.ID] = r.Name
	}
	return names, err
}

// SetVisitState moves a visit on, in the transaction of another store.
func SetVisitState(tx *gorm.DB, id booking.ID, state booking.VisitState) error {
	return tx.Model(&visitRow{}).Where("id = ?", id).Updates(map[string]any{"state": state, "version": gorm.Expr("version + 1")}).Error
}

// FinishBooking marks a booking done when all its live visits are signed off,
// in the transaction of another store.
func FinishBooking(tx *gorm.DB, id booking.ID) error {
	var open int64
	err := tx.Model(&visitRow{}).Where("booking_id = ? AND state NOT IN ?", id, []booking.VisitState{booking.SignedOff, booking.CalledOff}).Count(&open).Error
	if err != nil || open > 0 {
		return err
	}
	return tx.Model(&bookingRow{}).Where("id = ?", id).Updates(map[string]any{"state": booking.Done, "version": gorm.Expr("version + 1")}).Error
}
