package storetest_test

import (
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/booking/store"
	"drawbar/booking/storetest"
	"drawbar/migrations/dbtest"
)

func ExampleRun() {
	var t *testing.T // from the test function
	storetest.Run(t, func(t *testing.T, now func() time.Time) booking.Store {
		return store.New(dbtest.SQLite(t), now, nil)
	})
}
