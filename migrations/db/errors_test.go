package db_test

import (
	"context"
	"testing"

	"drawbar/booking/fault"
	"drawbar/migrations/db"
	"drawbar/migrations/dbtest"

	"gorm.io/gorm"
)

// refuseGoose is a rule of our own in each engine's words.
var refuseGoose = map[string][]string{
	db.SQLite: {`CREATE TRIGGER only_sheep BEFORE INSERT ON animals WHEN NEW.name = 'goose'
		BEGIN SELECT RAISE(ABORT, 'a goose has no place here (not even one)'); END`},
	db.Postgres: {`CREATE FUNCTION only_sheep() RETURNS trigger LANGUAGE plpgsql AS $$
		BEGIN IF NEW.name = 'goose' THEN RAISE EXCEPTION 'a goose has no place here (not even one)'; END IF; RETURN NEW; END $$`,
		`CREATE TRIGGER only_sheep BEFORE INSERT ON animals FOR EACH ROW EXECUTE FUNCTION only_sheep()`},
}

func animals(t *testing.T, d *db.DB) {
	exec(t, d,
		"CREATE TABLE mobs (id INTEGER PRIMARY KEY)",
		`CREATE TABLE animals (id INTEGER PRIMARY KEY, name VARCHAR(20) NOT NULL UNIQUE CHECK (name <> ''),
			mob INTEGER NOT NULL REFERENCES mobs (id) ON DELETE RESTRICT)`,
		"INSERT INTO mobs VALUES (1)",
		"INSERT INTO animals VALUES (1, 'Bess', 1)")
	exec(t, d, refuseGoose[d.Dialect()]...)
}

func TestBothEnginesSayTheSame(t *testing.T) {
	const taken = "There is already an entry with the same value; change it or use the one that is there."
	const linked = "Something this belongs to is missing, or something else still needs it."
	const unfit = "A value cannot be kept as it was given; check what was entered."
	cases := []struct {
		name, statement string
		kind            fault.Kind
		says            string
	}{
		{"same key", "INSERT INTO animals VALUES (1, 'Dot', 1)", fault.Conflict, taken},
		{"same name", "INSERT INTO animals VALUES (2, 'Bess', 1)", fault.Conflict, taken},
		{"no such mob", "INSERT INTO animals VALUES (2, 'Dot', 9)", fault.Conflict, linked},
		{"mob still held", "DELETE FROM mobs", fault.Conflict, linked},
		{"empty name", "INSERT INTO animals VALUES (2, '', 1)", fault.Invalid, unfit},
		{"no name", "INSERT INTO animals VALUES (2, NULL, 1)", fault.Invalid, unfit},
		{"our own rule", "INSERT INTO animals VALUES (2, 'goose', 1)", fault.Conflict, "A goose has no place here (not even one)."},
		{"our own mistake", "SELECT nothing FROM nowhere", fault.Internal, fault.Sentence(nil)},
	}
	dbtest.EachEmpty(t, func(t *testing.T, d *db.DB) {
		animals(t, d)
		for _, c := range cases {
			err := try(d, c.statement)
			if !fault.Is(err, c.kind) || fault.Sentence(err) != c.says {
				t.Errorf("%s: %s %q (%v), want %s %q", c.name, fault.KindOf(err), fault.Sentence(err), err, c.kind, c.says)
			}
		}
	})
}

func TestMissingRowIsNotFound(t *testing.T) {
	dbtest.EachEmpty(t, func(t *testing.T, d *db.DB) {
		animals(t, d)
		err := d.Read(context.Background(), func(tx *gorm.DB) error {
			var row struct{ Name string }
			return tx.Table("animals").Where("id = ?", 77).Take(&row).Error
		})
		if !fault.Is(err, fault.NotFound) {
			t.Errorf("err = %v", err)
		}
	})
}

func TestAStoresOwnSentenceStays(t *testing.T) {
	dbtest.EachEmpty(t, func(t *testing.T, d *db.DB) {
		animals(t, d)
		err := d.InTx(context.Background(), func(tx *gorm.DB) error {
			err := tx.Exec("INSERT INTO animals VALUES (2, 'Bess', 1)").Error
			return fault.Wrap(fault.Invalid, err, "Bess is taken.")
		})
		if !fault.Is(err, fault.Invalid) || fault.Sentence(err) != "Bess is taken." {
			t.Errorf("err = %v", err)
		}
	})
}
