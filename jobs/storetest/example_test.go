package storetest_test

import (
	"testing"
	"time"

	bookings "drawbar/booking/store"
	"drawbar/jobs/store"
	"drawbar/jobs/storetest"
	"drawbar/migrations/dbtest"
)

func ExampleRun() {
	var t *testing.T // from the test function
	storetest.Run(t, func(t *testing.T, now func() time.Time) storetest.Stores {
		d := dbtest.SQLite(t)
		return storetest.Stores{Booking: bookings.New(d, now, nil), Jobs: store.New(d, now)}
	})
}
