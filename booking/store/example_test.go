package store_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"drawbar/booking"
	"drawbar/booking/store"
	"drawbar/migrations"
	"drawbar/migrations/db"
)

func Example() {
	folder, err := os.MkdirTemp("", "example")
	if err != nil {
		panic(err)
	}
	defer os.RemoveAll(folder)
	ctx := booking.As(context.Background(), booking.Actor{Kind: booking.ByPerson, Name: "Nell"})
	d, err := db.Open(ctx, filepath.Join(folder, "drawbar.db"))
	if err != nil {
		panic(err)
	}
	defer d.Close()
	if err := migrations.Up(ctx, d); err != nil {
		panic(err)
	}

	s := store.New(d, time.Now, nil)
	farm := booking.Farm{Name: "Alder Fold", Email: "tamsin@alderfold.example"}
	if err := s.SaveFarm(ctx, &farm); err != nil {
		panic(err)
	}
	changes, err := s.Changes(ctx, booking.ChangeQuery{Subject: farm.ID})
	fmt.Println(changes[0].Who.Name, changes[0].Verb, changes[0].Kind, changes[0].Detail, err)
	// Output: Nell added farm Alder Fold <nil>
}
