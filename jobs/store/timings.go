package store

import (
	"context"
	"fmt"
	"time"

	"drawbar/booking"
	"drawbar/booking/pace"
	"drawbar/booking/pace/learn"
	"drawbar/jobs"

	"gorm.io/gorm"
	"gorm.io/gorm/clause"
)

type timingRow struct {
	DocketID booking.ID `gorm:"primaryKey"`
	Job      pace.Job   `gorm:"serializer:json"`
	Work     float64
	SetUp    float64
	PackDown float64
	Settled  bool
}

func (timingRow) TableName() string { return "timings" }

func (r timingRow) docket() learn.Docket {
	return learn.Docket{ID: string(r.DocketID), Job: r.Job, Work: r.Work, SetUp: r.SetUp, PackDown: r.PackDown}
}

// Untimed are dockets whose time is not taken, see jobs.Store.
func (s *Store) Untimed(ctx context.Context, before time.Time, limit int) (found []jobs.SignedDocket, err error) {
	err = s.db.Read(ctx, func(tx *gorm.DB) error {
		var rows []docketRow
		err := tx.Select("dockets.*").Joins("LEFT JOIN timings ON timings.docket_id = dockets.id").
			Where("dockets.superseded = ''").
			Where("timings.docket_id IS NULL OR (NOT timings.settled AND dockets.signed < ?)", before.UnixMilli()).
			Order("dockets.signed, dockets.id").Limit(limit).Find(&rows).Error
		if err != nil {
			return err
		}
		found = make([]jobs.SignedDocket, len(rows))
		for i, r := range rows {
			if found[i], err = r.domain(); err != nil {
				return err
			}
		}
		return nil
	})
	return found, err
}

// KeepTimings stores timings, see jobs.Store.
func (s *Store) KeepTimings(ctx context.Context, timings []jobs.Timing) error {
	if len(timings) == 0 {
		return nil
	}
	rows := make([]timingRow, len(timings))
	for i, t := range timings {
		rows[i] = timingRow{booking.ID(t.ID), t.Job, t.Work, t.SetUp, t.PackDown, t.Settled}
	}
	return s.write(ctx, func(tx *gorm.DB) error {
		return tx.Clauses(clause.OnConflict{UpdateAll: true}).CreateInBatches(rows, 500).Error
	})
}

// Timings of standing dockets, see jobs.Store.
func (s *Store) Timings(ctx context.Context) (dockets []learn.Docket, err error) {
	err = s.db.Read(ctx, func(tx *gorm.DB) error {
		var rows []timingRow
		err := tx.Select("timings.*").Joins("JOIN dockets ON dockets.id = timings.docket_id").
			Where("dockets.superseded = ''").Order("dockets.signed, dockets.id").Find(&rows).Error
		dockets = make([]learn.Docket, len(rows))
		for i, r := range rows {
			dockets[i] = r.docket()
		}
		return err
	})
	return dockets, err
}

// TimingMark changes with Timings: timings are added and settled, never taken
// away, and a correction's timing comes after the docket it supersedes.
func (s *Store) TimingMark(ctx context.Context) (mark string, err error) {
	err = s.db.Read(ctx, func(tx *gorm.DB) error {
		var n struct{ Taken, Settled, Standing int }
		err := tx.Table("timings").Joins("JOIN dockets ON dockets.id = timings.docket_id").
			Select("COUNT(*) AS taken, COALESCE(SUM(CASE WHEN settled THEN 1 ELSE 0 END), 0) AS settled, " +
				"COALESCE(SUM(CASE WHEN superseded = '' THEN 1 ELSE 0 END), 0) AS standing").Scan(&n).Error
		mark = fmt.Sprintf("%d/%d/%d", n.Taken, n.Settled, n.Standing)
		return err
	})
	return mark, err
}
