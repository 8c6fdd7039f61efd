package main

import (
	"context"
	"errors"
	"io"
	"log/slog"
	"time"

	"drawbar/booking/fault"

	"github.com/alecthomas/kong"
)

// cli is what can be typed.
type cli struct {
	Config

	Serve    serveCmd    `cmd:"" help:"Serve the site and do the background work, until stopped."`
	Work     workCmd     `cmd:"" help:"Do the background work only, beside other processes on one PostgreSQL."`
	Migrate  migrateCmd  `cmd:"" help:"Bring the database's schema up to date."`
	Roads    roadsCmd    `cmd:"" name:"roads" help:"Roads of your area, for real driving times."`
	Plan     planCmd     `cmd:"" help:"Look for the best plan of some days, and say what it would change."`
	User     userCmd     `cmd:"" help:"Add people, let one in by a link, or set a password."`
	Demo     demoCmd     `cmd:"" help:"Serve an invented business to try things out."`
	Estimate estimateCmd `cmd:"" help:"Say how long a described visit will take, or how well the estimates came true."`
}

// streams are where results and logs go.
type streams struct {
	in       io.Reader
	out, err io.Writer
}

// call is what a command is given besides its own flags.
type call struct {
	ctx    context.Context
	config Config
	streams
	now func() time.Time
	log *slog.Logger
}

// run does one command.
func run(ctx context.Context, args []string, s streams) error {
	var c cli
	parser, err := kong.New(&c,
		kong.Name("drawbar"),
		kong.Description("Bookings, rounds, dockets and invoices for a contractor with a mobile handler for sheep and goats."),
		kong.DefaultEnvars("DRAWBAR"),
		kong.Configuration(readFile),
		kong.Writers(s.out, s.err),
		kong.UsageOnError(),
	)
	if err != nil {
		return err
	}
	parsed, err := parser.Parse(args)
	if err != nil {
		return err
	}
	log := slog.New(slog.NewTextHandler(s.err, &slog.HandlerOptions{Level: c.Config.level()}))
	return parsed.Run(&call{ctx: ctx, config: c.Config, streams: s, now: time.Now, log: log})
}

// says is an error as the terminal shows it: the sentence, and what is behind
// it, for whoever runs the program may know.
func says(err error) string {
	var known *fault.Error
	if errors.As(err, &known) && known.Kind != fault.Internal {
		text := known.Sentence
		if cause := known.Unwrap(); cause != nil {
			text += "\n  (" + cause.Error() + ")"
		}
		for field, sentence := range known.Fields {
			text += "\n  " + field + ": " + sentence
		}
		return text
	}
	return err.Error()
}
