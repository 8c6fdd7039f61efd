package schedule_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/booking/sample"
	"drawbar/booking/say"
	"drawbar/booking/schedule"

	"cloud.google.com/go/civil"
	"github.com/paulmach/orb"
)

// mondayOrTuesday are the days of the sample week that suit.
func mondayOrTuesday(_ *booking.Farm, _ *booking.Yard, k *booking.Booking) {
	k.Windows = []booking.Window{{From: sample.Day, To: sample.Day.AddDays(1), Part: booking.AllDay}}
}

// With the only one who can scan away on Monday the mob is scanned on Tuesday;
// with everybody away the rig stays at home and the board says why.
func TestPlansDoNotCountOnWhoIsAway(t *testing.T) {
	b := newBench(t)
	scanner, other := sample.Person(booking.Operator), sample.Person(booking.Operator)
	scanner.Skills = []booking.Skill{booking.SkillScan}
	scanner.Away = []booking.Away{{From: sample.Day.AddDays(-3), To: sample.Day, Reason: "leave"}}
	b.must(b.store.SavePerson(t.Context(), &scanner))
	b.must(b.store.SavePerson(t.Context(), &other))
	b.rig.Crew = []booking.ID{scanner.ID, other.ID}
	b.must(b.store.SaveRig(t.Context(), &b.rig))
	ask := b.asked(60, func(f *booking.Farm, y *booking.Yard, k *booking.Booking) {
		mondayOrTuesday(f, y, k)
		k.Mobs[0].Services = []string{"scan"}
	})
	f := b.applied()
	if v := b.visits(); len(v) != 1 || v[0].Day != sample.Day.AddDays(1) {
		t.Fatalf("%+v, left out %v", v, reasons(f.Plan.LeftOut))
	}
	scanner.Away = append(scanner.Away, booking.Away{From: sample.Day.AddDays(1), To: sample.Day.AddDays(1)})
	b.must(b.store.SavePerson(t.Context(), &scanner))
	if looks := b.week().Look; len(looks) != 1 || !strings.Contains(looks[0].Sentence, "goes without somebody who can scan that day") {
		t.Errorf("booking %d: worth a look: %+v", ask.Number, looks)
	}
	other.Away = scanner.Away
	b.must(b.store.SavePerson(t.Context(), &other))
	if off := b.week().Days[1].Rounds[0].Off; !strings.Contains(off, scanner.Name) || !strings.Contains(off, other.Name) || !strings.HasSuffix(off, " are away") {
		t.Errorf("with everybody away: %q", off)
	}
}

// twoHands gives the rig a crew of two and returns the second.
func (b *bench) twoHands() booking.Person {
	b.Helper()
	first, second := sample.Person(booking.Operator), sample.Person(booking.Operator)
	b.must(b.store.SavePerson(b.Context(), &first))
	b.must(b.store.SavePerson(b.Context(), &second))
	b.rig.Crew = []booking.ID{first.ID, second.ID}
	b.must(b.store.SaveRig(b.Context(), &b.rig))
	return second
}

// work is how long a visit's work takes so many of the rig's crew.
func (b *bench) work(v booking.Visit, people int) time.Duration {
	b.Helper()
	ask, err1 := b.store.Booking(b.Context(), v.BookingID)
	farm, err2 := b.store.Farm(b.Context(), v.FarmID)
	yard, err3 := b.store.Yard(b.Context(), v.YardID)
	b.must(errors.Join(err1, err2, err3))
	b.must(b.planner.Retime(&v, ask, farm, yard, booking.Rig{ID: b.rig.ID, Mount: b.rig.Mount, Crew: b.rig.Crew[:people]}))
	return v.Work
}

// Each day is planned for those who are there: with one of two away on Monday
// the work takes as long then as it takes one, and on Tuesday as two.
func TestVisitsTakeWhatThoseWhoAreThereTake(t *testing.T) {
	b := newBench(t)
	second := b.twoHands()
	second.Away = []booking.Away{{From: sample.Day, To: sample.Day, Reason: "leave"}}
	b.must(b.store.SavePerson(t.Context(), &second))
	for after := range 2 {
		b.asked(200, func(_ *booking.Farm, _ *booking.Yard, k *booking.Booking) {
			day := sample.Day.AddDays(after)
			k.Windows = []booking.Window{{From: day, To: day, Part: booking.AllDay}}
		})
	}
	b.applied()
	visits := b.visits()
	if len(visits) != 2 {
		t.Fatalf("%d visits", len(visits))
	}
	for i, v := range visits {
		if want := b.work(v, 1+i); v.Work != want || b.work(v, 1) <= b.work(v, 2) {
			t.Errorf("%d days after Monday it takes %v, not %v", i, v.Work, want)
		}
		if looks := b.week().Look; len(looks) > 0 {
			t.Errorf("worth a look: %+v", looks)
		}
	}
}

