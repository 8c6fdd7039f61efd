package main

import (
	"context"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"drawbar/migrations/db"
	"drawbar/migrations/dbtest"
)

func TestOfManyProcessesOneDoesWhatIsDue(t *testing.T) {
	dbtest.Each(t, func(t *testing.T, d *db.DB) {
		began := time.Date(2027, 3, 8, 7, 0, 20, 0, time.UTC)
		for minute := range 3 {
			var did atomic.Int32
			var all sync.WaitGroup
			for process := range 4 {
				// Their clocks differ by some seconds, as clocks do.
				now := began.Add(time.Duration(minute)*time.Minute + time.Duration(process)*7*time.Second)
				b := newBackground(d, func() time.Time { return now }, quietLog)
				all.Go(func() {
					mine, err := b.claim(context.Background(), "send notices", time.Minute)
					if err != nil {
						t.Error(err)
					}
					if mine {
						did.Add(1)
					}
				})
			}
			all.Wait()
			if did.Load() != 1 {
				t.Errorf("minute %d: done by %d", minute, did.Load())
			}
		}
	})
}

func TestOneThingDoesNotTakeAnothersTurn(t *testing.T) {
	now := time.Date(2027, 3, 8, 7, 0, 0, 0, time.UTC)
	b := newBackground(dbtest.SQLite(t), func() time.Time { return now }, quietLog)
	for _, name := range []string{"send notices", "sweep"} {
		if mine, err := b.claim(context.Background(), name, time.Hour); !mine || err != nil {
			t.Errorf("%s: %v, %v", name, mine, err)
		}
	}
}

func TestSweepKeepsWhatIsRecent(t *testing.T) {
	dbtest.Each(t, func(t *testing.T, d *db.DB) {
		ctx, now := context.Background(), time.Date(2027, 3, 8, 7, 0, 0, 0, time.UTC)
		b := newBackground(d, func() time.Time { return now }, quietLog)
		for range 3 { // one tick a day
			if _, err := b.claim(ctx, "sweep", time.Hour); err != nil {
				t.Fatal(err)
			}
			now = now.Add(24 * time.Hour)
		}
		if err := b.sweep(ctx); err != nil {
			t.Fatal(err)
		}
		var kept int
		if err := d.SQL().QueryRow("SELECT count(*) FROM ticks").Scan(&kept); err != nil || kept != 2 {
			t.Errorf("%d ticks kept, want those of the last two days; %v", kept, err)
		}
	})
}
