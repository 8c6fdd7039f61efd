package store

import (
	"context"

	"drawbar/booking"

	"gorm.io/gorm"
)

type serviceRow struct {
	Code      string `gorm:"primaryKey"`
	Name      string
	SideTilt  bool
	WeighBars bool
	TagReader bool
	SortGates int
	Skill     booking.Skill
	Scanning  bool
	Advice    string
	Offered   bool
	Position  int
	Product   string
	MgPerKg   float64 `gorm:"column:mg_per_kg"`
	MgPerML   float64 `gorm:"column:mg_per_ml"`
	MLPerHead float64 `gorm:"column:ml_per_head"`
	Packs     []int   `gorm:"serializer:json"`
	Version   int
}

func (serviceRow) TableName() string                  { return "services" }
func (r *serviceRow) key() (column string, value any) { return "code", r.Code }
func (r *serviceRow) count() *int                     { return &r.Version }
func (*serviceRow) kind() string                      { return "service" }
func (r serviceRow) domain() booking.Service {
	r.Packs = orNone(r.Packs)
	return booking.Service(r)
}

// orNone is a list as the domain has it: nil for an empty one.
func orNone[T any](all []T) []T {
	if len(all) == 0 {
		return nil
	}
	return all
}

// Services in the order of lists, those not offered included.
func (s *Store) Services(ctx context.Context) ([]booking.Service, error) {
	return read(ctx, s.db, serviceRow.domain, func(tx *gorm.DB) *gorm.DB { return tx.Order("position, code") })
}

// SaveService stores a service.
func (s *Store) SaveService(ctx context.Context, service *booking.Service) error {
	return s.saved(ctx, service.Version, &service.Version, "service", booking.ID(service.Code), service.Name, func(tx *gorm.DB) (int, error) {
		r := serviceRow(*service)
		r.Packs = list(r.Packs)
		err := save(tx, &r)
		return r.Version, err
	})
}
