package extract

import (
	"context"
	"fmt"
	"io"
	"time"

	"github.com/paulmach/osm"

	"drawbar/booking/fault"
	"drawbar/routing/road/network"
	"drawbar/routing/road/tag"
)

// Options say how to import.
type Options struct {
	Format   Format
	Region   string                                // ISO 3166 code whose rules hold; see drive.Regions
	Source   string                                // credit line; "" for OpenStreetMap's
	Date     time.Time                             // of the data; zero takes it from the file, if it says
	Progress func(stage string, done, total int64) // may be nil; called often, from one goroutine
}

// Report says what an import found.
type Report struct {
	Ways     int // car roads read
	Vertices int
	Edges    int
	Bans     int // forbidden turns
	Unclear  int // turn restrictions left out because they do not fit the roads
	Missing  int // roads cut short because the file lacks their nodes
	Through  int // edges that may lie in the middle of a journey
	Pockets  int // edges that could, but hang on private or farm roads, or on nothing
}

// credit is the line the licence of the data asks for.
const credit = "© OpenStreetMap contributors"

// Import reads an extract. It reads the file twice, so it needs to seek.
func Import(ctx context.Context, in io.ReadSeeker, opts Options) (*network.Roads, *Report, error) {
	im, err := newImporter(in, opts)
	if err != nil {
		return nil, nil, err
	}
	for _, step := range []func(context.Context) error{im.readWays, im.readNodes, im.cutWays, im.bans, im.layout, im.connect, im.order} {
		if err := step(ctx); err != nil {
			return nil, nil, err
		}
	}
	return im.roads, &im.found, nil
}

// importer is an import under way. Nodes are known by their place in the
// sorted list of ids.
type importer struct {
	in    io.ReadSeeker
	opts  Options
	size  int64
	roads *network.Roads
	found Report

	ways    []way
	refs    []int64 // node ids of all ways, one after the other
	rules   []restriction
	ids     []int64          // node ids used, ascending
	uses    []uint8          // road ends that meet at a node: 2 for each way through it, at most 255
	place   []network.Point  // where a node is
	known   []bool           // whether the file has it
	vertex  []int32          // vertex made of a node, or -1
	objects map[int32]object // what stands at a node
	kinds   map[network.Kind]int32
	names   map[string]int32
	pieces  map[int64][]int32 // edges of the ways that restrictions name
}

// way is a car road as read.
type way struct {
	id   int64
	from int // refs[from:to]
	to   int
	kind network.Kind
	name int32

	minutes float64 // a ferry takes, 0 if not said
}

func newImporter(in io.ReadSeeker, opts Options) (*importer, error) {
	size, err := in.Seek(0, io.SeekEnd)
	if err != nil {
		return nil, fmt.Errorf("extract: %w", err)
	}
	if opts.Source == "" {
		opts.Source = credit
	}
	return &importer{
		in: in, opts: opts, size: size,
		roads:   &network.Roads{Region: opts.Region, Source: opts.Source, Date: opts.Date, Names: []string{""}},
		objects: map[int32]object{}, kinds: map[network.Kind]int32{}, names: map[string]int32{"": 0}, pieces: map[int64][]int32{},
	}, nil
}

func (im *importer) report(stage string, done, total int64) {
	if im.opts.Progress != nil {
		im.opts.Progress(stage, done, total)
	}
}

// readWays keeps the car roads and the turn restrictions.
func (im *importer) readWays(ctx context.Context) error {
	isRoad := func(w *osm.Way) bool { return len(w.Nodes) > 1 && isCarRoad(w.Tags) }
	err := im.read(ctx, "roads", wanted{way: isRoad, relation: im.keepRestriction}, nil, im.keepWay)
	if err != nil {
		return err
	}
	if len(im.ways) == 0 {
		return fault.New(fault.Invalid, "The extract has no roads for cars. Check that it is an OpenStreetMap extract of the area you work in.")
	}
	im.found.Ways = len(im.ways)
	im.indexNodes()
	return nil
}

func (im *importer) keepWay(w *osm.Way) {
	from := len(im.refs)
	for _, n := range w.Nodes {
		im.refs = append(im.refs, int64(n.ID))
	}
	minutes, _ := tag.Minutes(w.Tags.Find("duration"))
	im.ways = append(im.ways, way{int64(w.ID), from, len(im.refs), kindOf(w.Tags), im.name(w.Tags), minutes})
}

// name numbers a road's name; a road without one goes by its number.
func (im *importer) name(tags osm.Tags) int32 {
	name := tags.Find("name")
	if name == "" {
		name = tags.Find("ref")
	}
	i, ok := im.names[name]
	if !ok {
		i = int32(len(im.roads.Names))
		im.names[name] = i
		im.roads.Names = append(im.roads.Names, name)
	}
	return i
}

// kind numbers a kind.
func (im *importer) kind(k network.Kind) int32 {
	i, ok := im.kinds[k]
	if !ok {
		i = int32(len(im.roads.Kinds))
		im.kinds[k] = i
		im.roads.Kinds = append(im.roads.Kinds, k)
	}
	return i
}
