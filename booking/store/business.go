package store

import (
	"context"

	"drawbar/booking"

	"github.com/paulmach/orb"
	"gorm.io/gorm"
)

type businessRow struct {
	One           int `gorm:"primaryKey;autoIncrement:false"`
	Name          string
	Address       string
	Email         string
	Phone         string
	TaxID         string
	Zone          string
	Country       string
	Currency      string
	HomeName      string
	HomeLon       float64
	HomeLat       float64
	FarmersChoose bool
	Running       booking.Running `gorm:"embedded;embeddedPrefix:running_"`
	Version       int
}

func (businessRow) TableName() string                  { return "business" }
func (r *businessRow) key() (column string, value any) { return "one", 1 }
func (r *businessRow) count() *int                     { return &r.Version }
func (*businessRow) kind() string                      { return "business" }

func (r businessRow) domain() booking.Business {
	return booking.Business{
		Name: r.Name, Address: r.Address, Email: r.Email, Phone: r.Phone, TaxID: r.TaxID, Zone: r.Zone,
		Country: r.Country, Currency: r.Currency, HomeName: r.HomeName,
		Home: orb.Point{r.HomeLon, r.HomeLat}, FarmersChoose: r.FarmersChoose, Running: r.Running, Version: r.Version,
	}
}

// Business is the contractor's own; NotFound before it is set up.
func (s *Store) Business(ctx context.Context) (booking.Business, error) {
	return one(ctx, s.db, "business yet; set it up first", businessRow.domain, func(tx *gorm.DB) *gorm.DB { return tx })
}

// SaveBusiness stores the contractor's own details.
func (s *Store) SaveBusiness(ctx context.Context, b *booking.Business) error {
	row := businessRow{
		One: 1, Name: b.Name, Address: b.Address, Email: b.Email, Phone: b.Phone, TaxID: b.TaxID, Zone: b.Zone,
		Country: b.Country, Currency: b.Currency, HomeName: b.HomeName,
		HomeLon: b.Home.Lon(), HomeLat: b.Home.Lat(), FarmersChoose: b.FarmersChoose, Running: b.Running, Version: b.Version,
	}
	return s.saved(ctx, b.Version, &b.Version, "business", "", b.Name, func(tx *gorm.DB) (int, error) {
		r := row
		err := save(tx, &r)
		return r.Version, err
	})
}

// saved runs a save of one thing with its line in the record, and hands the
// new version back only when the transaction went through.
func (s *Store) saved(ctx context.Context, before int, version *int, kind string, id booking.ID, detail string, store func(tx *gorm.DB) (int, error)) error {
	verb, after := "changed", 0
	if before == 0 {
		verb = "added"
	}
	err := s.write(ctx, func(tx *gorm.DB) (err error) {
		if after, err = store(tx); err != nil {
			return err
		}
		return s.record(ctx, tx, verb, kind, id, detail)
	})
	if err == nil {
		*version = after
	}
	return err
}
