package extract

import (
	"compress/bzip2"
	"context"
	"fmt"
	"io"
	"strings"

	"github.com/paulmach/osm"
	"github.com/paulmach/osm/osmpbf"
	"github.com/paulmach/osm/osmxml"

	"drawbar/booking/fault"
)

// Format is how an extract is written.
type Format string

// The formats, named as their files end.
const (
	PBF Format = "osm.pbf"
	BZ2 Format = "osm.bz2"
	XML Format = "osm"
)

// FormatOf tells the format from a file's name.
func FormatOf(name string) (Format, error) {
	for _, f := range []Format{PBF, BZ2, XML} {
		if strings.HasSuffix(strings.ToLower(name), "."+string(f)) {
			return f, nil
		}
	}
	return "", fault.Newf(fault.Invalid, "%q is not a road extract we can read. Give a file ending in .osm.pbf, .osm.bz2 or .osm.", name)
}

// scanner opens one reading of the file. What is not wanted is left out where
// the format allows it.
func scanner(ctx context.Context, r io.Reader, f Format, want wanted) (osm.Scanner, error) {
	switch f {
	case PBF:
		s := osmpbf.New(ctx, r, 1)
		s.SkipNodes, s.SkipWays, s.SkipRelations = want.node == nil, want.way == nil, want.relation == nil
		s.FilterNode, s.FilterWay = want.node, want.way
		return s, nil
	case BZ2:
		return osmxml.New(ctx, bzip2.NewReader(r)), nil
	case XML:
		return osmxml.New(ctx, r), nil
	}
	return nil, fmt.Errorf("extract: unknown format %q", f)
}

// wanted says which elements a reading is for; nil wants none of a type.
type wanted struct {
	node     func(*osm.Node) bool
	way      func(*osm.Way) bool
	relation func(*osm.Relation)
}

// read goes through the file once. keepNode and keepWay are called in turn for
// each element wanted.
func (im *importer) read(ctx context.Context, stage string, want wanted, keepNode func(*osm.Node), keepWay func(*osm.Way)) error {
	if _, err := im.in.Seek(0, io.SeekStart); err != nil {
		return fmt.Errorf("extract: %w", err)
	}
	s, err := scanner(ctx, &counter{r: im.in, im: im, stage: stage}, im.opts.Format, want)
	if err != nil {
		return err
	}
	defer s.Close()
	im.date(s)
	for s.Scan() {
		switch o := s.Object().(type) {
		case *osm.Node:
			if want.node != nil && want.node(o) {
				keepNode(o)
			}
		case *osm.Way:
			if want.way != nil && want.way(o) {
				keepWay(o)
			}
		case *osm.Relation:
			if want.relation != nil {
				want.relation(o)
			}
		}
	}
	if err := s.Err(); err != nil {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		return fault.Wrap(fault.Invalid, err, "The road extract is damaged or not in the format its name says.")
	}
	return ctx.Err()
}

// date takes the date of the data from the head of the file, where there is
// one and none was given.
func (im *importer) date(s osm.Scanner) {
	p, ok := s.(*osmpbf.Scanner)
	if !ok || !im.roads.Date.IsZero() {
		return
	}
	if h, err := p.Header(); err == nil && h != nil && h.ReplicationTimestamp.Unix() > 0 {
		im.roads.Date = h.ReplicationTimestamp.UTC()
	}
}

// counter reports how far the reading is.
type counter struct {
	r     io.Reader
	im    *importer
	stage string
	done  int64
}

func (c *counter) Read(p []byte) (int, error) {
	n, err := c.r.Read(p)
	c.done += int64(n)
	c.im.report(c.stage, c.done, c.im.size)
	return n, err
}
