package store_test

import (
	"context"
	"testing"
	"time"

	"drawbar/billing/store"
	"drawbar/billing/storetest"
	"drawbar/booking"
	"drawbar/booking/sample"
	bookings "drawbar/booking/store"
	"drawbar/migrations/db"
	"drawbar/migrations/dbtest"
)

func now() time.Time { return time.Date(2026, time.April, 1, 9, 0, 0, 0, time.UTC) }

// TestStore holds the store to the suite on both engines.
func TestStore(t *testing.T) {
	for name, open := range map[string]func(testing.TB) *db.DB{db.SQLite: dbtest.SQLite, db.Postgres: dbtest.Postgres} {
		t.Run(name, func(t *testing.T) {
			storetest.Run(t, func(t *testing.T) storetest.Bench { return bench(t, open(t)) })
		})
	}
}

func bench(t *testing.T, d *db.DB) storetest.Bench {
	trade := bookings.New(d, now, nil)
	farms := []booking.Farm{sample.Farm(), sample.Farm()}
	for i := range farms {
		if err := trade.SaveFarm(t.Context(), &farms[i]); err != nil {
			t.Fatal(err)
		}
	}
	return storetest.Bench{
		Store: store.New(d, now), Farms: farms,
		Changes: func(ctx context.Context, kind string) ([]booking.Change, error) {
			return trade.Changes(ctx, booking.ChangeQuery{Kind: kind})
		},
	}
}
