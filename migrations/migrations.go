package migrations

import (
	"context"
	"embed"
	"fmt"
	"io/fs"
	"log/slog"

	"drawbar/booking/fault"
	"drawbar/migrations/db"

	"github.com/pressly/goose/v3"
	"github.com/pressly/goose/v3/lock"
)

//go:embed sqlite/*.sql postgres/*.sql
var files embed.FS

// versionTable records which numbered files have been applied.
const versionTable = "schema_version"

// Up brings the database to the newest schema. It keeps the data, and does
// nothing to a database that is there already. A newer database is refused.
func Up(ctx context.Context, d *db.DB) error {
	schema, err := schemaOf(d)
	if err != nil {
		return err
	}
	return upTo(ctx, d, schema)
}

// Check tells whether the database has exactly the schema that this program
// was built for, without changing anything.
func Check(ctx context.Context, d *db.DB) error {
	schema, err := schemaOf(d)
	if err != nil {
		return err
	}
	return check(ctx, d, schema)
}

// Files gives the numbered SQL files of an engine ("sqlite" or "postgres").
func Files(dialect string) (fs.FS, error) { return fs.Sub(files, dialect) }

func schemaOf(d *db.DB) (fs.FS, error) { return Files(d.Dialect()) }

func upTo(ctx context.Context, d *db.DB, schema fs.FS) error {
	return alone(ctx, d, func() error {
		if err := refuseNewer(ctx, d, schema); err != nil {
			return err
		}
		provider, err := providerFor(d, schema)
		if err != nil {
			return err
		}
		if _, err := provider.Up(ctx); err != nil {
			return fmt.Errorf("bringing the schema up to date: %w", err)
		}
		return workUp(ctx, d)
	})
}

func check(ctx context.Context, d *db.DB, schema fs.FS) error {
	have, want, err := versions(ctx, d, schema)
	switch {
	case err != nil:
		return err
	case have == 0:
		return fault.New(fault.Conflict, "This database is empty. Run `drawbar migrate` to set it up.")
	case have < want:
		return fault.Newf(fault.Conflict, "This database has schema %d and the program needs %d. Make a backup, then run `drawbar migrate`.", have, want)
	case have > want:
		return newer(have, want)
	}
	return workCheck(ctx, d)
}

func refuseNewer(ctx context.Context, d *db.DB, schema fs.FS) error {
	have, want, err := versions(ctx, d, schema)
	if err == nil && have > want {
		return newer(have, want)
	}
	return err
}

func newer(have, want int64) error {
	return fault.Newf(fault.Conflict, "This database has schema %d, made by a newer Drawbar; this program knows schemas up to %d. Install the newer program.", have, want)
}

// alone holds a lock of the PostgreSQL server while fn migrates; SQLite has
// no such lock and one process migrates.
func alone(ctx context.Context, d *db.DB, fn func() error) (err error) {
	if d.Dialect() != db.Postgres {
		return fn()
	}
	const tries, period = 600, 1 // seconds
	locker, err := lock.NewPostgresSessionLocker(lock.WithLockTimeout(period, tries))
	if err != nil {
		return err
	}
	conn, err := d.SQL().Conn(ctx)
	if err != nil {
		return err
	}
	defer conn.Close()
	if err := locker.SessionLock(ctx, conn); err != nil {
		return fault.Wrap(fault.Conflict, err, "Another process is changing this database's schema; wait for it and try again.")
	}
	defer func() {
		if unlock := locker.SessionUnlock(context.WithoutCancel(ctx), conn); err == nil {
			err = unlock
		}
	}()
	return fn()
}

func providerFor(d *db.DB, schema fs.FS) (*goose.Provider, error) {
	dialect := goose.DialectSQLite3
	if d.Dialect() == db.Postgres {
		dialect = goose.DialectPostgres
	}
	return goose.NewProvider(dialect, d.SQL(), schema,
		goose.WithTableName(versionTable),
		goose.WithDisableGlobalRegistry(true),
		goose.WithSlog(slog.New(slog.DiscardHandler)),
	)
}

// versions reads the schema's version and the newest this program has. The
// migration library would make its table when asked, so an empty database is
// recognised here first: reading must not write.
func versions(ctx context.Context, d *db.DB, schema fs.FS) (have, want int64, err error) {
	provider, err := providerFor(d, schema)
	if err != nil {
		return 0, 0, err
	}
	sources := provider.ListSources()
	want = sources[len(sources)-1].Version
	found, err := hasTable(ctx, d, versionTable)
	if err != nil || !found {
		return 0, want, err
	}
	have, err = provider.GetDBVersion(ctx)
	return have, want, err
}

var tableQuery = map[string]string{
	db.SQLite:   "SELECT count(*) FROM sqlite_master WHERE type = 'table' AND name = ?",
	db.Postgres: "SELECT count(*) FROM pg_tables WHERE schemaname = current_schema() AND tablename = $1",
}

func hasTable(ctx context.Context, d *db.DB, name string) (bool, error) {
	var n int
	err := d.SQL().QueryRowContext(ctx, tableQuery[d.Dialect()], name).Scan(&n)
	return n > 0, err
}
