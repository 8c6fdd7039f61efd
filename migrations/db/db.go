package db

import (
	"context"
	"database/sql"
	"errors"
	"strings"
	"time"

	"drawbar/booking/fault"

	"gorm.io/gorm"
	"gorm.io/gorm/logger"
)

// The two engines, as DB.Dialect names them.
const (
	SQLite   = "sqlite"
	Postgres = "postgres"
)

// DB is an open database of one business.
type DB struct {
	dialect string
	dsn     string
	pool    *sql.DB
	orm     *gorm.DB
}

// Open opens a database and makes sure it answers. The dsn is a file path
// (SQLite, made if it is not there yet) or a postgres:// address. The schema
// is not touched; see package migrations.
func Open(ctx context.Context, dsn string) (*DB, error) {
	switch scheme, _, found := strings.Cut(dsn, "://"); {
	case scheme == "postgres" || scheme == "postgresql":
		return openPostgres(ctx, dsn)
	case found:
		return nil, fault.Newf(fault.Invalid, "The database address begins with %q; give a file path or an address that begins with postgres://.", scheme+"://")
	default:
		return openSQLite(ctx, dsn)
	}
}

// wrap puts gorm on an open pool. Times that gorm itself sets are UTC and no
// finer than PostgreSQL keeps.
func wrap(ctx context.Context, dialect, dsn string, pool *sql.DB, dialector gorm.Dialector) (*DB, error) {
	orm, err := gorm.Open(dialector, &gorm.Config{
		SkipDefaultTransaction: true, // InTx has already begun one
		Logger:                 logger.Discard,
		NowFunc:                func() time.Time { return time.Now().UTC().Truncate(time.Microsecond) },
		DisableAutomaticPing:   true,
	})
	if err != nil {
		return nil, errors.Join(err, pool.Close())
	}
	d := &DB{dialect: dialect, dsn: dsn, pool: pool, orm: orm}
	if err := d.Ping(ctx); err != nil {
		return nil, errors.Join(err, pool.Close())
	}
	return d, nil
}

// Dialect is "sqlite" or "postgres".
func (d *DB) Dialect() string { return d.dialect }

// DSN is the address the database was opened with. It may hold a password:
// do not print it.
func (d *DB) DSN() string { return d.dsn }

// SQL is the pool of connections below, for migrations and background work.
func (d *DB) SQL() *sql.DB { return d.pool }

// Ping checks that the database answers.
func (d *DB) Ping(ctx context.Context) error {
	var one int
	return d.pool.QueryRowContext(ctx, "SELECT 1 FROM (SELECT 1 AS x) AS t").Scan(&one)
}

// Close closes all connections.
func (d *DB) Close() error { return d.pool.Close() }
