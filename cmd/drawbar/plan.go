package main

import (
	"context"
	"errors"
	"fmt"
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/schedule"
	"drawbar/web/view"

	"cloud.google.com/go/civil"
)

type planCmd struct {
	From       string `required:"" placeholder:"DATE" help:"First day to plan, such as 2027-03-08."`
	Days       int    `default:"7" help:"How many days to plan."`
	Seconds    int    `default:"10" help:"How long to look for; 0 for as long as --iterations takes."`
	Iterations int    `help:"How many ways to try at most; the same number and --seed give the same plan."`
	Seed       int64  `default:"1" help:"Where the search starts from."`
	Accept     bool   `help:"Accept all of it at once."`
	JSON       bool   `name:"json" help:"Print the plan as JSON."`
}

// Run plans in this process, unless another that works on the database takes
// the plan first. Nothing is moved without --accept; the plan is kept, so that
// the board shows it too.
func (p planCmd) Run(c *call) error {
	order, err := p.order()
	if err != nil {
		return err
	}
	return withApp(c, func(app *App) error {
		ctx := booking.As(c.ctx, booking.Actor{Kind: booking.ByProgram, Name: "the command line"})
		planning, err := app.Planner.Ask(ctx, order)
		if err != nil {
			return named(err)
		}
		if err := follow(ctx, c, app, planning.ID); err != nil {
			return err
		}
		found, err := app.Planner.Found(context.WithoutCancel(ctx), planning.ID)
		if err != nil {
			return noPlan(ctx, app, planning.ID, err)
		}
		if p.Accept && len(found.Plan.Moves) > 0 {
			if _, err := app.Planner.Accept(context.WithoutCancel(ctx), planning.ID); err != nil {
				return err
			}
		}
		return p.print(c, app, found)
	})
}

func (p planCmd) order() (schedule.Order, error) {
	from, err := civil.ParseDate(p.From)
	if err != nil {
		return schedule.Order{}, named(&fault.Error{Kind: fault.Invalid, Sentence: "Some flags need another look.", Fields: fault.Fields{
			"from": "Give a day as year, month and day, such as 2027-03-08.",
		}})
	}
	if p.Seconds == 0 && p.Iterations == 0 {
		return schedule.Order{}, named(&fault.Error{Kind: fault.Invalid, Sentence: "Some flags need another look.", Fields: fault.Fields{
			"seconds": "Give how long to look for, or --iterations.",
		}})
	}
	return schedule.Order{From: from, Days: p.Days, Seed: p.Seed, Seconds: p.Seconds, Iterations: p.Iterations}, nil
}

// named gives the fields of an error the names of their flags.
func named(err error) error {
	fields := fault.Fields{}
	for field, sentence := range fault.FieldsOf(err) {
		fields.Add("--"+field, "%s", sentence)
	}
	if len(fields) == 0 {
		return err
	}
	return &fault.Error{Kind: fault.Invalid, Sentence: "Some flags need another look.", Fields: fields}
}

// follow works on a plan, or waits for whoever does, with a line of progress.
// An interrupt keeps the best so far.
func follow(ctx context.Context, c *call, app *App, id booking.ID) error {
	line := progressLine(ctx, c, app)
	defer fmt.Fprintln(c.err)
	if err := app.Planner.WorkShown(ctx, id, line); err != nil {
		return err
	}
	ticker := time.NewTicker(time.Second / 2)
	defer ticker.Stop()
	for keep := context.WithoutCancel(ctx); ; <-ticker.C {
		p, err := app.Store.Planning(keep, id)
		if err != nil {
			return err
		}
		line(p.Progress)
		if !p.State.Open() {
			return nil
		}
		if ctx.Err() != nil && !p.Stop {
			if err := app.Store.StopPlanning(keep, id); err != nil {
				return err
			}
		}
	}
}

func progressLine(ctx context.Context, c *call, app *App) func(booking.Progress) {
	began := app.Now()
	currency := ""
	if business, err := app.Store.Business(ctx); err == nil {
		currency = business.Currency
	}
	return func(at booking.Progress) {
		text := "waiting"
		if at.Of > 0 {
			text = fmt.Sprintf("%d of %d visits placed", at.Placed, at.Of)
		}
		if at.Cost > 0 {
			text += ", rounds cost " + view.Money(at.Cost, currency)
		}
		fmt.Fprintf(c.err, "\r%-60s %3d s", text, int(app.Now().Sub(began).Seconds()))
	}
}

// noPlan says why a planning gave none.
func noPlan(ctx context.Context, app *App, id booking.ID, err error) error {
	p, failed := app.Store.Planning(context.WithoutCancel(ctx), id)
	if failed != nil || p.Trouble == "" {
		return errors.Join(err, failed)
	}
	return fault.New(fault.Conflict, p.Trouble)
}
