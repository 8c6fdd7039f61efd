package migrations_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"drawbar/booking/fault"
	"drawbar/migrations"
	"drawbar/migrations/db"
)

func Example() {
	folder, err := os.MkdirTemp("", "drawbar")
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

	fmt.Println(fault.Sentence(migrations.Check(ctx, d)))
	fmt.Println(migrations.Up(ctx, d), migrations.Check(ctx, d))
	// Output:
	// This database is empty. Run `drawbar migrate` to set it up.
	// <nil> <nil>
}
