package phone_test

import (
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/booking/pace"
	"drawbar/booking/sample"
	"drawbar/booking/schedule"
	bookings "drawbar/booking/store"
	"drawbar/jobs"
	"drawbar/jobs/store"
	"drawbar/migrations/dbtest"
	"drawbar/routing"
	"drawbar/web"

	"cloud.google.com/go/civil"
	"github.com/PuerkitoBio/goquery"
)

// site is the whole program with one visit today: 240 ewes to drench and
// weigh. The browser's clock is the real one, so the site's is too.
type site struct {
	*testing.T
	store   *bookings.Store
	jobs    *store.Store
	server  *httptest.Server
	people  map[booking.Role]booking.Person
	farm    booking.Farm
	yard    booking.Yard
	rig     booking.Rig
	booking booking.Booking
	visit   booking.Visit
	today   civil.Date
}

func newSite(t *testing.T) *site {
	t.Helper()
	d := dbtest.SQLite(t)
	s := &site{T: t, store: bookings.New(d, time.Now, nil), jobs: store.New(d, time.Now), people: map[booking.Role]booking.Person{}}
	s.load()
	model, err := pace.NewModel(pace.DefaultPriors(), nil)
	s.must(err)
	handler, err := web.New(web.Deps{
		DB: d, Store: s.store, Desk: &booking.Desk{Store: s.store, Now: time.Now}, Jobs: s.jobs,
		Planner: schedule.New(s.store, routing.Estimator{}, model, time.Now), Now: time.Now, Log: slog.New(slog.NewTextHandler(io.Discard, nil)),
	})
	s.must(err)
	s.server = httptest.NewServer(handler)
	t.Cleanup(s.server.Close)
	return s
}

func (s *site) must(err error) {
	s.Helper()
	if err != nil {
		s.Fatal(err)
	}
}

func (s *site) load() {
	ctx, business := s.Context(), sample.Business()
	s.must(s.store.SaveBusiness(ctx, &business))
	for _, role := range booking.Roles {
		p := sample.Person(role)
		s.must(s.store.SavePerson(ctx, &p))
		s.people[role] = p
	}
	for _, service := range sample.Services() {
		s.must(s.store.SaveService(ctx, &service))
	}
	s.rig = sample.Rig()
	s.rig.Crew = []booking.ID{s.people[booking.Operator].ID}
	s.must(s.store.SaveRig(ctx, &s.rig))
	s.today = business.Today(time.Now())
	s.farm = sample.Farm()
	s.yard = sample.Yard(s.farm)
	s.booking = sample.Booking(s.farm, s.yard)
	s.booking.State = booking.Agreed
	s.booking.Windows = []booking.Window{{From: s.today, To: s.today.AddDays(1), Part: booking.AllDay}}
	s.must(s.store.AddBooking(ctx, booking.NewBooking{Farm: &s.farm, Yard: &s.yard, Booking: &s.booking}))
	s.visit = sample.Visit(s.booking, s.rig, time.Date(s.today.Year, s.today.Month, s.today.Day, 8, 0, 0, 0, business.Location()).UTC())
	s.visit.State = booking.Fixed
	s.must(s.store.ApplyPlan(ctx, booking.PlanChange{Save: []*booking.Visit{&s.visit}, Verb: "placed"}))
}

// door is an address that signs somebody in, once.
func (s *site) door(role booking.Role) string {
	s.Helper()
	link, secret := sample.Link(booking.ToSignIn, s.people[role].ID, time.Now())
	s.must(s.store.AddLink(s.Context(), link))
	return s.server.URL + "/sign-in/" + string(secret)
}

// client is somebody signed in, who follows no redirects.
type client struct {
	*site
	http *http.Client
}

func (s *site) signIn(role booking.Role) *client {
	s.Helper()
	jar := &cookies{}
	c := &client{s, &http.Client{Jar: jar, CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}}
	if r := c.form(strings.TrimPrefix(s.door(role), s.server.URL)); r.status != http.StatusSeeOther {
		s.Fatalf("signing in answers %d", r.status)
	}
	return c
}

// cookies is a jar for one site.
type cookies struct{ all []*http.Cookie }

func (j *cookies) SetCookies(_ *url.URL, set []*http.Cookie) { j.all = append(j.all, set...) }
func (j *cookies) Cookies(*url.URL) []*http.Cookie {
	if len(j.all) == 0 {
		return nil
	}
	return j.all[len(j.all)-1:]
}

// answer of the site.
type answer struct {
	status int
	to     string
	body   string
}

func (c *client) do(method, path, kind, body string) answer {
	c.Helper()
	r, err := http.NewRequestWithContext(c.Context(), method, c.server.URL+path, strings.NewReader(body))
	c.must(err)
	if kind != "" {
		r.Header.Set("Content-Type", kind)
	}
	response, err := c.http.Do(r)
	c.must(err)
	defer response.Body.Close()
	text, err := io.ReadAll(response.Body)
	c.must(err)
	return answer{response.StatusCode, response.Header.Get("Location"), string(text)}
}

func (c *client) get(path string) answer { c.Helper(); return c.do("GET", path, "", "") }

// form sends fields told by name and value in turn.
func (c *client) form(path string, pairs ...string) answer {
	c.Helper()
	values := url.Values{}
	for i := 0; i+1 < len(pairs); i += 2 {
		values.Add(pairs[i], pairs[i+1])
	}
	return c.do("POST", path, "application/x-www-form-urlencoded", values.Encode())
}

func (c *client) json(path, body string) answer {
	c.Helper()
	return c.do("POST", path, "application/json", body)
}

func (c *client) page(path string) *goquery.Document {
	c.Helper()
	a := c.get(path)
	if a.status != http.StatusOK {
		c.Fatalf("%s answers %d: %s", path, a.status, a.body)
	}
	doc, err := goquery.NewDocumentFromReader(strings.NewReader(a.body))
	c.must(err)
	return doc
}

func (s *site) visitPath() string { return "/visits/" + string(s.visit.ID) }

// docket is what the server has.
func (s *site) docket() jobs.OpenDocket {
	s.Helper()
	open, err := s.jobs.Docket(s.Context(), s.visit.ID)
	s.must(err)
	return open
}
