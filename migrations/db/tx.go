package db

import (
	"context"
	"database/sql"
	"math/rand/v2"
	"time"

	"gorm.io/gorm"
)

// attempts bounds how often a transaction is run when the engine keeps
// asking for another try; the pauses add up to about four seconds, and
// never to more than eight.
const attempts = 24

// InTx runs fn in one serializable transaction and commits it if fn returns
// nil. fn may be run several times: it must change nothing outside tx and
// must return the errors of tx (wrapped or not). Errors come back as
// package fault's.
func (d *DB) InTx(ctx context.Context, fn func(tx *gorm.DB) error) error {
	return d.run(ctx, &sql.TxOptions{Isolation: d.isolation()}, fn)
}

// Read runs fn on one unchanging view of the database, without a write lock.
func (d *DB) Read(ctx context.Context, fn func(tx *gorm.DB) error) error {
	options := &sql.TxOptions{ReadOnly: true}
	if d.dialect == Postgres {
		options.Isolation = sql.LevelRepeatableRead
	}
	return d.run(ctx, options, fn)
}

// isolation asks PostgreSQL for what SQLite does anyway; SQLite's driver has
// no levels to choose from.
func (d *DB) isolation() sql.IsolationLevel {
	if d.dialect == Postgres {
		return sql.LevelSerializable
	}
	return sql.LevelDefault
}

func (d *DB) run(ctx context.Context, options *sql.TxOptions, fn func(tx *gorm.DB) error) error {
	var err error
	for attempt := range attempts {
		if err = d.orm.WithContext(ctx).Transaction(fn, options); !wantsRetry(err) {
			break
		}
		if !pause(ctx, attempt) {
			break
		}
	}
	return mapError(err)
}

// pause waits a little longer each time, at random so that rivals part. It
// reports false when the context ended first.
func pause(ctx context.Context, attempt int) bool {
	most := min(time.Millisecond<<attempt, 500*time.Millisecond)
	timer := time.NewTimer(rand.N(most) + time.Millisecond)
	defer timer.Stop()
	select {
	case <-ctx.Done():
		return false
	case <-timer.C:
		return true
	}
}
