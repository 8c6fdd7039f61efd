//go:build !race

package round_test

import (
	"fmt"
	"slices"
	"strings"

	"drawbar/routing/round"
)

// linear states a problem whose rigs are home every night as a mixed-integer
// programme, from the rules in doc.go, in the LP format that solvers read. A
// binary x says that a rig drives from one visit to the next on a day, y which
// window a visit begins in, u that a rig turns out; B is when work begins, S
// and F when a day starts and finishes, O its overtime, L that a visit is left
// out. Prices are minor units, times seconds.
type linear struct {
	p         *round.Problem
	cost      []string
	rules     []string
	bounds    []string
	binary    []string
	r, d      int // the rig and day being stated
	rig       *round.Rig
	day       *round.RigDay
	placed    [][]string // by visit, its y
	dayPlaced []placedOn
}

// placedOn are the y of a visit on one rig and day.
type placedOn struct {
	visit, rig, day int
	y               []string
}

// bigM is more than any time of day, for rules that only hold sometimes.
const bigM = 2 * round.Day

func (l *linear) text() string {
	l.placed = make([][]string, len(l.p.Visits))
	for l.r = range l.p.Rigs {
		for l.d = range l.p.Days {
			l.rig, l.day = &l.p.Rigs[l.r], &l.p.Rigs[l.r].Days[l.d]
			if l.day.Closed == "" {
				l.rigDay()
			}
		}
	}
	for i := range l.p.Visits {
		l.once(i)
	}
	l.waits()
	return "Minimize\n cost: " + strings.Join(l.cost, "\n ") + "\nSubject To\n " + strings.Join(l.rules, "\n ") +
		"\nBounds\n " + strings.Join(l.bounds, "\n ") + "\nBinary\n " + strings.Join(l.binary, "\n ") + "\nEnd\n"
}

func (l *linear) rule(format string, args ...any) {
	l.rules = append(l.rules, fmt.Sprintf("c%d: ", len(l.rules))+fmt.Sprintf(format, args...))
}

func (l *linear) price(minor float64, name string) {
	l.cost = append(l.cost, fmt.Sprintf("%+.12f %s", minor, name))
}

func (l *linear) yes(format string, args ...any) string {
	name := fmt.Sprintf(format, args...)
	l.binary = append(l.binary, name)
	return name
}

// once: a visit is placed once or left out, and begins within the day.
func (l *linear) once(i int) {
	v := &l.p.Visits[i]
	out := l.yes("L%d", i)
	value := v.Value
	if v.Promise != nil {
		value += l.p.Costs.MoveDay
	}
	l.price(float64(value), out)
	l.rule("%s = 1", strings.Join(append([]string{out}, l.placed[i]...), " + "))
	l.bounds = append(l.bounds, fmt.Sprintf("0 <= B%d <= %d", i, round.Day))
}

// rigDay states one day of a rig.
func (l *linear) rigDay() {
	at := fmt.Sprintf("%d_%d", l.r, l.d)
	u := l.yes("u%s", at)
	c := &l.p.Costs
	l.price(float64(c.RigDay), u)
	l.price(float64(c.Hour)/3600, "F"+at)
	l.price(-float64(c.Hour)/3600, "S"+at)
	l.price(float64(c.OvertimeHour)/3600, "O"+at)
	l.bounds = append(l.bounds, fmt.Sprintf("%d <= S%s <= %d", l.day.Start, at, l.day.Latest),
		fmt.Sprintf("%d <= F%s <= %d", l.day.Start, at, l.day.Latest), fmt.Sprintf("0 <= O%s", at))
	l.rule("F%s - S%s >= 0", at, at)
	l.rule("O%s - F%s >= %d", at, at, -l.day.End)
	if l.day.Longest > 0 {
		l.rule("F%s - S%s <= %d", at, at, l.day.Longest)
	}
	l.stops(at, u)
}

