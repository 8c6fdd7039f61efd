package main

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"slices"
	"strconv"
	"strings"
)

// result is one instance solved. best is 0 when unknown.
type result struct {
	name     string
	vehicles int
	distance float64
	best     float64
	rate     float64 // iterations a second
}

// gap is how far above the best known, in per cent.
func (r result) gap() float64 { return 100 * (r.distance/r.best - 1) }

func (r result) print(out io.Writer) {
	fmt.Fprintf(out, "%-8s %3d vehicles %10.1f", r.name, r.vehicles, r.distance)
	if r.best > 0 {
		fmt.Fprintf(out, "  best known %10.1f  gap %6.2f %%", r.best, r.gap())
	}
	fmt.Fprintf(out, "  %9.0f it/s\n", r.rate)
}

// report gathers results by class, such as R2.
type report struct{ results []result }

func (r *report) add(row result) { r.results = append(r.results, row) }

// class is the letters of a name and its first digit.
func class(name string) string {
	i := strings.IndexAny(name, "0123456789")
	if i < 0 {
		return name
	}
	return name[:i+1]
}

func (r *report) print(out io.Writer) {
	var classes []string
	for _, row := range r.results {
		if c := class(row.name); !slices.Contains(classes, c) {
			classes = append(classes, c)
		}
	}
	fmt.Fprintf(out, "\n%-8s %10s %10s %12s %8s %12s\n", "class", "instances", "vehicles", "distance", "gap %", "it/s")
	for _, c := range classes {
		r.printClass(out, c)
	}
	gap, n := r.mean("")
	fmt.Fprintf(out, "gap %.2f %% over %d instances\n", gap, n)
}

func (r *report) printClass(out io.Writer, c string) {
	var n, vehicles int
	var distance, rate float64
	for _, row := range r.results {
		if class(row.name) == c {
			n++
			vehicles += row.vehicles
			distance += row.distance
			rate += row.rate
		}
	}
	gap, _ := r.mean(c)
	fmt.Fprintf(out, "%-8s %10d %10d %12.1f %8.2f %12.0f\n", c, n, vehicles, distance, gap, rate/float64(n))
}

// mean is the mean gap of a class, or of all, over instances with a best
// known distance.
func (r *report) mean(c string) (float64, int) {
	var sum float64
	n := 0
	for _, row := range r.results {
		if row.best > 0 && (c == "" || class(row.name) == c) {
			sum += row.gap()
			n++
		}
	}
	return sum / float64(max(n, 1)), n
}

// bestKnown reads best-known distances; none without a file.
func bestKnown(name string) (map[string]float64, error) {
	f, err := os.Open(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil || len(rows) == 0 {
		return nil, fmt.Errorf("%s: no table: %v", name, err)
	}
	column := slices.Index(rows[0], "distance_trunc1")
	if column < 0 {
		return nil, fmt.Errorf("%s: no column distance_trunc1", name)
	}
	out := map[string]float64{}
	for _, row := range rows[1:] {
		if out[row[0]], err = strconv.ParseFloat(row[column], 64); err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
	}
	return out, nil
}
