package dbtest_test

import (
	"context"
	"testing"

	"drawbar/migrations"
	"drawbar/migrations/db"
	"drawbar/migrations/dbtest"

	"gorm.io/gorm"
)

func ExampleEach() {
	var t *testing.T // from the test function
	dbtest.Each(t, func(t *testing.T, d *db.DB) {
		if err := d.Ping(context.Background()); err != nil {
			t.Error(err)
		}
	})
}

func TestEachGivesBothEnginesReadyAndEmpty(t *testing.T) {
	seen := map[string]int{}
	for range 2 { // what the first round leaves must not reach the second
		dbtest.Each(t, func(t *testing.T, d *db.DB) {
			seen[d.Dialect()]++
			if err := migrations.Check(context.Background(), d); err != nil {
				t.Error(err)
			}
			var rows int64
			err := d.InTx(context.Background(), func(tx *gorm.DB) error {
				if err := tx.Table("changes").Count(&rows).Error; err != nil {
					return err
				}
				return tx.Exec("CREATE TABLE left_over (n INTEGER)").Error
			})
			if err != nil || rows != 0 {
				t.Errorf("%d rows, %v", rows, err)
			}
		})
	}
	if seen[db.SQLite] != 2 || seen[db.Postgres] != 2 {
		t.Errorf("ran on %v", seen)
	}
}

func BenchmarkSQLite(b *testing.B) {
	for b.Loop() {
		dbtest.SQLite(b).Close()
	}
}

func BenchmarkPostgres(b *testing.B) {
	for b.Loop() {
		dbtest.Postgres(b).Close()
	}
}
