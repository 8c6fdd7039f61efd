package db_test

import (
	"context"
	"errors"
	"sync"
	"testing"

	"drawbar/booking/fault"
	"drawbar/migrations/db"
	"drawbar/migrations/dbtest"

	"gorm.io/gorm"
)

func number(t *testing.T, d *db.DB, query string) int {
	t.Helper()
	var n int
	err := d.Read(context.Background(), func(tx *gorm.DB) error { return tx.Raw(query).Scan(&n).Error })
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func TestInTxIsAllOrNothing(t *testing.T) {
	halfway := errors.New("halfway")
	dbtest.EachEmpty(t, func(t *testing.T, d *db.DB) {
		exec(t, d, "CREATE TABLE marks (n INTEGER)")
		err := d.InTx(context.Background(), func(tx *gorm.DB) error {
			if err := tx.Exec("INSERT INTO marks VALUES (1)").Error; err != nil {
				return err
			}
			return halfway
		})
		if !errors.Is(err, halfway) {
			t.Errorf("err = %v", err)
		}
		if n := number(t, d, "SELECT count(*) FROM marks"); n != 0 {
			t.Errorf("%d rows of a failed transaction stayed", n)
		}
	})
}

// A read followed by a write loses no update, however many do it at once:
// this is what "serializable" means (Berenson et al. 1995, A Critique of
// ANSI SQL Isolation Levels, phenomenon P4).
func TestReadThenWriteLosesNothing(t *testing.T) {
	const writers, rounds = 16, 25
	dbtest.EachEmpty(t, func(t *testing.T, d *db.DB) {
		exec(t, d, "CREATE TABLE tally (n INTEGER NOT NULL)", "INSERT INTO tally VALUES (0)")
		var done sync.WaitGroup
		for range writers {
			done.Go(func() {
				for range rounds {
					if err := d.InTx(context.Background(), addOne); err != nil {
						t.Errorf("adding one: %v", err)
					}
				}
			})
		}
		done.Wait()
		if n := number(t, d, "SELECT n FROM tally"); n != writers*rounds {
			t.Errorf("counted %d of %d", n, writers*rounds)
		}
	})
}

func addOne(tx *gorm.DB) error {
	var n int
	if err := tx.Raw("SELECT n FROM tally").Scan(&n).Error; err != nil {
		return err
	}
	return tx.Exec("UPDATE tally SET n = ?", n+1).Error
}

// Two people each go off duty after seeing the other on duty: no order of
// the two allows both (write skew, same paper, A5B).
func TestNoWriteSkew(t *testing.T) {
	dbtest.EachEmpty(t, func(t *testing.T, d *db.DB) {
		exec(t, d, "CREATE TABLE duty (id INTEGER PRIMARY KEY, here INTEGER NOT NULL)")
		for range 20 {
			exec(t, d, "DELETE FROM duty", "INSERT INTO duty VALUES (1, 1), (2, 1)")
			var done sync.WaitGroup
			for id := 1; id <= 2; id++ {
				done.Go(func() { leave(t, d, id) })
			}
			done.Wait()
			if n := number(t, d, "SELECT count(*) FROM duty WHERE here = 1"); n != 1 {
				t.Fatalf("%d stayed on duty, want 1", n)
			}
		}
	})
}

func leave(t *testing.T, d *db.DB, id int) {
	err := d.InTx(context.Background(), func(tx *gorm.DB) error {
		var others int
		if err := tx.Raw("SELECT count(*) FROM duty WHERE here = 1 AND id <> ?", id).Scan(&others).Error; err != nil || others == 0 {
			return err
		}
		return tx.Exec("UPDATE duty SET here = 0 WHERE id = ?", id).Error
	})
	if err != nil {
		t.Errorf("leaving: %v", err)
	}
}

func TestReadSeesOneViewAndDoesNotBlockWriters(t *testing.T) {
	dbtest.EachEmpty(t, func(t *testing.T, d *db.DB) {
		exec(t, d, "CREATE TABLE marks (n INTEGER)", "INSERT INTO marks VALUES (1)")
		err := d.Read(context.Background(), func(tx *gorm.DB) error {
			var before, after int
			if err := tx.Raw("SELECT count(*) FROM marks").Scan(&before).Error; err != nil {
				return err
			}
			if err := try(d, "INSERT INTO marks VALUES (2)"); err != nil {
				return err
			}
			if err := tx.Raw("SELECT count(*) FROM marks").Scan(&after).Error; err != nil {
				return err
			}
			if before != 1 || after != 1 {
				t.Errorf("counted %d, then %d", before, after)
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	})
}

func TestEndedContextPassesUnchanged(t *testing.T) {
	dbtest.EachEmpty(t, func(t *testing.T, d *db.DB) {
		ctx, cancel := context.WithCancel(context.Background())
		cancel()
		err := d.InTx(ctx, func(*gorm.DB) error { return nil })
		if !errors.Is(err, context.Canceled) || !fault.Is(err, fault.Internal) {
			t.Errorf("err = %v", err)
		}
	})
}
