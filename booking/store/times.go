package store

import (
	"context"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/pace"

	"gorm.io/gorm"
)

type baseTimeRow struct {
	ID      string `gorm:"primaryKey"`
	Code    string
	Covers  string
	Seconds float64
	Spread  float64
	Origin  pace.Origin
	Source  string
	Entered string
	Version int
}

func (baseTimeRow) TableName() string                  { return "base_times" }
func (r *baseTimeRow) key() (column string, value any) { return "id", r.ID }
func (r *baseTimeRow) count() *int                     { return &r.Version }
func (*baseTimeRow) kind() string                      { return "base time" }

func (r baseTimeRow) domain() booking.BaseTime {
	p := pace.Prior{Code: r.Code, Seconds: r.Seconds, CV: r.Spread, Origin: r.Origin, Source: r.Source, Date: r.Entered}
	return booking.BaseTime{Prior: p.ForAnimals(r.Covers), Version: r.Version}
}

func baseTimeRowOf(b booking.BaseTime) baseTimeRow {
	return baseTimeRow{
		ID: b.Key(), Code: b.Code, Covers: b.Covers(), Seconds: b.Seconds, Spread: b.CV, Origin: b.Origin, Source: b.Source,
		Entered: b.Date, Version: b.Version,
	}
}

// BaseTimes are the business's own, by key.
func (s *Store) BaseTimes(ctx context.Context) ([]booking.BaseTime, error) {
	return read(ctx, s.db, baseTimeRow.domain, func(tx *gorm.DB) *gorm.DB { return tx.Order("id") })
}

// SaveBaseTime stores a base time.
func (s *Store) SaveBaseTime(ctx context.Context, b *booking.BaseTime) error {
	return s.saved(ctx, b.Version, &b.Version, "base time", booking.ID(b.Key()), b.String(), func(tx *gorm.DB) (int, error) {
		r := baseTimeRowOf(*b)
		err := save(tx, &r)
		return r.Version, err
	})
}

// DropBaseTime goes back to the value everybody starts with.
func (s *Store) DropBaseTime(ctx context.Context, b booking.BaseTime) error {
	return s.write(ctx, func(tx *gorm.DB) error {
		r := baseTimeRowOf(b)
		dropped := tx.Where("id = ? AND version = ?", r.ID, r.Version).Delete(&baseTimeRow{})
		if dropped.Error != nil {
			return dropped.Error
		}
		if dropped.RowsAffected == 0 {
			return stale[baseTimeRow](tx, &r)
		}
		return s.record(ctx, tx, "dropped", "base time", booking.ID(r.ID), b.String())
	})
}

type paceModelRow struct {
	Version int `gorm:"primaryKey;autoIncrement:false"`
	Made    int64
	Basis   string
	Dockets int
	Learned *pace.Learned  `gorm:"serializer:json"`
	Looks   []booking.Look `gorm:"serializer:json"`
}

func (paceModelRow) TableName() string { return "pace_models" }

func (r paceModelRow) domain() booking.PaceModel {
	return booking.PaceModel{Version: r.Version, Made: instant(r.Made), Basis: r.Basis, Dockets: r.Dockets, Learned: r.Learned, Looks: r.Looks}
}

// PaceModel is the newest one, see booking.Store.
func (s *Store) PaceModel(ctx context.Context) (booking.PaceModel, error) {
	m, err := one(ctx, s.db, "model", paceModelRow.domain, func(tx *gorm.DB) *gorm.DB { return tx.Order("version DESC") })
	if fault.Is(err, fault.NotFound) {
		err = nil
	}
	return m, err
}

// PaceVersion is the version of the newest model.
func (s *Store) PaceVersion(ctx context.Context) (version int, err error) {
	err = s.db.Read(ctx, func(tx *gorm.DB) error {
		return newestModel(tx, &version)
	})
	return version, err
}

func newestModel(tx *gorm.DB, version *int) error {
	return tx.Model(&paceModelRow{}).Select("COALESCE(MAX(version), 0)").Scan(version).Error
}

// modelsKept is how many models are kept to look back at.
const modelsKept = 5

// KeepPaceModel stores a model as the next version, see booking.Store.
func (s *Store) KeepPaceModel(ctx context.Context, m *booking.PaceModel) error {
	r := paceModelRow{Made: millis(m.Made), Basis: m.Basis, Dockets: m.Dockets, Learned: m.Learned, Looks: list(m.Looks)}
	err := s.write(ctx, func(tx *gorm.DB) error {
		if err := newestModel(tx, &r.Version); err != nil {
			return err
		}
		r.Version++
		if err := tx.Create(&r).Error; err != nil {
			return err
		}
		return tx.Where("version <= ?", r.Version-modelsKept).Delete(&paceModelRow{}).Error
	})
	if err == nil {
		m.Version = r.Version
	}
	return err
}
