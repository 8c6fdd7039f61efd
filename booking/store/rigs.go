package store

import (
	"context"
	"time"

	"drawbar/booking"

	"cloud.google.com/go/civil"
	"gorm.io/gorm"
	"gorm.io/gorm/clause"
)

type rigRow struct {
	ID         booking.ID `gorm:"primaryKey"`
	Name       string
	Mount      booking.Mount
	SideTilt   bool
	WeighBars  bool
	TagReader  bool
	SortGates  int
	RacePlaces int
	Mass       int
	Length     float64
	Width      float64
	Height     float64
	Vehicle    booking.Vehicle `gorm:"embedded;embeddedPrefix:vehicle_"`
	Crew       []booking.ID    `gorm:"serializer:json"`
	Workdays   []time.Weekday  `gorm:"serializer:json"`
	DayStart   int
	DayEnd     int
	Lodges     bool
	Rests      bool
	Active     bool
	Version    int
}

func (rigRow) TableName() string                  { return "rigs" }
func (r *rigRow) key() (column string, value any) { return "id", r.ID }
func (r *rigRow) count() *int                     { return &r.Version }
func (*rigRow) kind() string                      { return "rig" }
func (r rigRow) domain() booking.Rig              { return booking.Rig(r) }

// Rigs by name, those out of use included.
func (s *Store) Rigs(ctx context.Context) ([]booking.Rig, error) {
	rigs, err := read(ctx, s.db, rigRow.domain, func(tx *gorm.DB) *gorm.DB { return tx.Order("id") })
	return byName(rigs, func(r booking.Rig) string { return r.Name }), err
}

// Rig by id.
func (s *Store) Rig(ctx context.Context, id booking.ID) (booking.Rig, error) {
	return one(ctx, s.db, "rig", rigRow.domain, byID(id))
}

// SaveRig stores a rig.
func (s *Store) SaveRig(ctx context.Context, rig *booking.Rig) error {
	if rig.Version == 0 && rig.ID == "" {
		rig.ID = booking.NewID()
	}
	return s.saved(ctx, rig.Version, &rig.Version, "rig", rig.ID, rig.Name, func(tx *gorm.DB) (int, error) {
		r := rigRow(*rig)
		r.Crew, r.Workdays = list(r.Crew), list(r.Workdays)
		err := save(tx, &r)
		return r.Version, err
	})
}

type dayOffRow struct {
	RigID  booking.ID `gorm:"primaryKey"`
	Day    civil.Date `gorm:"primaryKey;type:text"`
	Reason string
	Starts int
	Needed bool
}

func (dayOffRow) TableName() string { return "days_off" }

func (r dayOffRow) domain() booking.DayOff {
	return booking.DayOff{RigID: r.RigID, Date: r.Day, Reason: r.Reason, From: r.Starts, Needed: r.Needed}
}

// DaysOff of all rigs in a span of days, both ends included.
func (s *Store) DaysOff(ctx context.Context, from, to civil.Date) ([]booking.DayOff, error) {
	return read(ctx, s.db, dayOffRow.domain, func(tx *gorm.DB) *gorm.DB {
		return tx.Where("day BETWEEN ? AND ?", from.String(), to.String()).Order("day, rig_id")
	})
}

// SaveDayOff keeps rigs at home on days, or holds them back, or changes why:
// on all the days or none.
func (s *Store) SaveDayOff(ctx context.Context, days ...booking.DayOff) error {
	return s.write(ctx, func(tx *gorm.DB) error {
		for _, d := range days {
			if err := s.saveDayOff(ctx, tx, d); err != nil {
				return err
			}
		}
		return nil
	})
}

func (s *Store) saveDayOff(ctx context.Context, tx *gorm.DB, d booking.DayOff) error {
	row := dayOffRow{RigID: d.RigID, Day: d.Date, Reason: d.Reason, Starts: d.From, Needed: d.Needed}
	if err := tx.Clauses(clause.OnConflict{UpdateAll: true}).Create(&row).Error; err != nil {
		return err
	}
	verb := "kept at home"
	if !d.AllDay() {
		verb = "held back"
	}
	return s.record(ctx, tx, verb, "rig", d.RigID, d.Date.String()+": "+d.Reason)
}

// DropDayOff lets a rig go out again on a day; it may have been let already.
func (s *Store) DropDayOff(ctx context.Context, rig booking.ID, day civil.Date) error {
	return s.write(ctx, func(tx *gorm.DB) error {
		dropped := tx.Delete(&dayOffRow{RigID: rig, Day: day})
		if dropped.Error != nil || dropped.RowsAffected == 0 {
			return dropped.Error
		}
		return s.record(ctx, tx, "let out again", "rig", rig, day.String())
	})
}
