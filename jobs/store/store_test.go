package store_test

import (
	"testing"
	"time"

	bookings "drawbar/booking/store"
	"drawbar/jobs/store"
	"drawbar/jobs/storetest"
	"drawbar/migrations/db"
	"drawbar/migrations/dbtest"
)

var engines = map[string]func(testing.TB) *db.DB{db.SQLite: dbtest.SQLite, db.Postgres: dbtest.Postgres}

func TestConformance(t *testing.T) {
	for name, open := range engines {
		t.Run(name, func(t *testing.T) {
			storetest.Run(t, func(t *testing.T, now func() time.Time) storetest.Stores {
				d := open(t)
				return storetest.Stores{Booking: bookings.New(d, now, nil), Jobs: store.New(d, now)}
			})
		})
	}
}
