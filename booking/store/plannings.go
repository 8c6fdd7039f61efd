package store

import (
	"context"
	"time"

	"drawbar/booking"

	"gorm.io/gorm"
)

type planningRow struct {
	ID          booking.ID `gorm:"primaryKey"`
	State       booking.PlanningState
	FromDay     string
	ToDay       string
	Days        int
	Mend        bool
	Seed        int64
	Seconds     int
	Iterations  int
	Asked       int64
	ActorKind   booking.ActorKind
	ActorID     booking.ID
	ActorName   string
	Iteration   int
	Placed      int
	OfVisits    int
	Cost        int64
	Beat        int64
	Tries       int
	Stop        bool
	Fingerprint string
	Result      string
	Trouble     string
	Ended       int64
}

func (planningRow) TableName() string { return "plannings" }

func (r planningRow) domain() booking.Planning {
	return booking.Planning{
		ID: r.ID, State: r.State, From: dateOf(r.FromDay), Days: r.Days, Mend: r.Mend, Seed: r.Seed, Seconds: r.Seconds, Iterations: r.Iterations,
		Asked: instant(r.Asked), By: booking.Actor{Kind: r.ActorKind, ID: r.ActorID, Name: r.ActorName},
		Progress: booking.Progress{Iteration: r.Iteration, Placed: r.Placed, Of: r.OfVisits, Cost: r.Cost},
		Beat:     instant(r.Beat), Tries: r.Tries, Stop: r.Stop, Fingerprint: r.Fingerprint, Result: []byte(r.Result), Trouble: r.Trouble, Ended: instant(r.Ended),
	}
}

// AddPlanning stores a new planning and wakes whoever works on it.
func (s *Store) AddPlanning(ctx context.Context, p *booking.Planning) error {
	if p.ID == "" {
		p.ID = booking.NewID()
	}
	p.State, p.Asked, p.By = booking.PlanWaiting, s.now(), booking.ActorOf(ctx)
	row := planningRow{
		ID: p.ID, State: p.State, FromDay: p.From.String(), ToDay: p.From.AddDays(p.Days - 1).String(), Days: p.Days, Mend: p.Mend,
		Seed: p.Seed, Seconds: p.Seconds, Iterations: p.Iterations, Asked: millis(p.Asked), Beat: millis(p.Asked),
		ActorKind: p.By.Kind, ActorID: p.By.ID, ActorName: p.By.Name,
	}
	p.Asked, p.Beat = instant(row.Asked), instant(row.Beat)
	return s.write(ctx, func(tx *gorm.DB) error {
		fresh := row
		if err := tx.Create(&fresh).Error; err != nil {
			return err
		}
		if err := s.record(ctx, tx, "asked for", "plan", p.ID, row.FromDay+" to "+row.ToDay); err != nil {
			return err
		}
		return s.wake.Planning(tx, p.ID)
	})
}

// Planning by id.
func (s *Store) Planning(ctx context.Context, id booking.ID) (booking.Planning, error) {
	return one(ctx, s.db, "plan", planningRow.domain, byID(id))
}

// Plannings picks plannings, newest first.
func (s *Store) Plannings(ctx context.Context, q booking.PlanningQuery) ([]booking.Planning, error) {
	return read(ctx, s.db, planningRow.domain, func(tx *gorm.DB) *gorm.DB {
		if q.From.IsValid() {
			tx = tx.Where("to_day >= ?", q.From.String())
		}
		if q.To.IsValid() {
			tx = tx.Where("from_day <= ?", q.To.String())
		}
		if len(q.States) > 0 {
			tx = tx.Where("state IN ?", q.States)
		}
		return tx.Order("asked DESC, id DESC").Limit(limit(q.Limit, 30, 200))
	})
}

// ClaimPlanning takes a waiting planning, see booking.Plannings.
func (s *Store) ClaimPlanning(ctx context.Context, id booking.ID) (p booking.Planning, ok bool, err error) {
	err = s.write(ctx, func(tx *gorm.DB) error {
		taken := tx.Model(&planningRow{}).Where("id = ? AND state = ?", id, booking.PlanWaiting).
			Updates(map[string]any{"state": booking.PlanSearching, "beat": millis(s.now()), "tries": gorm.Expr("tries + 1")})
		if ok = taken.RowsAffected == 1; taken.Error != nil || !ok {
			return taken.Error
		}
		p, err = within(tx, "plan", planningRow.domain, id)
		return err
	})
	return p, ok, err
}