// When somebody is away after all, the board says how much longer the work
// takes than planned, until it has that time: planned anew, moved by hand or
// mended with the day.
func TestFewerHandsAreAConcern(t *testing.T) {
	for name, mend := range map[string]func(*bench, booking.Visit){
		"planned anew": func(b *bench, _ booking.Visit) {
			moves := b.applied().Plan.Moves
			if len(moves) != 1 || !strings.HasSuffix(moves[0].Reason, " is away.") {
				b.Errorf("moves: %+v", moves)
			}
		},
		"moved by hand": func(b *bench, v booking.Visit) {
			moved, err := b.planner.Move(b.Context(), v.ID, v.Version, schedule.Place{Rig: v.RigID, Day: v.Day, Minute: 9*60 + 30})
			b.must(err)
			b.must(b.planner.Keep(b.Context(), moved))
		},
		"mended with the day": func(b *bench, v booking.Visit) {
			f := b.mended(b.planner.Mark(b.Context(), schedule.Trouble{Rigs: []booking.ID{v.RigID}, Day: v.Day, Until: v.Day, From: 7 * 60, Reason: "late"}))
			b.accepted(f)
		},
	} {
		t.Run(name, func(t *testing.T) {
			b := newBench(t)
			second := b.twoHands()
			v := b.at(b.asked(200, mondayOrTuesday), sample.Day, 9*60)
			if looks := b.week().Look; len(looks) > 0 {
				t.Fatalf("with both there: %+v", looks)
			}
			second.Away = []booking.Away{{From: sample.Day, To: sample.Day.AddDays(1), Reason: "ill"}}
			b.must(b.store.SavePerson(t.Context(), &second))
			longer := say.Length(b.work(v, 1) - v.Work)
			got := strings.Join(b.week().Days[0].Rounds[0].Stops[0].Concerns, " ")
			if want := second.Name + " is away that day: with one person the work takes about " + longer + " longer than planned."; !strings.HasPrefix(got, want) {
				t.Errorf("%q, not %q", got, want)
			}
			mend(b, v)
			if now := b.visits()[0]; now.Work != b.work(now, 1) || len(b.week().Look) > 0 {
				t.Errorf("it has %v, and takes one person %v; worth a look: %+v", now.Work, b.work(now, 1), b.week().Look)
			}
		})
	}
}

// The Fourth of July 2027 is a Sunday and kept on the Monday (5 U.S.C. 6103);
// a rig that rests on holidays goes out on the Tuesday.
func TestRigRestsOnPublicHolidays(t *testing.T) {
	monday := civil.Date{Year: 2027, Month: 7, Day: 5}
	for _, rests := range []bool{false, true} {
		b := newBench(t)
		b.rig.Rests = rests
		b.must(b.store.SaveRig(t.Context(), &b.rig))
		week, err := b.planner.Week(t.Context(), monday, 2)
		b.must(err)
		if off := week.Days[0].Rounds[0].Off; strings.HasPrefix(off, "public holiday, Independence Day") != rests {
			t.Errorf("rests %v, on the holiday: %q", rests, off)
		}
		if off := week.Days[1].Rounds[0].Off; off != "" {
			t.Errorf("on the day after: %q", off)
		}
	}
}

// Two bookings want the one morning there is; the one that comes first gets
// it, whichever was asked for earlier.
func TestPriorityDecidesWhoGetsTheDay(t *testing.T) {
	for _, c := range []struct{ first, second booking.Priority }{{booking.ComesFirst, booking.Usual}, {booking.Usual, booking.ComesFirst}, {booking.CanWait, booking.Usual}} {
		b := newBench(t)
		whole := func(p booking.Priority) booking.Booking {
			return b.asked(500, func(_ *booking.Farm, y *booking.Yard, k *booking.Booking) {
				y.At, y.Overnight, k.Priority = orb.Point{-75.5, 38.9}, false, p
				k.Mobs[0].Services = []string{"drench", "inject"}
				k.Windows = []booking.Window{{From: sample.Day, To: sample.Day, Part: booking.Morning}}
			})
		}
		first, second := whole(c.first), whole(c.second)
		wins := first
		if c.first == booking.CanWait || c.second == booking.ComesFirst {
			wins = second
		}
		f := b.applied()
		if v := b.visits(); len(v) != 1 || v[0].BookingID != wins.ID {
			t.Errorf("%q and %q: %+v, left out %v", c.first, c.second, v, reasons(f.Plan.LeftOut))
		}
	}
}
