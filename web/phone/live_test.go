package phone

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/booking/pace"
	"drawbar/booking/sample"
	"drawbar/booking/schedule"
	"drawbar/jobs"
	"drawbar/web/static"
	"drawbar/web/webtest"
)

// scripts is an empty page from which the phone's scripts can be loaded.
func scripts(t *testing.T) *webtest.Page {
	t.Helper()
	mux := http.NewServeMux()
	mux.Handle(static.Prefix, static.Handler())
	mux.HandleFunc("/", func(w http.ResponseWriter, _ *http.Request) {
		fmt.Fprint(w, `<!doctype html><html lang="en"><title>Empty</title><link rel="icon" href="data:,">`)
	})
	server := httptest.NewServer(mux)
	t.Cleanup(server.Close)
	page := webtest.Start(t).Page(webtest.Phone)
	page.Go(server.URL)
	return page
}

func inJSON(t *testing.T, v any) string {
	t.Helper()
	text, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// The phone's arithmetic and package pace agree to the second.
func TestThePhoneReckonsAsPaceDoes(t *testing.T) {
	type asked struct {
		Rate                 pace.Rate
		Counted, All, Worked float64
	}
	rng := rand.New(rand.NewPCG(3, 141))
	cases := []asked{{pace.Rate{Alpha: 6, Beta: 0.08}, 0, 240, 0}, {pace.Rate{Alpha: 6, Beta: 0.08}, 240, 240, 3600}, {pace.Rate{Alpha: 6, Beta: 0.08}, 250, 240, -60}}
	for range 500 {
		all := float64(1 + rng.IntN(2000))
		alpha, perHour := 1+rng.Float64()*200, 20+rng.Float64()*400
		cases = append(cases, asked{pace.Rate{Alpha: alpha, Beta: alpha / perHour}, math.Round(all * rng.Float64() * 1.02), all, math.Round(rng.Float64() * 30000)})
	}
	got := webtest.Eval[[]struct{ PerHour, Done, Late float64 }](scripts(t), fmt.Sprintf(
		`import(%q).then((m) => %s.map((c) => m.after({alpha: c.Rate.alpha, beta: c.Rate.beta}, c.Counted, c.All, c.Worked)))`, static.Path("phone-pace.js"), inJSON(t, cases)))
	if len(got) != len(cases) {
		t.Fatalf("%d answers to %d questions", len(got), len(cases))
	}
	for i, c := range cases {
		want := c.Rate.After(c.Counted, c.All, time.Duration(c.Worked)*time.Second)
		if math.Abs(got[i].PerHour-want.HeadPerHour) > 1e-9*want.HeadPerHour || math.Abs(got[i].Done-want.Done.Seconds()) > 1 || math.Abs(got[i].Late-want.Late.Seconds()) > 1 {
			t.Errorf("%+v: the phone says %+v, pace %+v", c, got[i], want)
		}
	}
}

// told is a visit as the server had it, what the phone recorded since, and
// what the server would say once it has all.
type told struct {
	Base    state            `json:"base"`
	Entries []map[string]any `json:"entries"`
	At      int64            `json:"at"`
	want    live
}

// story makes up a visit: two mobs that differ, counts, pauses, now and then
// an incident, a count taken back or a mob nobody booked.
func story(rng *rand.Rand, model *pace.Model) told {
	farm := sample.Farm()
	a := around{farm: farm, yard: sample.Yard(farm), rig: sample.Rig(), business: sample.Business()}
	rams := booking.Mob{ID: booking.NewID(), Class: booking.Ram, Head: 1 + rng.IntN(60), Services: []string{"foot-trim"}}
	a.booking = sample.Booking(farm, a.yard, sample.Mob(1+rng.IntN(300)), rams)
	e, err := model.Estimate(schedule.Job(a.booking.Mobs, a.yard, farm.Hygiene, a.rig, 1+rng.IntN(3)))
	if err == nil && rng.IntN(12) > 0 { // sometimes there is no estimate
		a.estimate = e
	}
	visit := sample.Visit(a.booking, a.rig, sample.Morning)
	if rng.IntN(4) == 0 {
		visit.Parts, visit.Head = 2, 1+visit.Head/2
	}
	events, now := happened(rng, visit, a.booking.Mobs)
	cut := rng.IntN(len(events) + 1)
	at := func(events []jobs.Event) state {
		var known []booking.ID
		for _, e := range events {
			known = append(known, e.ID)
		}
		return stateOf(jobs.OpenDocket{Sheet: jobs.Sheet{Visit: visit, Mobs: a.booking.Mobs, Services: booking.ByCode(booking.StandardServices())}, Docket: jobs.Fold(events), Known: known}, a)
	}
	s := told{Base: at(events[:cut]), At: now.UnixMilli(), want: at(events).live(now, a.business.Location())}
	for _, e := range events { // the phone keeps what was sent as well
		s.Entries = append(s.Entries, map[string]any{"id": e.ID, "event": e})
	}
	return s
}

func happened(rng *rand.Rand, visit booking.Visit, mobs []booking.Mob) (events []jobs.Event, now time.Time) {
	now = visit.Arrive
	add := func(kind jobs.Kind, what jobs.Payload) {
		now = now.Add(time.Duration(1+rng.IntN(300_000)) * time.Millisecond)
		events = append(events, jobs.Event{ID: booking.NewID(), VisitID: visit.ID, Device: "phone", Seq: len(events), At: now, Kind: kind, What: what})
	}
	add(jobs.Arrived, nil)
	add(jobs.Started, nil)
	for range rng.IntN(60) {
		m := mobs[rng.IntN(len(mobs))]
		switch rng.IntN(10) {
		case 0:
			add(jobs.Paused, nil)
		case 1:
			add(jobs.Resumed, nil)
		case 2:
			add(jobs.Happened, jobs.Incident{Mob: m.ID, Head: rng.IntN(3), Text: "Jumped out."})
		case 3:
			mobs = append(mobs, booking.Mob{ID: booking.NewID(), Services: []string{"drench"}})
			add(jobs.AddedMob, jobs.NewMob{Mob: mobs[len(mobs)-1].ID, Class: booking.Lamb})
		case 4:
			if last := events[len(events)-1]; last.Kind == jobs.Counted {
				add(jobs.StruckOut, jobs.Strike{Event: last.ID})
			}
		default:
			add(jobs.Counted, jobs.Count{Mob: m.ID, Services: m.Services, Head: 1 + rng.IntN(20)})
		}
	}
	return events, now.Add(time.Duration(rng.IntN(600_000)) * time.Millisecond)
}

// From its own events the phone says in every case what the server says once
// it has them: the same count, the same pauses left out, the same words.
func TestThePhoneSaysWhatTheServerSays(t *testing.T) {
	rng, model := rand.New(rand.NewPCG(8, 15)), pace.DefaultModel()
	stories := make([]told, 300)
	for i := range stories {
		stories[i] = story(rng, model)
	}
	got := webtest.Eval[[]struct{ Big, More string }](scripts(t), fmt.Sprintf(`Promise.all([import(%q), import(%q)]).then(([docket, pace]) => %s.map((s) => {
		return pace.words(s.base, docket.fold(s.base, s.entries), s.at, (ms) => pace.clockOf(ms, s.base.zone));
	}))`, static.Path("phone-docket.js"), static.Path("phone-pace.js"), inJSON(t, stories)))
	kinds := map[string]int{}
	for i, s := range stories {
		if got[i] != struct{ Big, More string }(s.want) {
			t.Errorf("story %d: the phone says %q, the server %q", i, got[i], s.want)
		}
		kinds[fmt.Sprintf("%.4s", s.want.Big)]++
	}
	for _, kind := range []string{"Done", "Abou", "All ", ""} {
		if kinds[kind] == 0 {
			t.Errorf("no story ends with %q: %v", kind, kinds)
		}
	}
}

// Pauses stop the clock: an hour's break in the middle moves the finish by
// that hour and the pace not at all.
func TestPausedTimeDoesNotCount(t *testing.T) {
	s := state{Step: "work", Head: 200, Parts: 1, Rate: pace.Rate{Alpha: 20, Beta: 0.2}, Mobs: []mob{{ID: "m", Booked: 200, Worked: 100, Weight: 1}}}
	nine := time.Date(2026, 4, 6, 9, 0, 0, 0, time.UTC)
	s.Docket.Tallies = []jobs.Tally{{Mob: "m", Service: "drench", Head: 100}}
	s.Docket.Work = []jobs.Span{{From: nine}}
	straight := s.live(nine.Add(time.Hour), time.UTC)
	s.Docket.Work = []jobs.Span{{From: nine, To: nine.Add(30 * time.Minute)}, {From: nine.Add(90 * time.Minute)}}
	paused := s.live(nine.Add(2*time.Hour), time.UTC)
	if straight.Big != "Done about 11:00" || paused.Big != "Done about 12:00" { // 100 in an hour, as the estimate had it: another hour
		t.Errorf("straight %q, paused %q", straight, paused)
	}
	if straight.More[len("could be 12:00"):] != paused.More[len("could be 12:00"):] {
		t.Errorf("the pace is %q straight and %q paused", straight.More, paused.More)
	}
}

// 100 ewes at 10 s and 50 rams at 40 s are 3,000 s for 150 head, 20 s a head:
// a ewe is half a head of work and a ram two.
func TestMobsAreWeighedByTheirTime(t *testing.T) {
	a := around{
		booking:  booking.Booking{Mobs: []booking.Mob{{ID: "ewes", Head: 100}, {ID: "rams", Head: 50}}},
		estimate: pace.Estimate{Mobs: []pace.MobPace{{SecondsPerHead: 10}, {SecondsPerHead: 40}}},
	}
	for id, want := range map[booking.ID]float64{"ewes": 0.5, "rams": 2, "not booked": 1} {
		if got := a.weight(id); math.Abs(got-want) > 1e-12 {
			t.Errorf("%s weigh %g, want %g", id, got, want)
		}
	}
	s := state{Head: 150, Parts: 1, Mobs: []mob{{ID: "ewes", Booked: 100, Worked: 104, Weight: 0.5}, {ID: "rams", Booked: 50, Worked: 10, Weight: 2}}}
	s.Docket.Incidents = []jobs.IncidentAt{{Incident: jobs.Incident{Mob: "rams", Head: 1}}}
	if counted, all := s.weighed(); counted != 52+20 || all != 72+2*39 { // four ewes too many are not four rams
		t.Errorf("counted %g of %g", counted, all)
	}
	s.Parts, s.Head = 2, 80 // half of them today: work by head, as it was shared out
	if counted, all := s.weighed(); counted != 72 || all != 79 {
		t.Errorf("today counted %g of %g", counted, all)
	}
}
