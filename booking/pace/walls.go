package pace

import "slices"

// Step is one lot in working order, with the wall positions it is worked at.
type Step struct {
	Mob   int `json:"mob"` // index in Job.Mobs
	Head  int `json:"head"`
	Front int `json:"front"` // wall position, 1 narrowest to Sizes widest
	Back  int `json:"back"`
}

// reach is the range of wall positions that hold a lot well.
type reach struct{ lo, hi int }

// meet is what both ranges allow; ok is false when a wall has to be moved.
func (r reach) meet(o reach) (both reach, ok bool) {
	both = reach{max(r.lo, o.lo), min(r.hi, o.hi)}
	return both, both.lo <= both.hi
}

// part is a lot with its mob and ranges, as the wall planner sees it.
type part struct {
	mob, head   int
	front, back reach
}

// usualSize is the wall position of a class when the mob does not say.
var usualSize = map[Class]int{Kid: 1, Lamb: 2, Hogget: 3, Doe: 3, Ewe: 4, Buck: 5, Ram: 5}

// UsualSize is the wall position at which a class is worked, 1 the narrowest.
func UsualSize(c Class) int { return usualSize[c] }

// newPart applies what a wall holds: its own size and the next one down; horns
// need one position more at the front (common practice, no source).
func newPart(mob int, m *Mob, head, size int) part {
	p := part{mob: mob, head: head, back: reach{size, min(size+1, Sizes)}}
	p.front = p.back
	if m.Horned {
		p.front = reach{min(size+1, Sizes), min(size+2, Sizes)}
	}
	return p
}

// parts lists what the walls have to be set for. A mob that comes mixed is
// worked with the walls set for its widest animals.
func parts(mobs []Mob) []part {
	out := make([]part, 0, len(mobs)+Sizes)
	for i := range mobs {
		m := &mobs[i]
		switch {
		case len(m.Lots) == 0:
			out = append(out, newPart(i, m, m.Head, usualSize[m.Class]))
		case m.AsTheyCome:
			out = append(out, newPart(i, m, m.Head, m.widest()))
		default:
			for _, lot := range m.Lots {
				out = append(out, newPart(i, m, lot.Head, lot.Size))
			}
		}
	}
	return out
}

func (m *Mob) widest() int {
	w := 0
	for _, lot := range m.Lots {
		w = max(w, lot.Size)
	}
	return w
}

// maxExact is the number of lots up to which the working order is the best of
// all; beyond it mobs are worked as given, each in size order.
const maxExact = 8

// planWalls chooses working order and wall positions with the fewest changes
// (front and back count one each) and keeps every mob together. The setting at
// the start belongs to the set-up.
func planWalls(all []part) (order []Step, changes int) {
	sorted := slices.Clone(all)
	slices.SortStableFunc(sorted, func(a, b part) int {
		if a.mob != b.mob {
			return a.mob - b.mob
		}
		return a.back.lo - b.back.lo
	})
	s := wallSearch{all: sorted, order: make([]int, 0, len(all)), best: countChanges(sorted)}
	if len(all) > 1 && len(all) <= maxExact && s.best > s.floor() {
		s.try(0, 0, reach{1, Sizes}, reach{1, Sizes})
	}
	if s.found != nil {
		for i, at := range s.found {
			all[i] = sorted[at]
		}
		sorted = all
	}
	return settle(sorted), s.best
}

// countChanges works parts in their order, moving a wall only when it must.
func countChanges(all []part) int {
	n := 0
	front, back := reach{1, Sizes}, reach{1, Sizes}
	for i := range all {
		var cost int
		front, back, cost = follow(front, back, &all[i])
		n += cost
	}
	return n
}

func follow(front, back reach, p *part) (reach, reach, int) {
	cost := 0
	f, ok := front.meet(p.front)
	if !ok {
		f, cost = p.front, cost+1
	}
	b, ok := back.meet(p.back)
	if !ok {
		b, cost = p.back, cost+1
	}
	return f, b, cost
}

// wallSearch looks through working orders, deepest first, and leaves a branch
// as soon as it is no better than the best order known.
type wallSearch struct {
	all   []part
	order []int
	best  int
	found []int
}

func (s *wallSearch) try(done uint, cost int, front, back reach) {
	if cost >= s.best {
		return
	}
	if len(s.order) == len(s.all) {
		s.best, s.found = cost, slices.Clone(s.order)
		return
	}
	open := s.openMob(done)
	for i := range s.all {
		if done>>i&1 == 1 || open >= 0 && s.all[i].mob != open {
			continue
		}
		f, b, more := follow(front, back, &s.all[i])
		s.order = append(s.order, i)
		s.try(done|1<<i, cost+more, f, b)
		s.order = s.order[:len(s.order)-1]
	}
}

// openMob is the mob that has been begun and not finished, or −1.
func (s *wallSearch) openMob(done uint) int {
	if len(s.order) == 0 {
		return -1
	}
	mob := s.all[s.order[len(s.order)-1]].mob
	for i := range s.all {
		if done>>i&1 == 0 && s.all[i].mob == mob {
			return mob
		}
	}
	return -1
}

// floor is a number of changes no order can beat: with mobs mixed freely, each
// wall needs as many positions as there are lots no two of which fit together.
func (s *wallSearch) floor() int {
	return positions(s.all, func(p *part) reach { return p.front }) +
		positions(s.all, func(p *part) reach { return p.back }) - 2
}

func positions(all []part, wall func(*part) reach) int {
	n, held := 0, 0
	for hi := 1; hi <= Sizes; hi++ {
		for i := range all {
			if r := wall(&all[i]); r.hi == hi && r.lo > held {
				n, held = n+1, hi
			}
		}
	}
	return n
}

// settle gives every step its wall positions: the narrowest that holds from
// one change to the next.
func settle(all []part) []Step {
	steps := make([]Step, len(all))
	for i := range all {
		steps[i] = Step{Mob: all[i].mob, Head: all[i].head}
	}
	runs(all, func(p *part) reach { return p.front }, func(i, at int) { steps[i].Front = at })
	runs(all, func(p *part) reach { return p.back }, func(i, at int) { steps[i].Back = at })
	return steps
}

func runs(all []part, wall func(*part) reach, set func(i, at int)) {
	for from := 0; from < len(all); {
		held, to := wall(&all[from]), from+1
		for ; to < len(all); to++ {
			both, ok := held.meet(wall(&all[to]))
			if !ok {
				break
			}
			held = both
		}
		for ; from < to; from++ {
			set(from, held.lo)
		}
	}
}
