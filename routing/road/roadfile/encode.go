package roadfile

import (
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"io"

	"drawbar/routing/road/network"
)

// magic begins every file; the number is the version of the format.
const (
	magic    = "drawbar roads 1\n"
	family   = "drawbar roads "
	headSize = len(magic) + 8 + sha256.Size
)

// Write writes a network to w.
func Write(w io.Writer, r *network.Roads) error {
	body := encode(r)
	for _, part := range [][]byte{head(body), body} {
		if _, err := w.Write(part); err != nil {
			return fmt.Errorf("roadfile: %w", err)
		}
	}
	return nil
}

func head(body []byte) []byte {
	h := binary.LittleEndian.AppendUint64([]byte(magic), uint64(len(body)))
	sum := sha256.Sum256(body)
	return append(h, sum[:]...)
}

// encoder appends to a growing body.
type encoder struct{ b []byte }

func (e *encoder) uint(v uint64) { e.b = binary.AppendUvarint(e.b, v) }
func (e *encoder) int(v int64)   { e.b = binary.AppendVarint(e.b, v) }

func (e *encoder) text(s string) {
	e.uint(uint64(len(s)))
	e.b = append(e.b, s...)
}

func (e *encoder) step(from, to network.Point) {
	e.int(int64(to.Lat) - int64(from.Lat))
	e.int(int64(to.Lon) - int64(from.Lon))
}

func encode(r *network.Roads) []byte {
	e := &encoder{}
	e.text(r.Region)
	e.text(r.Source)
	e.int(unix(r))
	e.kinds(r.Kinds)
	e.uint(uint64(len(r.Names)))
	for _, n := range r.Names {
		e.text(n)
	}
	e.vertices(r)
	e.edges(r)
	e.bans(r.Bans)
	e.uint(uint64(len(r.Order)))
	for _, edge := range r.Order {
		e.uint(uint64(edge))
	}
	return e.b
}

// unix is the date of the data, 0 when not known.
func unix(r *network.Roads) int64 {
	if r.Date.IsZero() {
		return 0
	}
	return r.Date.Unix()
}

func (e *encoder) kinds(kinds []network.Kind) {
	e.uint(uint64(len(kinds)))
	for i := range kinds {
		k := &kinds[i]
		for _, v := range []uint64{
			uint64(k.Class), uint64(k.Access[0]), uint64(k.Access[1]), uint64(k.Limit[0]), uint64(k.Limit[1]),
			uint64(k.TowLimit[0]), uint64(k.TowLimit[1]), uint64(k.Surface), uint64(k.Roughness), uint64(k.Grade), uint64(k.Features),
			uint64(k.MaxKg), uint64(k.MaxHeight), uint64(k.MaxWidth), uint64(k.MaxLength), uint64(k.Width),
			uint64(k.Delay[0]), uint64(k.Delay[1]),
		} {
			e.uint(v)
		}
		e.int(int64(k.Incline))
	}
}

func (e *encoder) vertices(r *network.Roads) {
	e.uint(uint64(len(r.Vertices)))
	last := network.Point{}
	for _, p := range r.Vertices {
		e.step(last, p)
		last = p
	}
	for _, f := range r.At {
		e.uint(uint64(f))
	}
}

func (e *encoder) edges(r *network.Roads) {
	e.uint(uint64(len(r.Edges)))
	from := int32(0)
	for i, edge := range r.Edges {
		e.int(int64(edge.From) - int64(from))
		e.int(int64(edge.To) - int64(edge.From))
		from = edge.From
		e.uint(uint64(edge.Kind))
		e.uint(uint64(edge.Name))
		e.uint(uint64(edge.Length))
		e.uint(uint64(edge.Flags))
		e.shape(r.Vertices[edge.From], r.Shape(int32(i)))
	}
}

func (e *encoder) shape(last network.Point, shape []network.Point) {
	e.uint(uint64(len(shape)))
	for _, p := range shape {
		e.step(last, p)
		last = p
	}
}

func (e *encoder) bans(bans []network.Ban) {
	e.uint(uint64(len(bans)))
	for _, b := range bans {
		tow := uint64(0)
		if b.Tow {
			tow = 1
		}
		e.uint(tow)
		e.uint(uint64(len(b.Arcs)))
		for _, a := range b.Arcs {
			e.uint(uint64(a))
		}
	}
}
