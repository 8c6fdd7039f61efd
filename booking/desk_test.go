package booking_test

import (
	"strings"
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/sample"
	"drawbar/booking/store"
	"drawbar/migrations/dbtest"

	"cloud.google.com/go/civil"
)

// office is a desk with a store behind it, on the Friday before the sample
// week.
type office struct {
	*testing.T
	desk  *booking.Desk
	store *store.Store
	rig   booking.Rig
}

func newOffice(t *testing.T) *office {
	t.Helper()
	clock := func() time.Time { return sample.Today.In(time.UTC).Add(15 * time.Hour) }
	o := &office{T: t, store: store.New(dbtest.SQLite(t), clock, nil), rig: sample.Rig()}
	o.desk = &booking.Desk{Store: o.store, Now: clock, Site: "https://drawbar.example"}
	business := sample.Business()
	o.must(o.store.SaveBusiness(t.Context(), &business))
	o.must(o.store.SaveRig(t.Context(), &o.rig))
	for _, s := range sample.Services() {
		o.must(o.store.SaveService(t.Context(), &s))
	}
	return o
}

func (o *office) must(err error) {
	o.Helper()
	if err != nil {
		o.Fatal(err)
	}
}

func request() booking.Request {
	farm := sample.Farm()
	b := sample.Booking(farm, booking.Yard{})
	return booking.Request{Farm: farm, Yard: sample.Yard(farm), Mobs: b.Mobs, Windows: b.Windows, Note: b.Note}
}

// asked takes a request in.
func (o *office) asked(r booking.Request) booking.Booking {
	o.Helper()
	b, _, err := o.desk.Ask(o.Context(), r)
	o.must(err)
	return b
}

// visited gives the booking a pencilled visit on the sample Monday.
func (o *office) visited(b booking.Booking) booking.Visit {
	o.Helper()
	v := sample.Visit(b, o.rig, sample.Morning)
	o.must(o.store.ApplyPlan(o.Context(), booking.PlanChange{Save: []*booking.Visit{&v}, Verb: "planned"}))
	return v
}

func (o *office) booking(id booking.ID) booking.Booking {
	o.Helper()
	b, err := o.store.Booking(o.Context(), id)
	o.must(err)
	return b
}

func (o *office) visit(id booking.ID) booking.Visit {
	o.Helper()
	v, err := o.store.Visit(o.Context(), id)
	o.must(err)
	return v
}

// mail is the newest notice, taken out of the box.
func (o *office) mail() booking.Notice {
	o.Helper()
	var last booking.Notice
	for {
		n, ok, err := o.store.ClaimNotice(o.Context(), o.desk.Now().Add(time.Hour))
		o.must(err)
		if !ok {
			return last
		}
		o.must(o.store.MarkSent(o.Context(), n.ID))
		last = n
	}
}

func TestAsking(t *testing.T) {
	o := newOffice(t)
	r := request()
	b, secret, err := o.desk.Ask(t.Context(), r)
	o.must(err)
	if b.State != booking.Asked || b.Number != 1 || b.Attention != "" {
		t.Errorf("%+v", b)
	}
	link, err := o.store.OpenLink(t.Context(), secret.Hash(), booking.ToBooking, o.desk.Now())
	if err != nil || link.Subject != b.ID {
		t.Errorf("the link opens %s: %v", link.Subject, err)
	}
	n := o.mail()
	if n.To != r.Farm.Email || !strings.Contains(n.Body, "https://drawbar.example/b/"+string(secret)) || !strings.Contains(n.Body, "Mon 13 April to Sun 19 April") {
		t.Errorf("the mail to %s says %s", n.To, n.Body)
	}
}

func TestAskingBadly(t *testing.T) {
	o := newOffice(t)
	for field, spoil := range map[string]func(*booking.Request){
		"farm.email":      func(r *booking.Request) { r.Farm.Email = "nowhere" },
		"yard.name":       func(r *booking.Request) { r.Yard.Name = "" },
		"mob.0.head":      func(r *booking.Request) { r.Mobs[0].Head = 0 },
		"window.0.to":     func(r *booking.Request) { r.Windows[0].To = sample.Today.AddDays(-9) },
		"mobs":            func(r *booking.Request) { r.Mobs = nil },
		"windows":         func(r *booking.Request) { r.Windows = nil },
		"mob.0.males_out": func(r *booking.Request) { r.Mobs[0].MalesIn, r.Mobs[0].MalesOut = sample.Day, sample.Today },
	} {
		r := request()
		spoil(&r)
		for _, err := range []error{o.desk.Check(t.Context(), r), second(o.desk.Ask(t.Context(), r))} {
			if !fault.Is(err, fault.Invalid) || fault.FieldsOf(err)[field] == "" {
				t.Errorf("%s: %v, %v", field, err, fault.FieldsOf(err))
			}
		}
	}
	r := request()
	r.Yard.Version, r.Yard.FarmID = 1, booking.NewID()
	if err := o.desk.Check(t.Context(), r); fault.FieldsOf(err)["yard"] == "" {
		t.Errorf("another farm's yard: %v", err)
	}
}