// stops: which visits are on the day, and in what order.
func (l *linear) stops(at, u string) {
	var here []int
	var load []string
	for i := range l.p.Visits {
		on := l.windows(i)
		if len(on) == 0 {
			continue
		}
		here = append(here, i)
		for _, y := range on {
			load = append(load, fmt.Sprintf("%d %s", l.p.Visits[i].Load, y))
		}
		l.placed[i] = append(l.placed[i], on...)
		l.dayPlaced = append(l.dayPlaced, placedOn{i, l.r, l.d, on})
	}
	if len(here) == 0 {
		l.rule("%s = 0", u)
		return
	}
	if l.day.MaxLoad > 0 {
		l.rule("%s <= %d", strings.Join(load, " + "), l.day.MaxLoad)
	}
	l.ways(at, u, here)
}

// ways: whatever is on the day has one way in and one way out, and the clock
// runs along it.
func (l *linear) ways(at, u string, here []int) {
	in, out := make([][]string, len(l.p.Visits)), make([][]string, len(l.p.Visits))
	var first []string
	for _, i := range here {
		x := l.yes("x%s_h_%d", at, i)
		seconds, metres := l.way(-1, i)
		first = append(first, x)
		in[i] = append(in[i], x)
		l.drive(x, metres)
		l.rule("B%d - S%s - %d %s >= %d", i, at, bigM, x, int64(seconds)-bigM)
		x = l.yes("x%s_%d_h", at, i)
		seconds, metres = l.way(i, -1)
		out[i] = append(out[i], x)
		l.drive(x, metres)
		l.rule("F%s - B%d - %d %s >= %d", at, i, bigM, x, int64(l.times(i).Work+seconds)-bigM)
		for _, j := range here {
			if i == j || l.p.Visits[i].Class > l.p.Visits[j].Class { // clean before dirty
				continue
			}
			x := l.yes("x%s_%d_%d", at, i, j)
			seconds, metres := l.way(i, j)
			out[i], in[j] = append(out[i], x), append(in[j], x)
			l.drive(x, metres)
			l.rule("B%d - B%d - %d %s >= %d", j, i, bigM, x, int64(l.times(i).Work+seconds)-bigM)
		}
	}
	l.rule("%s - %s = 0", strings.Join(first, " + "), u)
	for _, on := range l.dayPlaced {
		if on.rig == l.r && on.day == l.d {
			l.rule("%s - %s = 0", strings.Join(in[on.visit], " + "), strings.Join(on.y, " - "))
			l.rule("%s - %s = 0", strings.Join(out[on.visit], " + "), strings.Join(on.y, " - "))
		}
	}
}

func (l *linear) drive(x string, metres int32) {
	l.price(float64(metres)*float64(l.p.Costs.Km)/1000, x)
}

func (l *linear) times(i int) round.Times { return l.p.Visits[i].Times[l.who()] }

// who goes with the rig that day.
func (l *linear) who() string {
	if l.day.Crew != "" {
		return l.day.Crew
	}
	return l.rig.ID
}

// way is from the end of the work at i to the begin of the work at j; -1 is
// home.
func (l *linear) way(i, j int) (seconds, metres int32) {
	from, to := l.rig.Home, l.rig.Home
	if i >= 0 {
		from = l.p.Visits[i].Place
		seconds += l.times(i).Pack + l.p.Hygiene.Home[l.p.Visits[i].Class]
	}
	if j >= 0 {
		to = l.p.Visits[j].Place
		seconds += l.times(j).SetUp
	}
	if i >= 0 && j >= 0 {
		wash := l.p.Hygiene.Between[l.p.Visits[i].Class][l.p.Visits[j].Class]
		if from == to {
			return wash, 0
		}
		seconds += wash - l.p.Hygiene.Home[l.p.Visits[i].Class]
	}
	table := l.p.Towing
	if l.rig.Towing != nil {
		table = l.rig.Towing
	}
	a, _ := table.Index(from)
	b, _ := table.Index(to)
	leg := table.At(a, b)
	if !leg.Reachable {
		return round.Day, 0 // no day is as long
	}
	return seconds + leg.Seconds, leg.Metres
}

