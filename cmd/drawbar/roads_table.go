package main

import (
	"encoding/json"
	"fmt"
	"os"
	"text/tabwriter"
	"time"

	"drawbar/booking/fault"
	"drawbar/booking/say"
	"drawbar/routing"
	"drawbar/routing/road"
	"drawbar/routing/road/drive"
)

type roadsTableCmd struct {
	Sites string `arg:"" help:"List of sites: comma-separated, the first line names the columns id, lat and lon (degrees, WGS 84)."`
	JSON  bool   `name:"json" help:"Print JSON: the sites with the road each is reached from, and a matrix of drives with seconds and metres, or null and the reason."`
	Check bool   `help:"Repeat every drive by Dijkstra's algorithm, without the hierarchy, and report any difference."`
	Solo  bool   `help:"The vehicle without the rig."`

	Mass   int     `help:"Of the whole train, or the vehicle alone with --solo, in kilograms; 0 = no limit is met."`
	Length float64 `help:"In metres; 0 = no limit is met."`
	Width  float64 `help:"In metres; 0 = no limit is met."`
	Height float64 `help:"In metres; 0 = no limit is met."`
}

// Validate is called by the parser of the command line.
func (r roadsTableCmd) Validate() error {
	for name, v := range map[string]float64{"mass": float64(r.Mass), "length": r.Length, "width": r.Width, "height": r.Height} {
		if !(v >= 0 && v <= 100_000) {
			return fmt.Errorf("--%s: give 0 or more", name)
		}
	}
	return nil
}

func (r roadsTableCmd) vehicle() drive.Vehicle {
	cm := func(metres float64) int { return int(metres*100 + 0.5) }
	return drive.Vehicle{Towing: !r.Solo, Kg: r.Mass, Length: cm(r.Length), Width: cm(r.Width), Height: cm(r.Height)}
}

// Run prints the table.
func (r roadsTableCmd) Run(c *call) error {
	m, err := c.config.roadMap()
	if err != nil {
		return err
	}
	if m == nil {
		return fault.New(fault.Invalid, "There are no roads yet. Make a road file with `drawbar roads import`, and name it with --road-file; \"demo\" is the one that comes with the program.")
	}
	places, err := r.places()
	if err != nil {
		return err
	}
	t, err := r.drives(c, m, places)
	if err != nil {
		return err
	}
	if err := t.print(c, r.JSON); err != nil || !r.Check {
		return err
	}
	return r.check(c, m, t)
}

func (r roadsTableCmd) places() ([]routing.Place, error) {
	file, err := os.Open(r.Sites)
	if err != nil {
		return nil, fault.Wrap(fault.Invalid, err, "The list of sites "+r.Sites+" cannot be opened.")
	}
	defer file.Close()
	return readSites(file)
}

// roadTable is what is printed.
type roadTable struct {
	Roads struct {
		Credit string    `json:"credit"`
		Date   time.Time `json:"date"`
	} `json:"roads"`
	Profile string        `json:"profile"` // towing or solo
	Sites   []tableSite   `json:"sites"`
	Drives  [][]tableCell `json:"drives"` // from row to column
	sites   []road.Site
}

type tableSite struct {
	ID      string  `json:"id"`
	Lat     float64 `json:"lat"`
	Lon     float64 `json:"lon"`
	Road    string  `json:"road"`              // it is reached from
	Gap     int     `json:"gap_metres"`        // over the ground
	Problem string  `json:"problem,omitempty"` // why somebody should look at its position
}

// tableCell is a drive; without one both are null.
type tableCell struct {
	Seconds *int32 `json:"seconds"`
	Metres  *int32 `json:"metres"`
	Reason  string `json:"reason,omitempty"`
}

func (r roadsTableCmd) drives(c *call, m *road.Map, places []routing.Place) (*roadTable, error) {
	t := &roadTable{Profile: "towing"}
	if r.Solo {
		t.Profile = "solo"
	}
	t.Roads.Credit, t.Roads.Date = m.Info().Source, m.Info().Date.UTC()
	for _, p := range places {
		s := m.Snap(p.At)
		t.sites = append(t.sites, s)
		t.Sites = append(t.Sites, tableSite{p.ID, p.At.Lat(), p.At.Lon(), s.Road, int(s.Gap+5) / 10, s.Problem})
	}
	costs, err := m.Costs(c.ctx, t.sites, r.vehicle())
	if err != nil {
		return nil, err
	}
	for i := range t.sites {
		row := make([]tableCell, len(t.sites))
		for j := range row {
			row[j] = r.cell(m, &t.sites[i], &t.sites[j], costs[i*len(t.sites)+j])
		}
		row[i] = tableCell{Seconds: new(int32), Metres: new(int32)} // who stays does not drive
		t.Drives = append(t.Drives, row)
	}
	return t, nil
}

func (r roadsTableCmd) cell(m *road.Map, from, to *road.Site, cost drive.Cost) tableCell {
	if cost >= drive.Inf {
		return tableCell{Reason: m.WhyNot(from, to, r.vehicle())}
	}
	leg := road.LegOf(cost)
	return tableCell{Seconds: &leg.Seconds, Metres: &leg.Metres}
}

func (t *roadTable) print(c *call, asJSON bool) error {
	if asJSON {
		out := json.NewEncoder(c.out)
		out.SetEscapeHTML(false)
		return out.Encode(t)
	}
	w := tabwriter.NewWriter(c.out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "from\tto\tdrive\tkm")
	for i, row := range t.Drives {
		for j, cell := range row {
			if i == j {
				continue
			}
			length, km := "-", cell.Reason
			if cell.Seconds != nil {
				length, km = say.Length(time.Duration(*cell.Seconds)*time.Second), fmt.Sprintf("%.1f", float64(*cell.Metres)/1000)
			}
			fmt.Fprintf(w, "%s\t%s\t%s\t%s\n", t.Sites[i].ID, t.Sites[j].ID, length, km)
		}
	}
	fmt.Fprintln(w, t.Roads.Credit)
	return w.Flush()
}

// check repeats the table and fails where the two differ.
func (r roadsTableCmd) check(c *call, m *road.Map, t *roadTable) error {
	differences, err := m.Check(c.ctx, t.sites, r.vehicle())
	if err != nil {
		return err
	}
	for _, d := range differences {
		fmt.Fprintf(c.err, "%s to %s: %s by the hierarchy, %s by Dijkstra\n", t.Sites[d.From].ID, t.Sites[d.To].ID, costWords(d.Got), costWords(d.Want))
	}
	if n := len(differences); n > 0 {
		return fault.Newf(fault.Internal, "%d of %d drives differ.", n, len(t.sites)*len(t.sites))
	}
	fmt.Fprintf(c.err, "All %d drives are the same by Dijkstra.\n", len(t.sites)*len(t.sites))
	return nil
}

func costWords(c drive.Cost) string {
	if c >= drive.Inf {
		return "no way"
	}
	return fmt.Sprintf("%d ms, %d dm", drive.Millis(c), drive.Decimetres(c))
}
