package dbtest

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"drawbar/migrations"
	"drawbar/migrations/db"
)

// SQLite opens a fresh file with the newest schema.
func SQLite(t testing.TB) *db.DB {
	t.Helper()
	template, err := sqliteTemplate()
	if err != nil {
		t.Fatalf("making the SQLite template: %v", err)
	}
	path := sqlitePath(t)
	if err := os.WriteFile(path, template, 0o600); err != nil {
		t.Fatal(err)
	}
	return open(t, path)
}

// EmptySQLite opens a fresh file without any table.
func EmptySQLite(t testing.TB) *db.DB {
	t.Helper()
	return open(t, sqlitePath(t))
}

func sqlitePath(t testing.TB) string { return filepath.Join(t.TempDir(), "drawbar.db") }

// sqliteTemplate is the bytes of a migrated file. Closing the last
// connection folds the write-ahead log into the file.
var sqliteTemplate = sync.OnceValues(func() ([]byte, error) {
	folder, err := os.MkdirTemp("", "drawbar-template")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(folder)
	path := filepath.Join(folder, "drawbar.db")
	if err := migrate(context.Background(), path); err != nil {
		return nil, err
	}
	return os.ReadFile(path)
})

// migrate brings the database at dsn to the newest schema and lets go of it.
func migrate(ctx context.Context, dsn string) error {
	d, err := db.Open(ctx, dsn)
	if err != nil {
		return err
	}
	if err := migrations.Up(ctx, d); err != nil {
		return errors.Join(err, d.Close())
	}
	return d.Close()
}