func second(_ booking.Booking, _ booking.Secret, err error) error { return err }

func TestKnownAddress(t *testing.T) {
	o := newOffice(t)
	first := request()
	o.asked(first)
	again := request()
	again.Farm.Email = strings.ToUpper(first.Farm.Email)
	if b := o.asked(again); !strings.Contains(b.Attention, first.Farm.Name) {
		t.Errorf("attention %q", b.Attention)
	}
}

func TestFindingAFarm(t *testing.T) {
	o := newOffice(t)
	r := request()
	o.asked(r)
	o.mail()
	o.must(o.desk.FindFarm(t.Context(), r.Farm.Email))
	if n := o.mail(); n.To != r.Farm.Email || !strings.Contains(n.Body, "https://drawbar.example/f/") {
		t.Errorf("the mail to %q says %s", n.To, n.Body)
	}
	o.must(o.desk.FindFarm(t.Context(), "nobody@example.com"))
	if n := o.mail(); n.To != "" {
		t.Errorf("a mail went to %s", n.To)
	}
	if err := o.desk.FindFarm(t.Context(), "nobody"); !fault.Is(err, fault.Invalid) {
		t.Errorf("no address: %v", err)
	}
}

// Times in letters are the business's: 12:00 UTC in April is 8:00 in New York,
// and after the clocks go back on 1 November 2026 it is 7:00 (IANA time zones).
func TestPromising(t *testing.T) {
	o := newOffice(t)
	b := o.asked(request())
	v := o.visited(b)
	o.must(o.desk.Offer(t.Context(), v.ID, v.Version))
	if got := o.booking(b.ID).State; got != booking.Offered {
		t.Errorf("offered, it is %s", got)
	}
	if n := o.mail(); !strings.Contains(n.Body, "Mon 13 April: arriving about 8:00") || !strings.Contains(n.Body, "yes or no") {
		t.Errorf("the offer says %s", n.Body)
	}
	v = o.visit(v.ID)
	o.must(o.desk.Fix(t.Context(), v.ID, v.Version))
	if o.booking(b.ID).State != booking.Agreed || o.visit(v.ID).State != booking.Fixed {
		t.Error("fixing leaves it open")
	}
	if err := o.desk.Fix(t.Context(), v.ID, v.Version); !fault.Is(err, fault.Conflict) {
		t.Errorf("fixing an old version: %v", err)
	}
	v = o.visit(v.ID)
	o.must(o.desk.Unfix(t.Context(), v.ID, v.Version))
	if got := o.booking(b.ID); got.State != booking.Asked || !strings.Contains(got.Attention, "does not know yet") {
		t.Errorf("unfixed, it is %s: %s", got.State, got.Attention)
	}
}

func TestLettersAfterTheClocksGoBack(t *testing.T) {
	o := newOffice(t)
	r := request()
	day := civil.Date{Year: 2026, Month: time.November, Day: 2}
	r.Windows = []booking.Window{{From: day, To: day, Part: booking.AllDay}}
	b := o.asked(r)
	v := sample.Visit(b, o.rig, day.In(time.UTC).Add(12*time.Hour))
	o.must(o.store.ApplyPlan(t.Context(), booking.PlanChange{Save: []*booking.Visit{&v}, Verb: "planned"}))
	o.must(o.desk.Fix(t.Context(), v.ID, v.Version))
	if n := o.mail(); !strings.Contains(n.Body, "arriving about 7:00") {
		t.Errorf("the letter says %s", n.Body)
	}
}

func TestAnswers(t *testing.T) {
	for name, answer := range map[string]struct {
		say   func(*booking.Desk) func(*testing.T, booking.Booking) error
		state booking.State
		visit booking.VisitState
	}{
		"yes": {func(d *booking.Desk) func(*testing.T, booking.Booking) error {
			return func(t *testing.T, b booking.Booking) error {
				_, err := d.Accept(t.Context(), b.ID, b.Version)
				return err
			}
		}, booking.Agreed, booking.Fixed},
		"no": {func(d *booking.Desk) func(*testing.T, booking.Booking) error {
			return func(t *testing.T, b booking.Booking) error {
				_, err := d.Decline(t.Context(), b.ID, b.Version)
				return err
			}
		}, booking.Asked, booking.Pencilled},
	} {
		t.Run(name, func(t *testing.T) {
			o := newOffice(t)
			b := o.asked(request())
			v := o.visited(b)
			if err := answer.say(o.desk)(t, o.booking(b.ID)); !fault.Is(err, fault.Conflict) {
				t.Errorf("answering before an offer: %v", err)
			}
			o.must(o.desk.Offer(t.Context(), v.ID, v.Version))
			o.must(answer.say(o.desk)(t, o.booking(b.ID)))
			if o.booking(b.ID).State != answer.state || o.visit(v.ID).State != answer.visit {
				t.Errorf("booking %s, visit %s", o.booking(b.ID).State, o.visit(v.ID).State)
			}
		})
	}
}

