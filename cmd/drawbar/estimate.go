package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/pace"
	"drawbar/booking/say"
)

type estimateCmd struct {
	File  string `arg:"" optional:"" help:"A described visit; - reads what is piped in."`
	JSON  bool   `name:"json" help:"Print the result as JSON."`
	Score bool   `help:"Set the dockets in the database against what would have been predicted of each from those before it."`
}

// Help shows how a visit is described.
func (estimateCmd) Help() string {
	return `Says how long a visit will take: its parts, head an hour, and the time that
half, four of five and nine of ten such visits keep to. Where there is a
database, estimates are as your own dockets have taught; without one they stand
on the values everybody starts with.

A visit is a JSON object:

` + pace.Example + `
mobs      1 to ` + fmt.Sprint(pace.MaxMobs) + `. species sheep or goat; class ewe, ram, hogget, lamb, doe, buck or
          kid; head 1 to ` + fmt.Sprint(pace.MaxHead) + `. services: ` + wrapped(serviceCodes()) + `.
          May have: gates 1 to 3 for sort; lots of one size each, with head and
          size 1 (narrowest wall position) to 6; as_they_come, horned, full_wool,
          new_to_crate, lambs_at_foot: true.
setting   surface firm, hard, soft or slope; lights, power, helper: true where
          the yard has them; rig_standing, leave_standing: true where the rig
          stands from the day before or stays; hygiene 0 (known clean) to 3.
rig       mount trailer or skid; side_tilt; lead_up_places 1 to ` + fmt.Sprint(pace.MaxPlaces) + `;
          powered_gates 0 to 3; calm_panel.
crew      people 1 to ` + fmt.Sprint(pace.MaxPeople) + `; pusher: true for a dog or one more person pushing up.
farm_id, crew_id  whose own pace to use, as your dockets name them.`
}

func serviceCodes() []string {
	var codes []string
	for _, s := range pace.Services() {
		codes = append(codes, s.Code)
	}
	return codes
}

// wrapped breaks a list over two lines of the help.
func wrapped(words []string) string {
	half := len(words) / 2
	return strings.Join(words[:half], ", ") + ",\n          " + strings.Join(words[half:], ", ")
}

// Run estimates or scores.
func (e estimateCmd) Run(c *call) error {
	switch {
	case e.Score && e.File != "":
		return fault.New(fault.Invalid, "--score takes the dockets in the database, not a file; leave one of the two out.")
	case e.Score:
		return withApp(c, func(app *App) error { return e.score(c, app) })
	case e.File == "":
		return fault.New(fault.Invalid, "Give a file with a described visit, or --score; drawbar estimate --help shows the format.")
	}
	job, err := readJob(c.in, e.File)
	if err != nil {
		return err
	}
	if !hasDatabase(c.config.Database) {
		return e.estimate(c, pace.DefaultModel(), job, booking.PaceModel{})
	}
	return withApp(c, func(app *App) error {
		known, err := app.Store.PaceModel(c.ctx)
		if err != nil {
			return err
		}
		return e.estimate(c, app.Planner.Pace.Model(), job, known)
	})
}

// hasDatabase tells whether there is one; a file that is not there is none.
func hasDatabase(address string) bool {
	if strings.Contains(address, "://") {
		return true
	}
	_, err := os.Stat(address)
	return err == nil
}

// mostJob is the largest file that is looked at; pace refuses less.
const mostJob = 2 << 20

func readJob(in io.Reader, name string) (pace.Job, error) {
	if name != "-" {
		file, err := os.Open(name)
		if err != nil {
			return pace.Job{}, fault.Wrap(fault.Invalid, err, "The file "+name+" cannot be read; give the path of a described visit, or - for what is piped in.")
		}
		defer func() { _ = file.Close() }() // nothing was written
		in = file
	}
	data, err := io.ReadAll(io.LimitReader(in, mostJob))
	if err != nil {
		return pace.Job{}, fault.Wrap(fault.Invalid, err, "The visit cannot be read to its end.")
	}
	job, err := pace.ParseJob(data)
	return job, asFault(err)
}

// asFault tells of a field at fault the way every command does.
func asFault(err error) error {
	var bad *pace.Error
	if !errors.As(err, &bad) {
		return err
	}
	if bad.Field == "" {
		return fault.New(fault.Invalid, bad.Sentence)
	}
	return fault.Fields{bad.Field: bad.Sentence}.Err()
}

// estimated is what is printed.
type estimated struct {
	pace.Estimate
	Model struct {
		Version int `json:"version"` // 0: nothing learned
		Dockets int `json:"dockets"`
	} `json:"model"`
}

func (e estimateCmd) estimate(c *call, m *pace.Model, job pace.Job, known booking.PaceModel) error {
	estimate, err := m.Estimate(job)
	if err != nil {
		return asFault(err)
	}
	if e.JSON {
		out := estimated{Estimate: estimate}
		out.Model.Version, out.Model.Dockets = known.Version, known.Dockets
		return printJSON(c.out, out)
	}
	t := estimate.Total
	fmt.Fprintf(c.out, "%s\n  half of such visits are over in %s, four of five in %s, nine of ten in %s\n  %.0f head an hour at the crate\n\n",
		t.Words(), say.Length(t.Median), say.Length(t.P80), say.Length(t.P90), estimate.HeadPerHour)
	for _, p := range partsOf(estimate.Parts) {
		fmt.Fprintf(c.out, "  %-22s %3.0f min\n", p.name, p.minutes)
	}
	fmt.Fprintln(c.out)
	for _, sentence := range estimate.Drivers {
		fmt.Fprintln(c.out, "  "+sentence)
	}
	fmt.Fprintln(c.out, "  "+standsOn(known))
	return nil
}

type namedPart struct {
	name    string
	minutes float64
}

// partsOf are the parts that take any time, in working order.
func partsOf(p pace.Parts) []namedPart {
	return slices.DeleteFunc([]namedPart{
		{"Set-up", p.SetUp.Minutes}, {"Work", p.Work.Minutes}, {"Wall and gate changes", p.Changes.Minutes},
		{"Breaks", p.Breaks.Minutes}, {"Pack-down", p.PackDown.Minutes}, {"Wash-down", p.WashDown.Minutes},
	}, func(n namedPart) bool { return n.minutes < 0.5 })
}

func standsOn(m booking.PaceModel) string {
	if m.Dockets == 0 {
		return "This stands on the values everybody starts with; your signed dockets will teach it."
	}
	return fmt.Sprintf("This stands on %d of your own dockets (version %d).", m.Dockets, m.Version)
}

func printJSON(w io.Writer, v any) error {
	out := json.NewEncoder(w)
	out.SetIndent("", "  ")
	return out.Encode(v)
}
