package dbtest

import (
	"context"
	"testing"

	"drawbar/migrations/db"
)

// engines are opened by these functions: with the schema, and without.
var engines = []struct {
	name     string
	migrated func(testing.TB) *db.DB
	empty    func(testing.TB) *db.DB
}{
	{db.SQLite, SQLite, EmptySQLite},
	{db.Postgres, Postgres, EmptyPostgres},
}

// Each runs fn once on either engine, as a subtest named for it, on a fresh
// database with the newest schema.
func Each(t *testing.T, fn func(t *testing.T, d *db.DB)) {
	t.Helper()
	for _, engine := range engines {
		t.Run(engine.name, func(t *testing.T) { fn(t, engine.migrated(t)) })
	}
}

// EachEmpty is Each on databases without any table.
func EachEmpty(t *testing.T, fn func(t *testing.T, d *db.DB)) {
	t.Helper()
	for _, engine := range engines {
		t.Run(engine.name, func(t *testing.T) { fn(t, engine.empty(t)) })
	}
}

// open opens a database and closes it when the test ends.
func open(t testing.TB, dsn string) *db.DB {
	t.Helper()
	d, err := db.Open(context.Background(), dsn)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := d.Close(); err != nil {
			t.Errorf("closing the test database: %v", err)
		}
	})
	return d
}
