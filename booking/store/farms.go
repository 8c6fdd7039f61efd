package store

import (
	"context"

	"drawbar/booking"

	"github.com/paulmach/orb"
	"gorm.io/gorm"
)

type farmRow struct {
	ID      booking.ID `gorm:"primaryKey"`
	Name    string
	Contact string
	Email   string
	Phone   string
	Address string
	TaxID   string
	Hygiene booking.Hygiene
	Notes   string
	Version int
}

func (farmRow) TableName() string                  { return "farms" }
func (r *farmRow) key() (column string, value any) { return "id", r.ID }
func (r *farmRow) count() *int                     { return &r.Version }
func (*farmRow) kind() string                      { return "farm" }
func (r farmRow) domain() booking.Farm             { return booking.Farm(r) }

type yardRow struct {
	ID          booking.ID `gorm:"primaryKey"`
	FarmID      booking.ID
	Name        string
	Lon, Lat    float64
	GateWidth   float64
	TrainLength float64
	Surface     booking.Surface
	Turning     bool
	Lights      bool
	Power       bool
	Forks       bool
	Helper      bool
	Overnight   bool
	Access      string
	Version     int
}

func (yardRow) TableName() string                  { return "yards" }
func (r *yardRow) key() (column string, value any) { return "id", r.ID }
func (r *yardRow) count() *int                     { return &r.Version }
func (*yardRow) kind() string                      { return "yard" }

func (r yardRow) domain() booking.Yard {
	return booking.Yard{
		ID: r.ID, FarmID: r.FarmID, Name: r.Name, At: orb.Point{r.Lon, r.Lat}, GateWidth: r.GateWidth, TrainLength: r.TrainLength,
		Surface: r.Surface, Turning: r.Turning, Lights: r.Lights, Power: r.Power, Forks: r.Forks, Helper: r.Helper,
		Overnight: r.Overnight, Access: r.Access, Version: r.Version,
	}
}

func yardRowOf(y booking.Yard) yardRow {
	return yardRow{
		ID: y.ID, FarmID: y.FarmID, Name: y.Name, Lon: y.At.Lon(), Lat: y.At.Lat(), GateWidth: y.GateWidth, TrainLength: y.TrainLength,
		Surface: y.Surface, Turning: y.Turning, Lights: y.Lights, Power: y.Power, Forks: y.Forks, Helper: y.Helper,
		Overnight: y.Overnight, Access: y.Access, Version: y.Version,
	}
}

// Farms are all customers, by name.
func (s *Store) Farms(ctx context.Context) ([]booking.Farm, error) {
	farms, err := read(ctx, s.db, farmRow.domain, func(tx *gorm.DB) *gorm.DB { return tx.Order("id") })
	return byName(farms, func(f booking.Farm) string { return f.Name }), err
}

// Farm by id.
func (s *Store) Farm(ctx context.Context, id booking.ID) (booking.Farm, error) {
	return one(ctx, s.db, "farm", farmRow.domain, byID(id))
}

// FarmsByEmail are those with this address on file, whatever its case.
func (s *Store) FarmsByEmail(ctx context.Context, email string) ([]booking.Farm, error) {
	farms, err := read(ctx, s.db, farmRow.domain, func(tx *gorm.DB) *gorm.DB {
		return tx.Where("lower(email) = lower(?)", email).Order("id")
	})
	return byName(farms, func(f booking.Farm) string { return f.Name }), err
}

// SaveFarm stores a farm.
func (s *Store) SaveFarm(ctx context.Context, f *booking.Farm) error {
	if f.Version == 0 && f.ID == "" {
		f.ID = booking.NewID()
	}
	return s.saved(ctx, f.Version, &f.Version, "farm", f.ID, f.Name, func(tx *gorm.DB) (int, error) {
		r := farmRow(*f)
		err := save(tx, &r)
		return r.Version, err
	})
}

// Yards of a farm, or of every farm for "", by name.
func (s *Store) Yards(ctx context.Context, farm booking.ID) ([]booking.Yard, error) {
	yards, err := read(ctx, s.db, yardRow.domain, func(tx *gorm.DB) *gorm.DB {
		if farm != "" {
			tx = tx.Where("farm_id = ?", farm)
		}
		return tx.Order("id")
	})
	return byName(yards, func(y booking.Yard) string { return y.Name }), err
}

// Yard by id.
func (s *Store) Yard(ctx context.Context, id booking.ID) (booking.Yard, error) {
	return one(ctx, s.db, "yard", yardRow.domain, byID(id))
}

// SaveYard stores a yard.
func (s *Store) SaveYard(ctx context.Context, y *booking.Yard) error {
	if y.Version == 0 && y.ID == "" {
		y.ID = booking.NewID()
	}
	return s.saved(ctx, y.Version, &y.Version, "yard", y.ID, y.Name, func(tx *gorm.DB) (int, error) {
		r := yardRowOf(*y)
		err := save(tx, &r)
		return r.Version, err
	})
}
