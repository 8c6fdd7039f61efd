package store_test

import (
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/booking/store"
	"drawbar/booking/storetest"
	"drawbar/migrations/db"
	"drawbar/migrations/dbtest"
)

func TestConformance(t *testing.T) {
	for name, open := range map[string]func(testing.TB) *db.DB{db.SQLite: dbtest.SQLite, db.Postgres: dbtest.Postgres} {
		t.Run(name, func(t *testing.T) {
			storetest.Run(t, func(t *testing.T, now func() time.Time) booking.Store {
				return store.New(open(t), now, nil)
			})
		})
	}
}
