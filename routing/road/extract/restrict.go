package extract

import (
	"context"
	"slices"
	"strings"

	"github.com/paulmach/osm"

	"drawbar/routing/road/network"
	"drawbar/routing/road/tag"
)

// restriction is a turn restriction as read (wiki: Relation:restriction).
type restriction struct {
	from, via, to []int64 // ways
	node          int64   // via node, 0 with via ways
	only          bool    // the turn is the only one allowed
	uTurn         bool
	tow           bool
}

func (r *restriction) ways() []int64 { return slices.Concat(r.from, r.via, r.to) }

func (im *importer) keepRestriction(rel *osm.Relation) {
	value, tow := restrictionValue(rel.Tags)
	if value == "" || excepted(rel.Tags) {
		return
	}
	r := restriction{only: strings.HasPrefix(value, "only_"), uTurn: value == "no_u_turn", tow: tow}
	if !r.only && !strings.HasPrefix(value, "no_") {
		return
	}
	for _, m := range rel.Members {
		switch {
		case m.Role == "from" && m.Type == osm.TypeWay:
			r.from = append(r.from, m.Ref)
		case m.Role == "to" && m.Type == osm.TypeWay:
			r.to = append(r.to, m.Ref)
		case m.Role == "via" && m.Type == osm.TypeWay:
			r.via = append(r.via, m.Ref)
		case m.Role == "via" && m.Type == osm.TypeNode:
			r.node = m.Ref
		}
	}
	im.rules = append(im.rules, r)
}

// restrictionValue finds what holds for cars, or for cars with trailers only.
// One that holds for part of the day counts as always, to be on the safe side.
func restrictionValue(tags osm.Tags) (value string, tow bool) {
	if kind := tags.Find("type"); kind != "restriction" && !strings.HasPrefix(kind, "restriction:") {
		return "", false
	}
	for _, key := range []string{"restriction", "restriction:motorcar", "restriction:motor_vehicle"} {
		if v := tags.Find(key); v != "" {
			return v, false
		}
	}
	for _, key := range []string{"restriction:trailer", "restriction:caravan"} {
		if v := tags.Find(key); v != "" {
			return v, true
		}
	}
	for _, c := range tag.Clauses(tags.Find("restriction:conditional")) {
		if strings.Contains(strings.Join(c.Conditions, " "), ":") {
			return c.Value, false
		}
	}
	return "", false
}

func excepted(tags osm.Tags) bool {
	for _, v := range strings.Split(tags.Find("except"), ";") {
		if v = strings.TrimSpace(v); v == "motorcar" || v == "motor_vehicle" {
			return true
		}
	}
	return false
}

// bans turns restrictions into forbidden runs of arcs.
func (im *importer) bans(context.Context) error {
	first, list := network.OutArcs(im.roads)
	b := &banner{importer: im, out: func(v int32) []int32 { return list[first[v]:first[v+1]] }}
	for i := range im.rules {
		before := len(im.roads.Bans)
		b.restriction(&im.rules[i])
		if len(im.roads.Bans) == before {
			im.found.Unclear++
		}
	}
	im.found.Bans = len(im.roads.Bans)
	im.rules, im.pieces = nil, nil
	return nil
}

type banner struct {
	*importer
	out func(v int32) []int32
}

func (b *banner) restriction(r *restriction) {
	for _, run := range b.runs(r) {
		v := b.roads.Head(run[len(run)-1])
		targets := b.targets(r, run, v)
		for _, to := range b.out(v) {
			if slices.Contains(targets, to) != r.only && len(targets) > 0 {
				b.roads.Bans = append(b.roads.Bans, network.Ban{Arcs: append(slices.Clone(run), to), Tow: r.tow})
			}
		}
	}
}

// targets are the arcs out of v that the restriction names.
func (b *banner) targets(r *restriction, run []int32, v int32) (arcs []int32) {
	last := run[len(run)-1]
	for _, a := range b.out(v) {
		for _, way := range r.to {
			back := a == last^1
			if slices.Contains(b.pieces[way], a>>1) && (!back || r.uTurn) && (!r.uTurn || len(r.via) > 0 || back || !slices.Contains(r.from, way)) {
				arcs = append(arcs, a)
				break
			}
		}
	}
	return arcs
}

// runs are the ways to come to the vertex where the restriction bites.
func (b *banner) runs(r *restriction) (runs [][]int32) {
	if len(r.via) == 0 {
		v := b.vertexOfID(r.node)
		if v < 0 {
			return nil
		}
		for _, a := range b.into(v, r.from) {
			runs = append(runs, []int32{a})
		}
		return runs
	}
	for _, v := range b.ends(r.via[0]) {
		for _, a := range b.into(v, r.from) {
			if run := b.along([]int32{a}, v, r.via); run != nil {
				runs = append(runs, run)
			}
		}
	}
	return runs
}

func (b *banner) vertexOfID(id int64) int32 {
	node := b.node(id)
	if node < 0 {
		return -1
	}
	return b.vertex[node]
}

// into lists the arcs of the ways that lead into v.
func (b *banner) into(v int32, ways []int64) (arcs []int32) {
	for _, way := range ways {
		for _, e := range b.pieces[way] {
			for _, a := range []int32{2 * e, 2*e + 1} {
				if b.roads.Head(a) == v && b.roads.Open(a) && !slices.Contains(arcs, a) {
					arcs = append(arcs, a)
				}
			}
		}
	}
	return arcs
}

// ends are the first and the last vertex of a way.
func (b *banner) ends(way int64) []int32 {
	p := b.pieces[way]
	if len(p) == 0 {
		return nil
	}
	return []int32{b.roads.Edges[p[0]].From, b.roads.Edges[p[len(p)-1]].To}
}

// along drives the via ways from v, each from one end to the other; nil when
// they do not join up.
func (b *banner) along(run []int32, v int32, via []int64) []int32 {
	for _, way := range via {
		p, ends := b.pieces[way], b.ends(way)
		switch {
		case len(p) == 0:
			return nil
		case ends[0] == v:
			for _, e := range p {
				run = append(run, 2*e)
			}
			v = ends[1]
		case ends[1] == v:
			for _, e := range slices.Backward(p) {
				run = append(run, 2*e+1)
			}
			v = ends[0]
		default:
			return nil
		}
	}
	return run
}
