package migrations

import (
	"context"
	"path/filepath"
	"testing"
	"testing/fstest"

	"drawbar/booking/fault"
	"drawbar/migrations/db"
)

func openFile(t *testing.T) *db.DB {
	t.Helper()
	d, err := db.Open(context.Background(), filepath.Join(t.TempDir(), "drawbar.db"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { d.Close() })
	return d
}

// A program with two steps meets a database with one, and brings it along.
func TestOlderSchemaIsRefusedUntilMigrated(t *testing.T) {
	ctx, d := context.Background(), openFile(t)
	first := fstest.MapFS{"0001_gates.sql": {Data: []byte("-- +goose Up\nCREATE TABLE gates (n INTEGER);\n")}}
	both := fstest.MapFS{
		"0001_gates.sql": first["0001_gates.sql"],
		"0002_width.sql": {Data: []byte("-- +goose Up\nALTER TABLE gates ADD COLUMN width INTEGER;\n")},
	}
	if err := upTo(ctx, d, first); err != nil {
		t.Fatal(err)
	}
	want := "This database has schema 1 and the program needs 2. Make a backup, then run `drawbar migrate`."
	if err := check(ctx, d, both); fault.Sentence(err) != want {
		t.Errorf("check says %q, want %q", fault.Sentence(err), want)
	}
	if err := upTo(ctx, d, both); err != nil {
		t.Fatal(err)
	}
	if err := check(ctx, d, both); err != nil {
		t.Error(err)
	}
	if err := check(ctx, d, first); !fault.Is(err, fault.Conflict) {
		t.Errorf("the older program accepts the newer schema: %v", err)
	}
}

// A step that fails half way leaves the database as it was.
func TestBrokenStepLeavesTheDatabaseAsItWas(t *testing.T) {
	ctx, d := context.Background(), openFile(t)
	broken := fstest.MapFS{"0001_gates.sql": {Data: []byte("-- +goose Up\nCREATE TABLE gates (n INTEGER);\nCREATE TABLE gates (n INTEGER);\n")}}
	if err := upTo(ctx, d, broken); err == nil {
		t.Fatal("a broken step went through")
	}
	if found, err := hasTable(ctx, d, "gates"); err != nil || found {
		t.Errorf("half a step stayed: %v, %v", found, err)
	}
}
