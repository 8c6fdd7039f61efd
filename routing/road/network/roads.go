package network

import "time"

// Point is a position in millionths of a degree.
type Point struct{ Lat, Lon int32 }

// Edge is a piece of road between two vertices.
type Edge struct {
	From, To int32
	Kind     int32 // index into Kinds
	Name     int32 // index into Names
	Length   int32 // decimetres
	Flags    EdgeFlags
}

// EdgeFlags say how an edge hangs together with the rest.
type EdgeFlags uint8

// ThroughAlong and ThroughAgainst: the arc may lie in the middle of a journey.
// Leaves: from this edge the through network can be reached; Arrives: this
// edge can be reached from it.
const (
	ThroughAlong EdgeFlags = 1 << iota
	ThroughAgainst
	Leaves
	Arrives
)

// VertexFlags say what stands at a vertex.
type VertexFlags uint8

// Signals, and TurningPlace: a circle or loop made for turning round.
const (
	Signals VertexFlags = 1 << iota
	TurningPlace
)

// Ban forbids driving these arcs one after the other.
type Ban struct {
	Arcs []int32 // two or more
	Tow  bool    // only with a trailer
}

// Roads is a road network as it is stored.
type Roads struct {
	Region string    // ISO 3166 code that chooses the rules of the road
	Source string    // where the data is from, for the credit line
	Date   time.Time // of the data

	Kinds    []Kind
	Names    []string // Names[0] is ""
	Vertices []Point
	At       []VertexFlags // by vertex
	Edges    []Edge
	ShapeEnd []uint32 // the points between the ends of edge e are Shapes[ShapeEnd[e-1]:ShapeEnd[e]]
	Shapes   []Point
	Bans     []Ban
	Order    []int32 // the edges with a through arc, first to be contracted first
}

// Tail is the vertex an arc leaves from.
func (r *Roads) Tail(arc int32) int32 {
	if e := &r.Edges[arc>>1]; arc&1 == 0 {
		return e.From
	}
	return r.Edges[arc>>1].To
}

// Head is the vertex an arc leads to.
func (r *Roads) Head(arc int32) int32 { return r.Tail(arc ^ 1) }

// KindOf is the kind of an arc's edge.
func (r *Roads) KindOf(arc int32) *Kind { return &r.Kinds[r.Edges[arc>>1].Kind] }

// Open tells whether a car may use an arc at all.
func (r *Roads) Open(arc int32) bool { return r.KindOf(arc).Open(int(arc & 1)) }

// Through tells whether an arc may lie in the middle of a journey.
func (r *Roads) Through(arc int32) bool {
	return r.Edges[arc>>1].Flags&(ThroughAlong<<(arc&1)) != 0
}

// Shape gives the points between the ends of an edge.
func (r *Roads) Shape(edge int32) []Point {
	from := uint32(0)
	if edge > 0 {
		from = r.ShapeEnd[edge-1]
	}
	return r.Shapes[from:r.ShapeEnd[edge]]
}

// Line appends all points of an arc, ends included, in driving order.
func (r *Roads) Line(arc int32, line []Point) []Point {
	shape := r.Shape(arc >> 1)
	line = append(line, r.Vertices[r.Tail(arc)])
	for i := range shape {
		if arc&1 == 0 {
			line = append(line, shape[i])
		} else {
			line = append(line, shape[len(shape)-1-i])
		}
	}
	return append(line, r.Vertices[r.Head(arc)])
}
