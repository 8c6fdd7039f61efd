package store

import (
	"context"
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/migrations/db"

	"gorm.io/gorm"
)

// Store is a booking.Store on an open database.
type Store struct {
	db   *db.DB
	now  func() time.Time
	wake Wake
}

// Wake is called in the transaction that stored work for others, so that
// somebody does it.
type Wake struct {
	Notices  func(tx *gorm.DB) error
	Planning func(tx *gorm.DB, id booking.ID) error
}

var _ booking.Store = (*Store)(nil)

// New makes a store. The clock stamps the record of changes; wake may be nil
// where nobody does the work.
func New(d *db.DB, now func() time.Time, wake *Wake) *Store {
	if wake == nil {
		wake = &Wake{
			Notices:  func(*gorm.DB) error { return nil },
			Planning: func(*gorm.DB, booking.ID) error { return nil },
		}
	}
	return &Store{db: d, now: now, wake: *wake}
}

// write runs fn in a transaction.
func (s *Store) write(ctx context.Context, fn func(tx *gorm.DB) error) error {
	return s.db.InTx(ctx, fn)
}

// read collects rows of one query and turns them into domain values.
func read[R, D any](ctx context.Context, d *db.DB, domain func(R) D, query func(tx *gorm.DB) *gorm.DB) ([]D, error) {
	var found []D
	err := d.Read(ctx, func(tx *gorm.DB) error {
		var rows []R
		if err := query(tx).Find(&rows).Error; err != nil {
			return err
		}
		found = make([]D, len(rows))
		for i, row := range rows {
			found[i] = domain(row)
		}
		return nil
	})
	return found, err
}

// one is read for a query that must find something; what names it in the
// sentence for the reader.
func one[R, D any](ctx context.Context, d *db.DB, what string, domain func(R) D, query func(tx *gorm.DB) *gorm.DB) (D, error) {
	found, err := read(ctx, d, domain, func(tx *gorm.DB) *gorm.DB { return query(tx).Limit(1) })
	var none D
	switch {
	case err != nil:
		return none, err
	case len(found) == 0:
		return none, notFound(what)
	}
	return found[0], nil
}

func notFound(what string) error {
	return fault.Newf(fault.NotFound, "There is no such %s.", what)
}

// versioned is a row that counts its changes.
type versioned interface {
	key() (column string, value any)
	count() *int
	kind() string
}

// save inserts a row of version 0 and updates any other, if its version is
// still the one that is stored. It counts the row's version up.
func save[R any, P interface {
	*R
	versioned
}](tx *gorm.DB, row P) error {
	before := *row.count()
	*row.count()++
	if before == 0 {
		return tx.Create(row).Error
	}
	column, value := row.key()
	result := tx.Model(new(R)).Where(column+" = ? AND version = ?", value, before).Select("*").Omit(column).Updates(row)
	if result.Error != nil {
		return result.Error
	}
	if result.RowsAffected == 0 {
		return stale[R](tx, row)
	}
	return nil
}

// stale tells a row that was changed meanwhile from one that never was.
func stale[R any](tx *gorm.DB, row versioned) error {
	column, value := row.key()
	var n int64
	if err := tx.Model(new(R)).Where(column+" = ?", value).Count(&n).Error; err != nil {
		return err
	}
	if n == 0 {
		return notFound(row.kind())
	}
	return fault.Newf(fault.Conflict, "Somebody else changed this %s since you opened it. Your entries are still here; look at theirs, then save again.", row.kind())
}

// list is never nil: a nil list would be kept as NULL.
func list[T any](l []T) []T {
	if l == nil {
		return []T{}
	}
	return l
}
