package network

// memory follows bans of three arcs and more. It is the trie of their
// beginnings: a driver at a node has just driven the arcs on the way to it and
// may be about to complete a ban (Aho and Corasick 1975).
type memory struct {
	begin []int32           // arc → the node it is alone, 0 if it begins no ban
	next  []map[int32]int32 // node → arc → longer beginning
	arc   []int32           // node → its last arc; -1 at the root
	depth []int32           // node → how many arcs it is long
	deep  []int32           // the nodes of two arcs and more, as grown
	short []int32           // node → the longest other beginning it ends with
	ends  []map[int32]Who   // node → arc that would complete a ban → for whom
}

// Who a ban is for.
type Who uint8

// Nobody, drivers with a trailer, everybody.
const (
	Nobody Who = iota
	Towers
	Everybody
)

func newMemory(bans []Ban, arcs int) *memory {
	m := &memory{begin: make([]int32, arcs)}
	m.grow(-1, 0)
	for _, b := range bans {
		m.add(b)
	}
	for arc, node := range m.next[0] {
		m.begin[arc] = node
	}
	m.link()
	return m
}

func (m *memory) grow(arc, depth int32) int32 {
	m.next, m.ends = append(m.next, nil), append(m.ends, nil)
	m.arc, m.depth, m.short = append(m.arc, arc), append(m.depth, depth), append(m.short, 0)
	node := int32(len(m.arc) - 1)
	if depth >= 2 {
		m.deep = append(m.deep, node)
	}
	return node
}

func (m *memory) add(b Ban) {
	at := int32(0)
	last := len(b.Arcs) - 1
	for _, arc := range b.Arcs[:last] {
		child, ok := m.next[at][arc]
		if !ok {
			child = m.grow(arc, m.depth[at]+1)
			if m.next[at] == nil {
				m.next[at] = map[int32]int32{}
			}
			m.next[at][arc] = child
		}
		at = child
	}
	if m.ends[at] == nil {
		m.ends[at] = map[int32]Who{}
	}
	who := Everybody
	if b.Tow {
		who = Towers
	}
	m.ends[at][b.Arcs[last]] = max(who, m.ends[at][b.Arcs[last]])
}

// link finds for each node the longest other beginning that its arcs end with.
// Nodes were grown parents first, but a short one may be younger, so it goes
// by depth.
func (m *memory) link() {
	level := []int32{0}
	for len(level) > 0 {
		var deeper []int32
		for _, at := range level {
			for arc, child := range m.next[at] {
				if at != 0 {
					m.short[child], _ = m.step(m.short[at], arc)
				}
				deeper = append(deeper, child)
			}
		}
		level = deeper
	}
}

// step drives arc after the arcs of node at: where that leads, and whom any
// ban stops.
func (m *memory) step(at, arc int32) (to int32, stopped Who) {
	if at == 0 {
		return m.begin[arc], Nobody
	}
	for n := at; ; n = m.short[n] {
		stopped = max(stopped, m.ends[n][arc])
		if child, ok := m.next[n][arc]; ok && to == 0 {
			to = child
		}
		if n == 0 {
			return to, stopped
		}
	}
}
