package migrations_test

import (
	"context"
	"os"
	"strings"
	"sync"
	"testing"

	"drawbar/booking/fault"
	"drawbar/migrations"
	"drawbar/migrations/db"
	"drawbar/migrations/dbtest"
)

func exec(t *testing.T, d *db.DB, statement string) {
	t.Helper()
	if _, err := d.SQL().Exec(statement); err != nil {
		t.Fatalf("%s: %v", statement, err)
	}
}

func refuses(t *testing.T, err error, says ...string) {
	t.Helper()
	sentence := fault.Sentence(err)
	for _, part := range says {
		if !fault.Is(err, fault.Conflict) || !strings.Contains(sentence, part) {
			t.Errorf("%s error says %q (%v), want %q in it", fault.KindOf(err), sentence, err, part)
		}
	}
}

func TestEmptyDatabaseIsRefusedAndLeftAlone(t *testing.T) {
	dbtest.EachEmpty(t, func(t *testing.T, d *db.DB) {
		refuses(t, migrations.Check(context.Background(), d), "empty", "drawbar migrate")
		if got := tables(t, d); len(got) != 0 {
			t.Errorf("checking made tables: %v", got)
		}
	})
}

func TestUpMakesASchemaThatChecksAndTwiceChangesNothing(t *testing.T) {
	ctx := context.Background()
	dbtest.EachEmpty(t, func(t *testing.T, d *db.DB) {
		for range 2 {
			if err := migrations.Up(ctx, d); err != nil {
				t.Fatal(err)
			}
			if err := migrations.Check(ctx, d); err != nil {
				t.Fatal(err)
			}
		}
	})
}

func TestSeveralProcessesMayMigrateAtOnce(t *testing.T) {
	d := dbtest.EmptyPostgres(t)
	var done sync.WaitGroup
	for range 3 {
		done.Go(func() {
			if err := migrations.Up(context.Background(), d); err != nil {
				t.Error(err)
			}
		})
	}
	done.Wait()
	if err := migrations.Check(context.Background(), d); err != nil {
		t.Error(err)
	}
}

func TestNewerSchemaIsRefused(t *testing.T) {
	ctx := context.Background()
	dbtest.Each(t, func(t *testing.T, d *db.DB) {
		exec(t, d, "INSERT INTO schema_version (version_id, is_applied) VALUES (9999, true)")
		refuses(t, migrations.Check(ctx, d), "schema 9999", "newer")
		refuses(t, migrations.Up(ctx, d), "schema 9999", "newer")
	})
}

func TestOldTablesOfTheBackgroundWorkAreRefused(t *testing.T) {
	ctx := context.Background()
	dbtest.Each(t, func(t *testing.T, d *db.DB) {
		exec(t, d, "DELETE FROM river_migration WHERE version = (SELECT max(version) FROM river_migration)")
		refuses(t, migrations.Check(ctx, d), "background work", "drawbar migrate")
	})
}

// The engines hold the same tables and columns, whatever the types are.
func TestBothEnginesHoldTheSameColumns(t *testing.T) {
	lite, post := columns(t, dbtest.SQLite(t)), columns(t, dbtest.Postgres(t))
	if len(lite) == 0 {
		t.Fatal("no columns found")
	}
	for name := range lite {
		if !post[name] {
			t.Errorf("%s is only on SQLite", name)
		}
	}
	for name := range post {
		if !lite[name] {
			t.Errorf("%s is only on PostgreSQL", name)
		}
	}
}

// Every file is on both engines under the same name.
func TestFilesComeInPairs(t *testing.T) {
	for here, there := range map[string]string{"sqlite": "postgres", "postgres": "sqlite"} {
		entries, err := os.ReadDir(here)
		if err != nil {
			t.Fatal(err)
		}
		for _, entry := range entries {
			if _, err := os.Stat(there + "/" + entry.Name()); err != nil {
				t.Errorf("%s/%s has no twin: %v", here, entry.Name(), err)
			}
		}
	}
}

var columnQuery = map[string]string{
	db.SQLite: `SELECT m.name, c.name FROM sqlite_master m, pragma_table_info(m.name) c
		WHERE m.type = 'table' AND m.name NOT LIKE 'sqlite_%' AND m.name NOT LIKE 'river_%'`,
	db.Postgres: `SELECT table_name, column_name FROM information_schema.columns
		WHERE table_schema = 'public' AND table_name NOT LIKE 'river_%'`,
}

func columns(t *testing.T, d *db.DB) map[string]bool {
	t.Helper()
	rows, err := d.SQL().Query(columnQuery[d.Dialect()])
	if err != nil {
		t.Fatal(err)
	}
	defer rows.Close()
	found := map[string]bool{}
	for rows.Next() {
		var table, column string
		if err := rows.Scan(&table, &column); err != nil {
			t.Fatal(err)
		}
		found[table+"."+column] = true
	}
	if err := rows.Err(); err != nil {
		t.Fatal(err)
	}
	return found
}

func tables(t *testing.T, d *db.DB) map[string]bool {
	t.Helper()
	found := map[string]bool{}
	for name := range columns(t, d) {
		table, _, _ := strings.Cut(name, ".")
		found[table] = true
	}
	return found
}