// A change keeps an agreed day that still suits, and frees one that does not.
func TestChanging(t *testing.T) {
	for name, c := range map[string]struct {
		from  civil.Date
		part  booking.DayPart
		state booking.State
		visit booking.VisitState
	}{
		"still suits": {sample.Day, booking.AllDay, booking.Agreed, booking.Fixed},
		"mornings":    {sample.Day, booking.Morning, booking.Agreed, booking.Fixed},
		"afternoons":  {sample.Day, booking.Afternoon, booking.Asked, booking.Pencilled},
		"too early":   {sample.Day.AddDays(2), booking.AllDay, booking.Asked, booking.Pencilled},
	} {
		t.Run(name, func(t *testing.T) {
			o := newOffice(t)
			b := o.asked(request())
			v := o.visited(b)
			o.must(o.desk.Fix(t.Context(), v.ID, v.Version))
			b = o.booking(b.ID)
			b.Mobs[0].Head = 300
			wish := booking.Wish{Version: b.Version, Mobs: b.Mobs, Windows: []booking.Window{{From: c.from, To: sample.Day.AddDays(9), Part: c.part}}}
			_, err := o.desk.Change(t.Context(), b.ID, wish)
			o.must(err)
			got := o.booking(b.ID)
			if got.State != c.state || o.visit(v.ID).State != c.visit || !strings.Contains(got.Attention, "300 head instead of 240") {
				t.Errorf("booking %s, visit %s, %s", got.State, o.visit(v.ID).State, got.Attention)
			}
			if _, err := o.desk.Change(t.Context(), b.ID, wish); !fault.Is(err, fault.Conflict) {
				t.Errorf("an old version: %v", err)
			}
		})
	}
}

func TestWithdrawingAndCallingOff(t *testing.T) {
	o := newOffice(t)
	b := o.asked(request())
	v := o.visited(b)
	if err := o.desk.CallOff(t.Context(), v.ID, v.Version, " "); fault.FieldsOf(err)["reason"] == "" {
		t.Errorf("no reason: %v", err)
	}
	o.must(o.desk.Fix(t.Context(), v.ID, v.Version))
	v = o.visit(v.ID)
	o.must(o.desk.CallOff(t.Context(), v.ID, v.Version, "Rain."))
	if n := o.mail(); !strings.Contains(n.Body, "Rain.") || o.visit(v.ID).State != booking.CalledOff || o.booking(b.ID).State != booking.Asked {
		t.Errorf("called off: %s", n.Body)
	}
	again := o.visited(o.booking(b.ID)) // its time is free
	_, err := o.desk.Withdraw(t.Context(), b.ID, o.booking(b.ID).Version)
	o.must(err)
	if o.visit(again.ID).State != booking.CalledOff || o.booking(b.ID).State != booking.Withdrawn {
		t.Error("withdrawing leaves the rig held")
	}
	if _, err := o.desk.Withdraw(t.Context(), b.ID, o.booking(b.ID).Version); !fault.Is(err, fault.Conflict) {
		t.Errorf("withdrawing twice: %v", err)
	}
}

func TestSignInLinks(t *testing.T) {
	o := newOffice(t)
	p := sample.Person(booking.Operator)
	o.must(o.store.SavePerson(t.Context(), &p))
	o.must(o.desk.MailSignIn(t.Context(), strings.ToUpper(p.Email)))
	if n := o.mail(); n.To != p.Email || !strings.Contains(n.Body, "/sign-in/") {
		t.Errorf("the mail to %q says %s", n.To, n.Body)
	}
	p.Active = false
	o.must(o.store.SavePerson(t.Context(), &p))
	o.must(o.desk.MailSignIn(t.Context(), p.Email))
	if n := o.mail(); n.To != "" {
		t.Error("somebody who left got a link")
	}
}

// Days of one booking belong together: where a new wish leaves one of them
// out, all are free to move.
func TestChangingABookingOfTwoDays(t *testing.T) {
	for _, offered := range []bool{true, false} {
		o := newOffice(t)
		b := o.asked(request())
		first, second := sample.Visit(b, o.rig, sample.Morning), sample.Visit(b, o.rig, sample.Morning.AddDate(0, 0, 1))
		first.Parts, second.Part, second.Parts = 2, 2, 2
		o.must(o.store.ApplyPlan(t.Context(), booking.PlanChange{Save: []*booking.Visit{&first, &second}, Verb: "planned"}))
		promise := o.desk.Fix
		if offered {
			promise = o.desk.Offer
		}
		o.must(promise(t.Context(), first.ID, first.Version))
		b = o.booking(b.ID)
		wish := booking.Wish{Version: b.Version, Mobs: b.Mobs, Windows: []booking.Window{{From: sample.Day, To: sample.Day, Part: booking.AllDay}}}
		_, err := o.desk.Change(t.Context(), b.ID, wish)
		o.must(err)
		if o.booking(b.ID).State != booking.Asked || o.visit(first.ID).State != booking.Pencilled || o.visit(second.ID).State != booking.Pencilled {
			t.Errorf("offered %v: booking %s, visits %s and %s", offered, o.booking(b.ID).State, o.visit(first.ID).State, o.visit(second.ID).State)
		}
	}
}
