package main

import (
	"context"
	"time"

	"drawbar/booking/schedule"
	"drawbar/web/session"

	"github.com/robfig/cron/v3"
	"gorm.io/gorm"
	"gorm.io/gorm/clause"
)

// tick is one thing due at one time. Whoever writes its row first does it.
type tick struct {
	Name string `gorm:"primaryKey"`
	Slot int64  `gorm:"primaryKey"`
}

// startClock does what is due by the hour and the minute. cron decides when;
// the row of a tick decides which process.
func (b *background) startClock() *cron.Cron {
	c := cron.New(cron.WithLocation(time.UTC))
	b.every(c, "@every 1m", "send notices", time.Minute, func(ctx context.Context) error {
		return b.db.InTx(ctx, b.wake) // in case a sending gave up
	})
	b.every(c, "@every 1m", "plans left behind", time.Minute, func(ctx context.Context) error {
		return b.store.RetakePlannings(ctx, b.now().Add(-schedule.Left))
	})
	b.every(c, "@every 1m", "learn times", time.Minute, func(ctx context.Context) error {
		return b.db.InTx(ctx, b.study)
	})
	b.every(c, "@every 1h", "sweep", time.Hour, b.sweep)
	c.Start()
	return c
}

func (b *background) every(c *cron.Cron, when, name string, span time.Duration, do func(context.Context) error) {
	_, err := c.AddFunc(when, func() {
		ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
		defer cancel()
		mine, err := b.claim(ctx, name, span)
		if err == nil && mine {
			err = do(ctx)
		}
		if err != nil {
			b.log.Error("not done on schedule", "name", name, "error", err)
		}
	})
	if err != nil {
		panic(err) // the schedules are written above
	}
}

// claim tells whether this process is the one to do what is due.
func (b *background) claim(ctx context.Context, name string, span time.Duration) (mine bool, err error) {
	slot := b.now().Truncate(span).Unix()
	err = b.db.InTx(ctx, func(tx *gorm.DB) error {
		made := tx.Table("ticks").Clauses(clause.OnConflict{DoNothing: true}).Create(&tick{name, slot})
		mine = made.RowsAffected == 1
		return made.Error
	})
	return mine, err
}

// sweep forgets sessions that ran out and ticks that are long over.
func (b *background) sweep(ctx context.Context) error {
	if err := session.Sweep(ctx, b.db, b.now()); err != nil {
		return err
	}
	return b.db.InTx(ctx, func(tx *gorm.DB) error {
		return tx.Table("ticks").Where("slot < ?", b.now().Add(-48*time.Hour).Unix()).Delete(&tick{}).Error
	})
}
