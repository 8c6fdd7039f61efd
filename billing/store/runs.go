package store

import (
	"context"

	"drawbar/billing"

	"gorm.io/gorm"
	"gorm.io/gorm/clause"
)

type runRow struct {
	Month    string `gorm:"primaryKey"`
	State    billing.RunState
	Started  int64
	Finished int64
}

func (runRow) TableName() string { return "month_runs" }

func (r runRow) domain() (billing.MonthRun, error) {
	m, err := billing.ParseMonth(r.Month)
	return billing.MonthRun{Month: m, State: r.State, Started: instant(r.Started), Finished: instant(r.Finished)}, err
}

// MonthRun is the run of a month.
func (s *Store) MonthRun(ctx context.Context, m billing.Month) (run billing.MonthRun, err error) {
	err = s.db.Read(ctx, func(tx *gorm.DB) error {
		run, err = findRun(tx, m)
		return err
	})
	return run, err
}

func findRun(tx *gorm.DB, m billing.Month) (billing.MonthRun, error) {
	var rows []runRow
	if err := tx.Where("month = ?", m.String()).Find(&rows).Error; err != nil || len(rows) == 0 {
		return billing.MonthRun{Month: m, State: billing.NotRun}, err
	}
	return rows[0].domain()
}

// MonthRuns are all runs, the latest month first.
func (s *Store) MonthRuns(ctx context.Context) (runs []billing.MonthRun, err error) {
	err = s.db.Read(ctx, func(tx *gorm.DB) error {
		var rows []runRow
		if err := tx.Order("month DESC").Find(&rows).Error; err != nil {
			return err
		}
		runs = make([]billing.MonthRun, len(rows))
		for i, r := range rows {
			if runs[i], err = r.domain(); err != nil {
				return err
			}
		}
		return nil
	})
	return runs, err
}

// BeginRun notes that a run is under way.
func (s *Store) BeginRun(ctx context.Context, m billing.Month) (billing.MonthRun, error) {
	return s.turn(ctx, m, billing.Running, "started", func(run *billing.MonthRun) { run.Started = s.now().UTC() })
}

// FinishRun notes that a run is done.
func (s *Store) FinishRun(ctx context.Context, m billing.Month) (billing.MonthRun, error) {
	return s.turn(ctx, m, billing.RunDone, "finished", func(run *billing.MonthRun) { run.Finished = s.now().UTC() })
}

// turn brings a run to a state; one that is there already stays as it is.
func (s *Store) turn(ctx context.Context, m billing.Month, to billing.RunState, verb string, stamp func(*billing.MonthRun)) (run billing.MonthRun, err error) {
	err = s.db.InTx(ctx, func(tx *gorm.DB) error {
		if run, err = findRun(tx, m); err != nil || run.State == to {
			return err
		}
		run.State = to
		stamp(&run)
		row := runRow{Month: m.String(), State: to, Started: millis(run.Started), Finished: millis(run.Finished)}
		if err := tx.Clauses(clause.OnConflict{UpdateAll: true}).Create(&row).Error; err != nil {
			return err
		}
		return s.record(ctx, tx, verb, "month run", "", m.String())
	})
	return run, err
}
