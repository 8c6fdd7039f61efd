package db_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"drawbar/booking/fault"
	"drawbar/migrations/db"

	"gorm.io/gorm"
)

func ExampleDB_InTx() {
	folder, err := os.MkdirTemp("", "drawbar")
	if err != nil {
		panic(err)
	}
	defer os.RemoveAll(folder)
	ctx := context.Background()
	d, err := db.Open(ctx, filepath.Join(folder, "example.db"))
	if err != nil {
		panic(err)
	}
	defer d.Close()

	err = d.InTx(ctx, func(tx *gorm.DB) error {
		if err := tx.Exec("CREATE TABLE rigs (name TEXT PRIMARY KEY)").Error; err != nil {
			return err
		}
		return tx.Exec("INSERT INTO rigs VALUES ('Heron'), ('Heron')").Error
	})
	fmt.Println(fault.KindOf(err), "-", fault.Sentence(err))
	// Output: conflict - There is already an entry with the same value; change it or use the one that is there.
}
