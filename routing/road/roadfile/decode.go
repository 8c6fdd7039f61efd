package roadfile

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"math"
	"strings"
	"time"

	"drawbar/booking/fault"
	"drawbar/routing/road/network"
	"drawbar/routing/road/tag"
)

// Read reads a network from the bytes of a file.
func Read(data []byte) (*network.Roads, error) {
	body, err := open(data)
	if err != nil {
		return nil, err
	}
	r, err := decode(body)
	if err != nil {
		return nil, fault.Wrap(fault.Invalid, err, "The road file does not hold a road network. Import the roads again.")
	}
	return r, nil
}

// open checks the head and gives the body.
func open(data []byte) ([]byte, error) {
	begin := string(data[:min(len(data), len(magic))])
	switch {
	case begin == magic && len(data) >= headSize:
	case strings.HasPrefix(magic, begin) && begin != "":
		return nil, fault.New(fault.Invalid, "The road file is cut off. Import the roads again.")
	case strings.HasPrefix(begin, family):
		return nil, fault.New(fault.Invalid, "The road file was written by another version of Drawbar. Import the roads again.")
	default:
		return nil, fault.New(fault.Invalid, "This is not a road file. Make one with “drawbar roads import”.")
	}
	size := binary.LittleEndian.Uint64(data[len(magic):])
	body := data[headSize:]
	if uint64(len(body)) < size {
		return nil, fault.Newf(fault.Invalid, "The road file is cut off: %d of %d bytes are there. Import the roads again.", len(body), size)
	}
	sum := sha256.Sum256(body)
	if uint64(len(body)) > size || !bytes.Equal(sum[:], data[headSize-sha256.Size:headSize]) {
		return nil, fault.New(fault.Invalid, "The road file is damaged: its checksum is wrong. Import the roads again.")
	}
	return body, nil
}

func decode(body []byte) (*network.Roads, error) {
	d := &decoder{b: body}
	r := &network.Roads{Region: d.text(), Source: d.text()}
	if t := d.int(-1<<40, 1<<40); t != 0 {
		r.Date = time.Unix(t, 0).UTC()
	}
	r.Kinds = d.kinds()
	r.Names = make([]string, d.count(1))
	for i := range r.Names {
		r.Names[i] = d.text()
	}
	d.vertices(r)
	d.edges(r)
	d.bans(r)
	d.order(r)
	if d.err == nil && len(d.b) > 0 {
		d.fail("%d bytes too many", len(d.b))
	}
	return r, d.err
}

// kindSize is the least number of bytes a kind takes.
const kindSize = 19

func (d *decoder) kinds() []network.Kind {
	kinds := make([]network.Kind, d.count(kindSize))
	short := func() uint16 { return uint16(d.uint(math.MaxUint16)) }
	for i := range kinds {
		k := &kinds[i]
		k.Class = network.Class(d.below(int(network.Classes)))
		k.Access = [2]tag.Access{tag.Access(d.below(3)), tag.Access(d.below(3))}
		k.Limit, k.TowLimit = [2]uint16{short(), short()}, [2]uint16{short(), short()}
		k.Surface = network.Surface(d.uint(uint64(network.Soft)))
		k.Roughness, k.Grade = uint8(d.uint(8)), uint8(d.uint(5))
		k.Features, k.MaxKg = network.Feature(short()), uint32(d.uint(math.MaxUint32))
		k.MaxHeight, k.MaxWidth, k.MaxLength, k.Width = short(), short(), short(), short()
		k.Delay = [2]uint16{short(), short()}
		k.Incline = int8(d.int(-100, 100))
	}
	return kinds
}

func (d *decoder) vertices(r *network.Roads) {
	n := d.count(3)
	r.Vertices, r.At = make([]network.Point, n), make([]network.VertexFlags, n)
	last := network.Point{}
	for i := range r.Vertices {
		last = d.step(last)
		r.Vertices[i] = last
	}
	for i := range r.At {
		r.At[i] = network.VertexFlags(d.uint(math.MaxUint8))
	}
}

// mostEnds is how many road ends may meet at a vertex. No map comes near it;
// without a bound a small file could ask for endless turns.
const mostEnds = 250

// edgeSize is the least number of bytes an edge takes.
const edgeSize = 7

func (d *decoder) edges(r *network.Roads) {
	n := d.count(edgeSize)
	r.Edges, r.ShapeEnd = make([]network.Edge, n), make([]uint32, n)
	ends := make([]uint8, len(r.Vertices))
	from, top := int64(0), int64(len(r.Vertices))-1
	for i := range r.Edges {
		from += d.int(-from, top-from)
		to := from + d.int(-from, top-from)
		if d.err != nil {
			return
		}
		if ends[from] == mostEnds || ends[to] == mostEnds {
			d.fail("more than %d road ends at one vertex", mostEnds)
			return
		}
		ends[from]++
		ends[to]++
		r.Edges[i] = network.Edge{
			From: int32(from), To: int32(to), Kind: d.below(len(r.Kinds)), Name: d.below(len(r.Names)),
			Length: int32(d.uint(math.MaxInt32)), Flags: network.EdgeFlags(d.uint(math.MaxUint8)),
		}
		last := r.Vertices[from]
		for range d.count(2) {
			last = d.step(last)
			r.Shapes = append(r.Shapes, last)
		}
		r.ShapeEnd[i] = uint32(len(r.Shapes))
	}
}

func (d *decoder) bans(r *network.Roads) {
	n := d.count(4)
	r.Bans = make([]network.Ban, n)
	for i := range r.Bans {
		r.Bans[i].Tow = d.uint(1) == 1
		r.Bans[i].Arcs = make([]int32, d.count(1))
		for k := range r.Bans[i].Arcs {
			r.Bans[i].Arcs[k] = d.below(2 * len(r.Edges))
		}
		if d.err == nil && len(r.Bans[i].Arcs) < 2 {
			d.fail("a ban of less than two arcs")
		}
	}
}

func (d *decoder) order(r *network.Roads) {
	n := d.count(1)
	r.Order = make([]int32, n)
	seen := make([]bool, len(r.Edges))
	for i := range r.Order {
		e := d.below(len(r.Edges))
		if d.err != nil {
			return
		}
		if seen[e] {
			d.fail("edge %d is ordered twice", e)
		}
		seen[e], r.Order[i] = true, e
	}
}