// windows are the ways for a visit to begin on the day: each window, at the
// price of moving what was promised, and the part of it that keeps the promise.
func (l *linear) windows(i int) []string {
	v := &l.p.Visits[i]
	if !l.allowed(v) {
		return nil
	}
	windows := v.Windows
	if len(windows) == 0 {
		windows = []round.Window{{ToDay: l.p.Days, To: round.Day}}
	}
	var out []string
	for k, w := range windows {
		if l.d < w.FromDay || l.d > w.ToDay {
			continue
		}
		if v.Pin != nil && v.Pin.Start != round.AnyTime {
			w.From, w.To = max(w.From, v.Pin.Start), min(w.To, v.Pin.Start)
		}
		price := w.Extra
		p, c := v.Promise, &l.p.Costs
		if p != nil && p.Rig != l.rig.ID {
			price += c.MoveRig
		}
		switch {
		case p != nil && p.Day != l.d:
			price += c.MoveDay
		case p != nil:
			kept := fmt.Sprintf("y%d_%d_%d_%d_kept", i, l.r, l.d, k)
			out = append(out, l.begin(kept, i, price, max(w.From, p.Start-int32(c.Tolerance)), min(w.To, p.Start+int32(c.Tolerance))))
			price += c.MoveTime
		}
		out = append(out, l.begin(fmt.Sprintf("y%d_%d_%d_%d", i, l.r, l.d, k), i, price, w.From, w.To))
	}
	return out
}

// begin: chosen, work begins between two times, and lies in daylight.
func (l *linear) begin(name string, i int, price int64, from, to int32) string {
	y := l.yes("%s", name)
	l.price(float64(price), y)
	if light := l.p.Daylight[l.d]; !l.p.Visits[i].Lit {
		from, to = max(from, light.From), min(to, light.To-l.times(i).Work)
	}
	if from > to {
		l.rule("%s = 0", y)
		return y
	}
	l.rule("B%d - %d %s >= 0", i, from, y)
	l.rule("B%d + %d %s <= %d", i, bigM, y, int64(to)+bigM)
	return y
}

// allowed: rig, equipment, crew, gate, latest day, pin, and the yards the rig
// was at before.
func (l *linear) allowed(v *round.Visit) bool {
	_, may := v.Times[l.who()]
	for _, need := range v.Needs {
		may = may && (slices.Contains(l.rig.Has, need) || slices.Contains(l.day.Skills, need))
	}
	for _, past := range l.rig.Visited {
		may = may && l.d+past.DaysAgo >= l.p.Hygiene.Wait[past.Class][v.Class]
	}
	if pin := v.Pin; pin != nil {
		may = may && (pin.Rig == "" || pin.Rig == l.rig.ID) && (pin.Day == round.AnyDay || pin.Day == l.d)
	}
	return may && !tooBig(l.rig.Size, v.Limits) && (v.DoneWithin == 0 || l.d < v.DoneWithin)
}

// waits: days pass after a flock of one class before a rig sees another.
func (l *linear) waits() {
	for a, i := range l.dayPlaced {
		for b, j := range l.dayPlaced {
			wait := l.p.Hygiene.Wait[l.p.Visits[i.visit].Class][l.p.Visits[j.visit].Class]
			if a == b || i.visit == j.visit || i.rig != j.rig || j.day < i.day || j.day-i.day >= wait {
				continue
			}
			if i.day == j.day && l.p.Visits[i.visit].Class > l.p.Visits[j.visit].Class {
				continue // the other one comes first
			}
			l.rule("%s <= 1", strings.Join(append(slices.Clone(i.y), j.y...), " + "))
		}
	}
}
