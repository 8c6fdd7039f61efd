package search

// spot is a place where a visit could go and what that adds to the plan.
type spot struct {
	delta  int64
	pos    int32
	choice int32
	chunks int32 // 0 = whole; else which way of splitting
}

// Whole is a visit as it would stand at a choice, done in one go.
func (m *Model) Whole(v int32, c *Choice) Stop {
	s := m.anywhere(v, m.at(c))
	m.choose(&s, c)
	return s
}

// anywhere is a visit done in one go on days of a group, before a choice is
// made.
func (m *Model) anywhere(v int32, g *Group) Stop {
	return Stop{Visit: v, Part: 1, Parts: 1, Work: g.Work[v], Spread: g.Spread[v], Load: m.Visits[v].Load}
}

// choose narrows a stop to a choice.
func (m *Model) choose(s *Stop, c *Choice) {
	s.Early, s.Late, s.Extra = c.Early, c.Late, c.Extra
	m.daylight(s, int(c.Day))
}

// daylight narrows a stop to the light of its day.
func (m *Model) daylight(s *Stop, d int) {
	if m.Visits[s.Visit].Lit {
		return
	}
	s.Early = max(s.Early, m.Dawn[d])
	s.Late = min(s.Late, m.Dusk[d]-s.Work)
}

// clean tells whether a class may stand at a position: nothing dirtier before,
// nothing cleaner after, and no wait to what is before or after.
func (m *Model) clean(x *day, pos int, c uint8) bool {
	if !m.HasDirt {
		return true
	}
	var before, after uint8
	if pos > 0 {
		before = x.slots[pos-1].before
	}
	if pos < len(x.stops) {
		after = x.slots[pos].after
	}
	return before>>(c+1) == 0 && after&(1<<c-1) == 0 && !m.waits(before, after, c)
}

// waits tells whether a class has to wait after some classes, or others after
// it.
func (m *Model) waits(before, after, c uint8) bool {
	if !m.HasWait {
		return false
	}
	for b := range uint8(Classes) {
		if before>>b&1 == 1 && m.Wait[b][c] > 0 || after>>b&1 == 1 && m.Wait[c][b] > 0 {
			return true
		}
	}
	return false
}
