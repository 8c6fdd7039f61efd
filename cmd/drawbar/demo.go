package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/offer"
	"drawbar/cmd/drawbar/demo"
	"drawbar/migrations"
	"drawbar/migrations/db"
)

type demoCmd struct {
	Folder string `default:".demo" help:"Folder of the demo's database and mails." env:"DRAWBAR_DEMO_FOLDER"`
	Fresh  bool   `help:"Start over with a new database."`
}

// Run serves an invented business, loading it first where it is not there.
func (d demoCmd) Run(c *call) (err error) {
	if err := d.prepare(c); err != nil {
		return err
	}
	listener, err := listen(c.config.Listen)
	if err != nil {
		return err
	}
	defer func() { _ = listener.Close() }() // the server has closed it already, unless opening failed
	if err := loadDemo(c); err != nil {
		return err
	}
	app, err := Open(c.ctx, c.config, c.now, c.log)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, app.Close()) }()
	if err := printDoors(c, app); err != nil {
		return err
	}
	return app.ServeAndWork(c.ctx, listener)
}

// prepare points the settings at the demo's folder and makes the database.
func (d demoCmd) prepare(c *call) error {
	if err := os.MkdirAll(d.Folder, 0o700); err != nil {
		return fault.Wrap(fault.Invalid, err, "The folder "+d.Folder+" cannot be made; choose another with --folder.")
	}
	c.config.Database = filepath.Join(d.Folder, "drawbar.db")
	c.config.Roads = demoRoads
	c.config.Mail = filepath.Join(d.Folder, "mail")
	if d.Fresh {
		if err := d.startOver(c.config); err != nil {
			return err
		}
	}
	base, err := db.Open(c.ctx, c.config.Database)
	if err != nil {
		return err
	}
	return errors.Join(migrations.Up(c.ctx, base), base.Close())
}

func (d demoCmd) startOver(config Config) error {
	for _, tail := range []string{"", "-wal", "-shm"} {
		if err := os.Remove(config.Database + tail); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	return os.RemoveAll(config.Mail)
}

// loadDemo fills the database once, on a clock that can be set back.
func loadDemo(c *call) (err error) {
	clock := demo.NewClock(c.now().UTC())
	app, err := Open(c.ctx, c.config, clock.Now, c.log)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, app.Close()) }()
	if _, err = app.Store.Business(c.ctx); !fault.Is(err, fault.NotFound) {
		return err
	}
	fmt.Fprintln(c.out, "Loading an invented business; this takes a few seconds.")
	err = demo.Load(c.ctx, demo.Parts{
		Store: app.Store, Desk: app.Desk, Planner: app.Planner, Jobs: app.Jobs, Biller: app.Biller, Clock: clock,
	})
	if err != nil {
		return err
	}
	return app.Teacher.Teach(c.ctx)
}

// printDoors prints a way in for each audience.
func printDoors(c *call, app *App) error {
	people, err := app.Store.People(c.ctx)
	if err != nil {
		return err
	}
	fmt.Fprintf(c.out, "\n%s\n\nEach link below signs in once; start again for new ones.\n\n", app.Desk.Site)
	for _, role := range booking.Roles {
		for _, p := range people {
			if p.Role != role || !p.Active {
				continue
			}
			url, err := app.Desk.SignInLink(c.ctx, p)
			if err != nil {
				return err
			}
			fmt.Fprintf(c.out, "  %-10s %s\n             %s\n", doors[role], p.Name, url)
			break
		}
	}
	return printFarmerDoor(c.ctx, c, app)
}

var doors = map[booking.Role]string{booking.Owner: "contractor", booking.Office: "books", booking.Operator: "operator"}

func printFarmerDoor(ctx context.Context, c *call, app *App) error {
	fmt.Fprintf(c.out, "  farmer     books without an account\n             %s/book\n", app.Desk.Site)
	told, err := app.Store.Bookings(ctx, booking.BookingQuery{States: []booking.State{booking.Offered, booking.Agreed}, Limit: 1})
	if err != nil {
		return err
	}
	choosing, err := choosing(ctx, app)
	if err != nil {
		return err
	}
	for _, b := range append(told, choosing...) {
		url, err := app.Desk.OpenBookingLink(ctx, b)
		if err != nil {
			return err
		}
		does := map[bool]string{true: "chooses a day for", false: "looks at"}[b.State == booking.Asked]
		fmt.Fprintf(c.out, "             and %s booking %d\n             %s\n", does, b.Number, url)
	}
	fmt.Fprintf(c.out, "\nMails are written to %s. Ctrl-C stops; the data stays.\n", c.config.Mail)
	return nil
}

// choosing is a booking whose farmer may take a day, if there is one.
func choosing(ctx context.Context, app *App) ([]booking.Booking, error) {
	asked, err := app.Store.Bookings(ctx, booking.BookingQuery{States: []booking.State{booking.Asked}})
	if err != nil {
		return nil, err
	}
	offers := offer.Offers{Store: app.Store, Planner: app.Planner}
	for _, b := range asked {
		if slots, err := offers.For(ctx, b); err != nil || len(slots) > 0 {
			return []booking.Booking{b}, err
		}
	}
	return nil, nil
}
