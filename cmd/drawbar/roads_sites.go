package main

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"drawbar/booking/fault"
	"drawbar/routing"

	"github.com/paulmach/orb"
)

// mostSites is what one table takes: four million drives.
const mostSites = 2000

// siteColumns of a list of sites, in any order; further ones are left alone.
var siteColumns = []string{"id", "lat", "lon"}

// readSites reads a list of sites: comma-separated after RFC 4180, or with
// semicolons as spreadsheets write them where the comma is for decimals, with
// a first line that names the columns, positions in degrees (WGS 84). An error
// names the line and what is wrong with it.
func readSites(in io.Reader) ([]routing.Place, error) {
	text := bufio.NewReader(in)
	rows := csv.NewReader(text)
	rows.Comma = separator(text)
	rows.ReuseRecord, rows.TrimLeadingSpace = true, true
	head, err := rows.Read()
	if err != nil {
		return nil, siteFault(rows, err, "The list of sites is empty. Its first line names the columns: id,lat,lon.")
	}
	at, err := siteHead(head)
	if err != nil {
		return nil, err
	}
	var sites []routing.Place
	seen := map[string]int{}
	for {
		row, err := rows.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, siteFault(rows, err, "")
		}
		line, _ := rows.FieldPos(0)
		site, err := readSite(row, at, line)
		if err != nil {
			return nil, err
		}
		if first := seen[site.ID]; first > 0 {
			return nil, fault.Newf(fault.Invalid, "Line %d: id %q stands on line %d already.", line, site.ID, first)
		}
		seen[site.ID] = line
		if sites = append(sites, site); len(sites) > mostSites {
			return nil, fault.Newf(fault.TooLarge, "More than %d sites are too many for one table. Split the list.", mostSites)
		}
	}
	if len(sites) == 0 {
		return nil, fault.New(fault.Invalid, "The list names its columns but holds no site.")
	}
	return sites, nil
}

// separator is the one that the first line uses.
func separator(text *bufio.Reader) rune {
	start, _ := text.Peek(256)
	head, _, _ := bytes.Cut(start, []byte("\n"))
	if bytes.ContainsRune(head, ';') && !bytes.ContainsRune(head, ',') {
		return ';'
	}
	return ','
}

// siteHead finds the columns.
func siteHead(head []string) (at [3]int, err error) {
	for i, h := range head {
		head[i] = strings.ToLower(strings.TrimSpace(strings.TrimPrefix(h, "\ufeff")))
	}
	for i, name := range siteColumns {
		if at[i] = slices.Index(head, name); at[i] < 0 {
			return at, fault.Newf(fault.Invalid, "Line 1: there is no column %q. The first line names the columns: id,lat,lon.", name)
		}
	}
	return at, nil
}

func readSite(row []string, at [3]int, line int) (routing.Place, error) {
	id := strings.TrimSpace(row[at[0]])
	if id == "" {
		return routing.Place{}, fault.Newf(fault.Invalid, "Line %d: id is empty.", line)
	}
	lat, err := degrees(row[at[1]], 90)
	if err != nil {
		return routing.Place{}, fault.Newf(fault.Invalid, "Line %d: lat: %v", line, err)
	}
	lon, err := degrees(row[at[2]], 180)
	if err != nil {
		return routing.Place{}, fault.Newf(fault.Invalid, "Line %d: lon: %v", line, err)
	}
	return routing.Place{ID: id, At: orb.Point{lon, lat}}, nil
}

func degrees(text string, most float64) (float64, error) {
	d, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(text), ",", ".", 1), 64)
	if err != nil || !(math.Abs(d) <= most) { // NaN is neither
		return 0, fmt.Errorf("%q is not a number of degrees from -%g to %g", text, most, most)
	}
	return d, nil
}

// siteFault says what a reader of comma-separated values stumbled over.
func siteFault(rows *csv.Reader, err error, empty string) error {
	var bad *csv.ParseError
	switch {
	case errors.Is(err, io.EOF):
		return fault.New(fault.Invalid, empty)
	case errors.As(err, &bad):
		return fault.Newf(fault.Invalid, "Line %d: %v. Lines hold as many values as the first one, separated by commas.", bad.Line, bad.Err)
	}
	return fault.Wrap(fault.Invalid, err, "The list of sites cannot be read.")
}
