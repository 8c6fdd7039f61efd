package store

import (
	"context"

	"drawbar/booking"
	"drawbar/booking/fault"

	"gorm.io/gorm"
)

type personRow struct {
	ID      booking.ID `gorm:"primaryKey"`
	Name    string
	Email   string
	Phone   string
	Role    booking.Role
	Skills  []booking.Skill `gorm:"serializer:json"`
	Away    []booking.Away  `gorm:"serializer:json"`
	Active  bool
	Version int
}

func (personRow) TableName() string                  { return "people" }
func (r *personRow) key() (column string, value any) { return "id", r.ID }
func (r *personRow) count() *int                     { return &r.Version }
func (*personRow) kind() string                      { return "person" }

func (r personRow) domain() booking.Person {
	return booking.Person{ID: r.ID, Name: r.Name, Email: r.Email, Phone: r.Phone, Role: r.Role, Skills: r.Skills, Away: orNone(r.Away), Active: r.Active, Version: r.Version}
}

func personRowOf(p booking.Person) personRow {
	return personRow{ID: p.ID, Name: p.Name, Email: p.Email, Phone: p.Phone, Role: p.Role, Skills: list(p.Skills), Away: list(p.Away), Active: p.Active, Version: p.Version}
}

// People are all who work for the business, by name.
func (s *Store) People(ctx context.Context) ([]booking.Person, error) {
	people, err := read(ctx, s.db, personRow.domain, func(tx *gorm.DB) *gorm.DB { return tx.Order("id") })
	return byName(people, func(p booking.Person) string { return p.Name }), err
}

// Person by id.
func (s *Store) Person(ctx context.Context, id booking.ID) (booking.Person, error) {
	return one(ctx, s.db, "person", personRow.domain, byID(id))
}

// PersonByEmail ignores case.
func (s *Store) PersonByEmail(ctx context.Context, email string) (booking.Person, error) {
	return one(ctx, s.db, "person", personRow.domain, func(tx *gorm.DB) *gorm.DB {
		return tx.Where("lower(email) = lower(?)", email)
	})
}

// SavePerson stores a person, without the password. The last active owner
// stays one.
func (s *Store) SavePerson(ctx context.Context, p *booking.Person) error {
	if p.Version == 0 && p.ID == "" {
		p.ID = booking.NewID()
	}
	return s.saved(ctx, p.Version, &p.Version, "person", p.ID, p.Name+", "+string(p.Role), func(tx *gorm.DB) (int, error) {
		r := personRowOf(*p)
		err := keepingAnOwner(tx, *p, func() error { return save(tx, &r) })
		return r.Version, err
	})
}

// keepingAnOwner undoes a save that takes the last active owner away: nobody
// could set things right any more.
func keepingAnOwner(tx *gorm.DB, p booking.Person, save func() error) error {
	before, err := owners(tx)
	if err != nil {
		return err
	}
	if err := save(); err != nil {
		return err
	}
	after, err := owners(tx)
	if err != nil || before == 0 || after > 0 {
		return err
	}
	field := "role"
	if p.Role == booking.Owner {
		field = "active"
	}
	return fault.Fields{field: "Somebody has to stay the owner. Make another person owner first."}.Err()
}

func owners(tx *gorm.DB) (n int64, err error) {
	err = tx.Model(&personRow{}).Where("role = ? AND active", booking.Owner).Count(&n).Error
	return n, err
}

// PasswordHash of a person, "" where none is set.
func (s *Store) PasswordHash(ctx context.Context, person booking.ID) (string, error) {
	type row struct{ PasswordHash string }
	return one(ctx, s.db, "person", func(r row) string { return r.PasswordHash }, func(tx *gorm.DB) *gorm.DB {
		return tx.Table("people").Where("id = ?", person)
	})
}

// SetPasswordHash replaces a person's password.
func (s *Store) SetPasswordHash(ctx context.Context, person booking.ID, hash string) error {
	return s.write(ctx, func(tx *gorm.DB) error {
		result := tx.Table("people").Where("id = ?", person).Update("password_hash", hash)
		if result.Error != nil {
			return result.Error
		}
		if result.RowsAffected == 0 {
			return notFound("person")
		}
		return s.record(ctx, tx, "set the password of", "person", person, "")
	})
}

func byID(id booking.ID) func(tx *gorm.DB) *gorm.DB {
	return func(tx *gorm.DB) *gorm.DB { return tx.Where("id = ?", id) }
}
