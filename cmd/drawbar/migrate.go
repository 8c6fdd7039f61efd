package main

import (
	"errors"
	"fmt"

	"drawbar/migrations"
	"drawbar/migrations/db"
)

type migrateCmd struct{}

// Run brings the schema up to date.
func (migrateCmd) Run(c *call) (err error) {
	d, err := db.Open(c.ctx, c.config.Database)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, d.Close()) }()
	if err := migrations.Up(c.ctx, d); err != nil {
		return err
	}
	fmt.Fprintln(c.out, "The database is up to date.")
	return nil
}
