package main

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"
	"time"

	"drawbar/booking"
	"drawbar/booking/schedule"
	"drawbar/web/view"
)

// print shows a plan, for people or as JSON.
func (p planCmd) print(c *call, app *App, f *schedule.Found) error {
	business, err := app.Store.Business(c.ctx)
	if p.JSON {
		out := json.NewEncoder(c.out)
		out.SetIndent("", "  ")
		return out.Encode(planOf(f, business, p.Accept))
	}
	text := &strings.Builder{}
	printFigures(text, f.Plan, business.Currency)
	printMoves(text, f.Plan, business.Currency)
	switch {
	case len(f.Plan.Moves) == 0:
		fmt.Fprintln(text, "\nNothing to change: this is the plan already.")
	case p.Accept:
		fmt.Fprintln(text, "\nAccepted. Undo it at "+app.Desk.Site+"/board/plans")
	default:
		fmt.Fprintln(text, "\nNothing was moved. Accept it at "+app.Desk.Site+"/board/plans/"+string(f.Planning.ID))
	}
	if _, werr := io.WriteString(c.out, text.String()); werr != nil {
		return werr
	}
	return err
}

func printFigures(out io.Writer, plan *schedule.Proposal, currency string) {
	table := tabwriter.NewWriter(out, 0, 0, 2, ' ', tabwriter.AlignRight)
	line := func(name string, of func(schedule.Figures) string) {
		fmt.Fprintf(table, "%s\t%s\t%s\t\n", name, of(plan.Before), of(plan.After))
	}
	fmt.Fprintf(table, "%s\tnow\tplanned\t\n", view.Span(plan.From, plan.To))
	line("visits", func(f schedule.Figures) string { return view.Number(f.Visits) })
	line("head", func(f schedule.Figures) string { return view.Number(f.Head) })
	line("driving", func(f schedule.Figures) string { return length(f.Driving) })
	line("km", func(f schedule.Figures) string { return view.Number((f.Metres + 500) / 1000) })
	line("cost of the rounds", func(f schedule.Figures) string { return view.Money(f.Cost, currency) })
	line("overtime", func(f schedule.Figures) string { return length(f.Overtime) })
	line("nights away", func(f schedule.Figures) string { return view.Number(f.Nights) })
	line("a day may end in the dark", func(f schedule.Figures) string { return fmt.Sprintf("%.0f in 100", f.Dark*100) })
	_ = table.Flush() // into memory
}

func length(seconds int64) string { return view.Duration(time.Duration(seconds) * time.Second) }

func printMoves(out io.Writer, plan *schedule.Proposal, currency string) {
	for _, m := range plan.Moves {
		fmt.Fprintf(out, "\n%s, %s: %s\n", m.Farm, m.Animals, m.Kind())
		for _, was := range m.Was {
			fmt.Fprintln(out, "  was "+was)
		}
		for _, now := range m.Now {
			fmt.Fprintln(out, "  now "+now)
		}
		fmt.Fprintf(out, "  %s", m.Reason)
		if m.Adds != 0 {
			fmt.Fprintf(out, " %s %s.", m.AddsOrSaves(), view.Money(max(m.Adds, -m.Adds), currency))
		}
		fmt.Fprintln(out)
	}
	for _, o := range plan.LeftOut {
		fmt.Fprintf(out, "\n%s, %s: no day\n  %s\n", o.Farm, o.Animals, o.Reason)
	}
	for i, call := range plan.Ring() {
		if i == 0 {
			fmt.Fprintln(out, "\nRing first, in this order:")
		}
		fmt.Fprintf(out, "  %d. %s, %s %s\n", i+1, call.Farm, call.Contact, call.Phone)
	}
}

// The plan as JSON. Amounts are in minor units of the currency, lengths in
// seconds, moments in UTC.
type (
	planJSON struct {
		ID         booking.ID    `json:"id"`
		From       string        `json:"from"`
		To         string        `json:"to"`
		Currency   string        `json:"currency"`
		Accepted   bool          `json:"accepted"`
		Iterations int           `json:"iterations"`
		Before     figuresJSON   `json:"before"`
		After      figuresJSON   `json:"after"`
		Moves      []moveJSON    `json:"moves"`
		LeftOut    []leftOutJSON `json:"left_out"`
	}
	figuresJSON struct {
		Visits   int     `json:"visits"`
		Head     int     `json:"head"`
		Driving  int64   `json:"driving_seconds"`
		Metres   int64   `json:"metres"`
		Cost     int64   `json:"cost"`
		Overtime int64   `json:"overtime_seconds"`
		Nights   int     `json:"nights"`
		Dark     float64 `json:"chance_of_dark"`
		Estimate bool    `json:"estimate"`
	}
	moveJSON struct {
		Booking booking.ID        `json:"booking"`
		Number  int               `json:"number"`
		Farm    string            `json:"farm"`
		Kind    schedule.MoveKind `json:"kind"`
		Old     []visitJSON       `json:"old"`
		New     []visitJSON       `json:"new"`
		Reason  string            `json:"reason"`
		Adds    int64             `json:"adds"`
		Told    bool              `json:"farmer_was_told"`
	}
	visitJSON struct {
		Rig       booking.ID `json:"rig"`
		Day       string     `json:"day"`
		Part      int        `json:"part"`
		Parts     int        `json:"parts"`
		Head      int        `json:"head"`
		Arrive    time.Time  `json:"arrive"`
		Working   time.Time  `json:"working"`
		Finish    time.Time  `json:"finish"`
		Late      time.Time  `json:"finish_late"`
		Leave     time.Time  `json:"leave"`
		Overnight bool       `json:"overnight"`
		Lodged    bool       `json:"lodged"`
	}
	leftOutJSON struct {
		Booking booking.ID `json:"booking"`
		Number  int        `json:"number"`
		Farm    string     `json:"farm"`
		Reason  string     `json:"reason"`
	}
)

func planOf(f *schedule.Found, b booking.Business, accepted bool) planJSON {
	p := planJSON{
		ID: f.Planning.ID, From: f.Plan.From.String(), To: f.Plan.To.String(), Currency: b.Currency, Accepted: accepted && len(f.Plan.Moves) > 0,
		Iterations: f.Plan.Search.Iterations, Before: figuresJSON(f.Plan.Before), After: figuresJSON(f.Plan.After), Moves: []moveJSON{}, LeftOut: []leftOutJSON{},
	}
	for _, m := range f.Plan.Moves {
		p.Moves = append(p.Moves, moveJSON{m.Booking, m.Number, m.Farm, m.Kind(), visitsJSON(m.Old), visitsJSON(m.New), m.Reason, m.Adds, m.Told})
	}
	for _, o := range f.Plan.LeftOut {
		p.LeftOut = append(p.LeftOut, leftOutJSON{o.Booking, o.Number, o.Farm, o.Reason})
	}
	return p
}

func visitsJSON(visits []booking.Visit) []visitJSON {
	all := []visitJSON{}
	for _, v := range visits {
		all = append(all, visitJSON{v.RigID, v.Day.String(), v.Part, v.Parts, v.Head, v.Arrive, v.Working(), v.Finish(), v.FinishLate(), v.Leave(), v.Overnight, v.Lodged})
	}
	return all
}
