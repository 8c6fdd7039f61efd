package migrations

import (
	"context"
	"fmt"
	"log/slog"
	"strings"

	"drawbar/booking/fault"
	"drawbar/migrations/db"

	"github.com/riverqueue/river/riverdriver/riverdatabasesql"
	"github.com/riverqueue/river/riverdriver/riversqlite"
	"github.com/riverqueue/river/rivermigrate"
)

// workMigrator is what both engines' migrators of the background work share.
type workMigrator interface {
	Migrate(context.Context, rivermigrate.Direction, *rivermigrate.MigrateOpts) (*rivermigrate.MigrateResult, error)
	Validate(context.Context, *rivermigrate.ValidateOpts) (*rivermigrate.ValidateResult, error)
}

func workMigratorFor(d *db.DB) (workMigrator, error) {
	config := &rivermigrate.Config{Logger: slog.New(slog.DiscardHandler)}
	if d.Dialect() == db.Postgres {
		return rivermigrate.New(riverdatabasesql.New(d.SQL()), config)
	}
	return rivermigrate.New(riversqlite.New(d.SQL()), config)
}

func workUp(ctx context.Context, d *db.DB) error {
	migrator, err := workMigratorFor(d)
	if err != nil {
		return err
	}
	if _, err := migrator.Migrate(ctx, rivermigrate.DirectionUp, nil); err != nil {
		return fmt.Errorf("bringing the tables of the background work up to date: %w", err)
	}
	return nil
}

func workCheck(ctx context.Context, d *db.DB) error {
	migrator, err := workMigratorFor(d)
	if err != nil {
		return err
	}
	result, err := migrator.Validate(ctx, nil)
	if err != nil {
		return err
	}
	if !result.OK {
		return fault.Newf(fault.Conflict, "The tables of the background work are out of date (%s). Make a backup, then run `drawbar migrate`.", strings.Join(result.Messages, "; "))
	}
	return nil
}
