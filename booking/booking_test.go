package booking_test

import (
	"context"
	"encoding/base64"
	"fmt"
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/booking/sample"

	"cloud.google.com/go/civil"
	"pgregory.net/rapid"
)

func ExampleVisit_FinishLate() {
	v := booking.Visit{
		Arrive: time.Date(2026, time.April, 13, 12, 0, 0, 0, time.UTC),
		SetUp:  20 * time.Minute, Work: 2 * time.Hour, WorkLong: 3 * time.Hour, PackDown: 20 * time.Minute, WashDown: 30 * time.Minute,
	}
	fmt.Println(v.Working().Format(time.Kitchen), v.Finish().Format(time.Kitchen), v.FinishLate().Format(time.Kitchen), v.Leave().Format(time.Kitchen))
	v.Overnight = true // packed down in the morning
	fmt.Println(v.Leave().Format(time.Kitchen))
	// Output:
	// 12:20PM 2:20PM 3:20PM 3:10PM
	// 2:20PM
}

func ExampleClass_Count() {
	fmt.Println(booking.Ewe.Count(240), booking.Ram.Count(1))
	// Output: 240 ewes 1 ram
}

func TestStatesOfABooking(t *testing.T) {
	for state, open := range map[booking.State]bool{
		booking.Asked: true, booking.Offered: true, booking.Agreed: true, booking.Done: false, booking.Withdrawn: false, "": false,
	} {
		if state.Open() != open {
			t.Errorf("%q is open: %v", state, state.Open())
		}
	}
}

func TestStatesOfAVisit(t *testing.T) {
	for state, want := range map[booking.VisitState][2]bool{ // live, movable
		booking.Pencilled: {true, true}, booking.Fixed: {true, false}, booking.UnderWay: {true, false},
		booking.SignedOff: {true, false}, booking.CalledOff: {false, false},
	} {
		if got := [2]bool{state.Live(), state.Movable()}; got != want {
			t.Errorf("%s is live, movable: %v", state, got)
		}
	}
}

// SuitsAt and Latest agree with going through the days one by one.
func TestWindowsDayByDay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var b booking.Booking
		suits := map[civil.Date]bool{}
		var latest civil.Date
		for range rapid.IntRange(0, 4).Draw(t, "windows") {
			from := sample.Day.AddDays(rapid.IntRange(0, 60).Draw(t, "from"))
			to := from.AddDays(rapid.IntRange(0, 10).Draw(t, "days"))
			b.Windows = append(b.Windows, booking.Window{From: from, To: to, Part: booking.AllDay})
			for day := from; !day.After(to); day = day.AddDays(1) {
				suits[day] = true
				if day.After(latest) {
					latest = day
				}
			}
		}
		if b.Latest() != latest {
			t.Errorf("latest %s, want %s", b.Latest(), latest)
		}
		for day := sample.Day.AddDays(-2); day.Before(sample.Day.AddDays(75)); day = day.AddDays(1) {
			if b.SuitsAt(day.In(time.UTC), time.UTC) != suits[day] {
				t.Errorf("%s suits: %v", day, b.SuitsAt(day.In(time.UTC), time.UTC))
			}
		}
	})
}

func TestHeadIsOfAllMobs(t *testing.T) {
	if got := (booking.Booking{}).Head(); got != 0 {
		t.Errorf("nothing has %d head", got)
	}
	if got := (booking.Booking{Mobs: []booking.Mob{sample.Mob(240), sample.Mob(3)}}).Head(); got != 243 {
		t.Errorf("%d head", got)
	}
}

func TestClassesBelongToASpecies(t *testing.T) {
	goats := map[booking.Class]bool{booking.Doe: true, booking.Buck: true, booking.Kid: true}
	for _, class := range booking.Classes {
		if want := map[bool]booking.Species{true: booking.Goat, false: booking.Sheep}[goats[class]]; class.Species() != want {
			t.Errorf("a %s is a %s", class, class.Species())
		}
	}
}

func TestHygieneInWords(t *testing.T) {
	seen := map[string]bool{}
	for _, class := range append(booking.HygieneClasses, 9) {
		if seen[class.String()] || class.String() == "" {
			t.Errorf("class %d says %q", int(class), class)
		}
		seen[class.String()] = true
	}
}

func TestLocation(t *testing.T) {
	b := sample.Business()
	// 13 April is summer time on the American east coast: four hours behind.
	if _, offset := sample.Morning.In(b.Location()).Zone(); offset != -4*3600 {
		t.Errorf("offset %d s", offset)
	}
	for _, zone := range []string{"", "Nowhere/Else"} {
		b.Zone = zone
		if b.Location() != time.UTC {
			t.Errorf("zone %q is %s", zone, b.Location())
		}
	}
}

func TestRigWorks(t *testing.T) {
	r := sample.Rig() // Monday to Saturday
	if sunday := sample.Day.AddDays(6); !r.Works(sample.Day) || r.Works(sunday) {
		t.Errorf("works on %s and %s", sample.Day.Weekday(), sunday.Weekday())
	}
}

func TestPersonCan(t *testing.T) {
	p := booking.Person{Skills: []booking.Skill{booking.SkillScan}}
	if !p.Can(booking.SkillScan) || p.Can(booking.SkillCrutch) {
		t.Errorf("can %v", p.Skills)
	}
}

func TestActorOf(t *testing.T) {
	ctx := context.Background()
	if got := booking.ActorOf(ctx); got.Kind != booking.ByProgram || got.Name == "" {
		t.Errorf("nobody is %+v", got)
	}
	nell := booking.Actor{Kind: booking.ByPerson, ID: booking.NewID(), Name: "Nell"}
	if got := booking.ActorOf(booking.As(ctx, nell)); got != nell {
		t.Errorf("Nell is %+v", got)
	}
}

// 256 bits in RFC 4648 base64url without padding; the hash is SHA-256 of the
// text: for "abc" the value of FIPS 180-2, appendix B.1.
func TestSecrets(t *testing.T) {
	seen := map[booking.Secret]bool{}
	for range 100 {
		s := booking.NewSecret()
		raw, err := base64.RawURLEncoding.DecodeString(string(s))
		if err != nil || len(raw) != 32 || seen[s] {
			t.Fatalf("secret %q of %d bytes, %v", s, len(raw), err)
		}
		seen[s] = true
	}
	const abc = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
	if got := fmt.Sprintf("%x", booking.Secret("abc").Hash()); got != abc {
		t.Errorf("hash of abc is %s", got)
	}
}
