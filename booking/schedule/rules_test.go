package schedule_test

import (
	"strings"
	"testing"

	"drawbar/booking"
	"drawbar/booking/sample"
	"drawbar/booking/say"

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

// With one of two away, the board says how much longer the work takes than
// with both; with both there it says nothing.
func TestFewerHandsAreAConcern(t *testing.T) {
	b := newBench(t)
	first, second := sample.Person(booking.Operator), sample.Person(booking.Operator)
	second.Away = []booking.Away{{From: sample.Day, To: sample.Day, Reason: "leave"}}
	b.must(b.store.SavePerson(t.Context(), &first))
	b.must(b.store.SavePerson(t.Context(), &second))
	b.rig.Crew = []booking.ID{first.ID, second.ID}
	b.must(b.store.SaveRig(t.Context(), &b.rig))
	for after, want := range []string{second.Name + " is away that day: with one person the work takes about ", ""} {
		v := b.at(b.asked(200, mondayOrTuesday), sample.Day.AddDays(after), 9*60)
		stop := b.week().Days[after].Rounds[0].Stops[0]
		if got := strings.Join(stop.Concerns, " "); !strings.HasPrefix(got, want) || want == "" && got != "" {
			t.Errorf("%d days after Monday: %q", after, got)
		}
		b.must(b.planner.Retime(&v, stop.Booking, stop.Farm, stop.Yard, booking.Rig{ID: b.rig.ID, Mount: b.rig.Mount, Crew: b.rig.Crew[:1]}))
		if longer := say.Length(v.Work - stop.Visit.Work); want != "" && !strings.Contains(stop.Concerns[0], longer+" longer") {
			t.Errorf("one alone takes %s longer: %v", longer, stop.Concerns)
		}
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
