package store_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/jobs/store"
	"drawbar/migrations"
	"drawbar/migrations/db"
)

// A store works on a migrated database. What it does not have is NotFound,
// with a sentence for the reader.
func Example() {
	folder, err := os.MkdirTemp("", "example")
	if err != nil {
		panic(err)
	}
	defer os.RemoveAll(folder)
	ctx := context.Background()
	d, err := db.Open(ctx, filepath.Join(folder, "drawbar.db"))
	if err != nil {
		panic(err)
	}
	defer d.Close()
	if err := migrations.Up(ctx, d); err != nil {
		panic(err)
	}

	dockets := store.New(d, time.Now)
	_, err = dockets.SignedDocket(ctx, booking.NewID())
	fmt.Println(fault.KindOf(err), "·", fault.Sentence(err))
	// Output: not found · There is no such docket.
}
