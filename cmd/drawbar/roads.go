package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"drawbar/booking/fault"
	"drawbar/routing"
	"drawbar/routing/road"
	"drawbar/routing/road/extract"
	"drawbar/testdata"
)

// demoRoads names the road file that comes with the program.
const demoRoads = "demo"

// roadMap is the imported roads, nil where there are none.
func (c Config) roadMap() (*road.Map, error) {
	if c.Roads == "" {
		return nil, nil
	}
	data := testdata.Roads
	if c.Roads != demoRoads {
		var err error
		if data, err = os.ReadFile(c.Roads); err != nil {
			return nil, fault.Wrap(fault.Invalid, err, "The road file "+c.Roads+" cannot be read. Make one with `drawbar roads import`.")
		}
	}
	m, err := road.Open(data)
	if err != nil {
		return nil, fault.Wrap(fault.Invalid, err, "The road file "+c.Roads+" cannot be used. Make it again with `drawbar roads import`.")
	}
	return m, nil
}

// roadsOf is what drives are taken from: imported roads, or the estimate where
// there are none.
func roadsOf(m *road.Map) routing.Roads {
	if m == nil {
		return routing.Estimator{}
	}
	return m
}

type roadsCmd struct {
	Import roadsImportCmd `cmd:"" help:"Make a road file of an OpenStreetMap extract."`
	Table  roadsTableCmd  `cmd:"" help:"Print the drives from every site to every other."`
}

type roadsImportCmd struct {
	File   string `arg:"" help:"Extract: .osm.pbf, .osm.bz2 or .osm."`
	Out    string `help:"Road file to write; beside the extract, with the ending .road, if left out." short:"o"`
	Region string `help:"ISO 3166 code of the country or state whose speed limits hold, such as US-DE or IE."`
}

// Run makes a road file.
func (r roadsImportCmd) Run(c *call) (err error) {
	format, base, err := formatOf(r.File)
	if err != nil {
		return err
	}
	if r.Out == "" {
		r.Out = base + ".road"
	}
	in, err := os.Open(r.File)
	if err != nil {
		return fault.Wrap(fault.Invalid, err, "The extract "+r.File+" cannot be opened.")
	}
	defer in.Close()
	return replace(r.Out, func(out io.Writer) error {
		options := extract.Options{Format: format, Region: strings.ToUpper(r.Region), Progress: progress(c.err)}
		report, err := road.Import(c.ctx, in, out, options)
		if err != nil {
			return err
		}
		_, err = fmt.Fprintf(c.out, "\n%d roads, %d stretches, %d forbidden turns: %s\n", report.Ways, report.Edges, report.Bans, r.Out)
		return err
	})
}

// formatOf reads an extract's kind off its name.
func formatOf(name string) (format extract.Format, base string, err error) {
	for _, f := range []struct {
		ending string
		format extract.Format
	}{{".osm.pbf", extract.PBF}, {".osm.bz2", extract.BZ2}, {".osm", extract.XML}} {
		if base, found := strings.CutSuffix(name, f.ending); found {
			return f.format, base, nil
		}
	}
	return format, "", fault.New(fault.Invalid, "Give an extract whose name ends in .osm.pbf, .osm.bz2 or .osm.")
}

// replace writes a file beside its place and moves it there when it is whole.
func replace(name string, write func(io.Writer) error) (err error) {
	file, err := os.CreateTemp(filepath.Dir(name), ".road-*")
	if err != nil {
		return fault.Wrap(fault.Invalid, err, "Nothing can be written beside "+name+".")
	}
	defer func() {
		if err != nil {
			_ = os.Remove(file.Name()) // what failed is told already
		}
	}()
	if err := errors.Join(write(file), file.Close()); err != nil {
		return err
	}
	return os.Rename(file.Name(), name)
}

// progress shows how far an import is, in whole per cents.
func progress(out io.Writer) func(stage string, done, total int64) {
	last := ""
	return func(stage string, done, total int64) {
		line := stage
		if total > 0 {
			line = fmt.Sprintf("%s %d %%", stage, done*100/total)
		}
		if line != last {
			last = line
			fmt.Fprintf(out, "\r%-40s", line)
		}
	}
}