// NotePlanning is a sign of life, see booking.Plannings.
func (s *Store) NotePlanning(ctx context.Context, id booking.ID, try int, at booking.Progress) (stop, mine bool, err error) {
	err = s.write(ctx, func(tx *gorm.DB) error {
		noted := searchedBy(tx, id, try).Updates(map[string]any{
			"beat": millis(s.now()), "iteration": at.Iteration, "placed": at.Placed, "of_visits": at.Of, "cost": at.Cost,
		})
		if mine = noted.RowsAffected == 1; noted.Error != nil || !mine {
			return noted.Error
		}
		return tx.Model(&planningRow{}).Where("id = ?", id).Select("stop").Scan(&stop).Error
	})
	return stop, mine, err
}

// searchedBy is a planning while the searcher of one try has it.
func searchedBy(tx *gorm.DB, id booking.ID, try int) *gorm.DB {
	return tx.Model(&planningRow{}).Where("id = ? AND state = ? AND tries = ?", id, booking.PlanSearching, try)
}

// EndPlanning keeps what was found, see booking.Plannings.
func (s *Store) EndPlanning(ctx context.Context, p booking.Planning) error {
	return s.write(ctx, func(tx *gorm.DB) error {
		return searchedBy(tx, p.ID, p.Tries).Updates(map[string]any{
			"state": p.State, "fingerprint": p.Fingerprint, "result": string(p.Result), "trouble": p.Trouble, "ended": millis(s.now()),
			"iteration": p.Progress.Iteration, "placed": p.Progress.Placed, "of_visits": p.Progress.Of, "cost": p.Progress.Cost,
		}).Error
	})
}

const stoppedBeforeBegun = "Stopped before anybody began to plan. Ask for the plan again when you want it."

// StopPlanning asks for the best so far, see booking.Plannings.
func (s *Store) StopPlanning(ctx context.Context, id booking.ID) error {
	return s.write(ctx, func(tx *gorm.DB) error {
		if _, err := within(tx, "plan", planningRow.domain, id); err != nil {
			return err
		}
		waiting := tx.Model(&planningRow{}).Where("id = ? AND state = ?", id, booking.PlanWaiting).
			Updates(map[string]any{"state": booking.PlanFailed, "stop": true, "trouble": stoppedBeforeBegun, "ended": millis(s.now())})
		if waiting.Error != nil {
			return waiting.Error
		}
		searching := tx.Model(&planningRow{}).Where("id = ? AND state = ?", id, booking.PlanSearching).Update("stop", true)
		if searching.Error != nil || waiting.RowsAffected+searching.RowsAffected == 0 {
			return searching.Error
		}
		return s.record(ctx, tx, "stopped", "plan", id, "")
	})
}

const givenUp = "The process that was planning ended three times before it was done. Look at its log, then plan again for a shorter time or fewer days."

// RetakePlannings puts plannings left behind back to waiting, see
// booking.Plannings. Those that wait unheard of are woken for again.
func (s *Store) RetakePlannings(ctx context.Context, since time.Time) error {
	return s.write(ctx, func(tx *gorm.DB) error {
		var rows []planningRow
		if err := tx.Where("state IN ? AND beat < ?", []booking.PlanningState{booking.PlanWaiting, booking.PlanSearching}, millis(since)).Order("asked, id").Find(&rows).Error; err != nil {
			return err
		}
		for _, r := range rows {
			if err := s.retake(tx, r); err != nil {
				return err
			}
		}
		return nil
	})
}

func (s *Store) retake(tx *gorm.DB, r planningRow) error {
	row := tx.Model(&planningRow{}).Where("id = ?", r.ID)
	if r.Tries >= booking.MostTries {
		return row.Updates(map[string]any{"state": booking.PlanFailed, "trouble": givenUp, "ended": millis(s.now())}).Error
	}
	if err := row.Updates(map[string]any{"state": booking.PlanWaiting, "beat": millis(s.now())}).Error; err != nil {
		return err
	}
	return s.wake.Planning(tx, r.ID)
}
