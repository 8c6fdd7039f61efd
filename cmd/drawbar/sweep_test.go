package main

import (
	"bytes"
	"context"
	"fmt"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/booking/sample"
	"drawbar/migrations/dbtest"

	"github.com/gin-gonic/gin"
)

// sweep is the whole site with something in it, and the ids of what is there.
type sweep struct {
	t       *testing.T
	log     bytes.Buffer
	app     *App
	handler http.Handler
	ids     []string
	sent    int
}

func newSweep(t *testing.T) *sweep {
	t.Helper()
	s := &sweep{t: t}
	s.app = openApp(t, dbtest.SQLite(t), t.TempDir())
	s.app.Log = slog.New(slog.NewTextHandler(&s.log, nil))
	s.fill()
	handler, err := s.app.Handler()
	if err != nil {
		t.Fatal(err)
	}
	s.handler = handler
	return s
}

func (s *sweep) fill() {
	s.t.Helper()
	ctx, rows := context.Background(), s.app.Store
	business, farm, rig := sample.Business(), sample.Farm(), sample.Rig()
	yard := sample.Yard(farm)
	wish := sample.Booking(farm, yard)
	farm.Version, yard.Version = 0, 0
	for _, err := range []error{
		rows.SaveBusiness(ctx, &business), rows.SaveRig(ctx, &rig),
		rows.AddBooking(ctx, booking.NewBooking{Farm: &farm, Yard: &yard, Booking: &wish}),
	} {
		if err != nil {
			s.t.Fatal(err)
		}
	}
	for _, service := range sample.Services() {
		if err := rows.SaveService(ctx, &service); err != nil {
			s.t.Fatal(err)
		}
	}
	s.ids = []string{string(farm.ID), string(yard.ID), string(rig.ID), string(wish.ID)}
}

// enter signs a new person in and gives the cookie.
func (s *sweep) enter(role booking.Role) *http.Cookie {
	s.t.Helper()
	p := sample.Person(role)
	if err := s.app.Store.SavePerson(context.Background(), &p); err != nil {
		s.t.Fatal(err)
	}
	link, err := s.app.Desk.SignInLink(context.Background(), p)
	if err != nil {
		s.t.Fatal(err)
	}
	w := httptest.NewRecorder()
	s.handler.ServeHTTP(w, httptest.NewRequest(http.MethodPost, strings.TrimPrefix(link, s.app.Desk.Site), nil))
	if len(w.Result().Cookies()) != 1 {
		s.t.Fatalf("%s does not get in: %d", role, w.Code)
	}
	return w.Result().Cookies()[0]
}

// What people, programs and accidents put into an address and a form.
var (
	params = []string{"", "0", "-1", "99999999999999999999", "nonsense", "%00", "%ff%fe", "..%2f..", "2026-W48", "2026-W99", "2026-02-30", "2026-11", "'%20OR%20''='", strings.Repeat("x", 3000), "01890a5d-ac96-774b-bcce-b302099a8057"}
	few    = []string{"nonsense", "%ff%fe", "2026-W48", "2026-11", "01890a5d-ac96-774b-bcce-b302099a8057"}
	forms  = []string{
		"", "version=-1", "version=99999999999999999999", "=&&;=%", "name=%zz",
		"name=%00&head=-5&email=%ff&role=emperor&zone=Nowhere&lat=NaN&lon=1e999&mob.0.head=1e9&mob.0.class=cow&window.0.from=0000-00-00",
		"mob.0.head=240&mob.0.class=ewe&mob.0.services=drench&mob.99999.head=1&window.0.from=9999-12-31&window.0.to=0001-01-01",
		"rig=nonsense&day=2026-02-30&arrive=25:61&reason=" + strings.Repeat("y", 5000),
	}
	param = regexp.MustCompile(`[:*]\w+`)
)

// No request, however odd, by whoever, brings the program out of step: bad
// input is the sender's (4xx, RFC 9110 section 15.5), never ours.
func TestNoInputBreaksAPage(t *testing.T) {
	s := newSweep(t)
	engine, ok := s.handler.(*gin.Engine)
	if !ok {
		t.Fatal("the handler does not tell its routes")
	}
	people := map[string]*http.Cookie{"nobody": nil}
	for _, role := range []booking.Role{booking.Owner, booking.Operator} {
		people[string(role)] = s.enter(role)
	}
	for _, route := range engine.Routes() {
		if strings.HasPrefix(route.Path, "/metrics") || route.Path == "/sign-out" {
			continue // no input; would end the test's own sessions
		}
		for who, cookie := range people {
			for _, path := range s.paths(route.Method, route.Path) {
				s.try(who, cookie, route.Method, path)
			}
		}
	}
}

// paths fills the parameters of a route with each odd value and each real id.
func (s *sweep) paths(method, route string) []string {
	if !param.MatchString(route) {
		return []string{route, route + "?page=-1&q=%00%ff&state=none&week=2026-W99"}
	}
	values := slices.Concat(params, s.ids)
	if method == http.MethodPost { // each is sent many forms
		values = slices.Concat(few, s.ids)
	}
	var all []string
	for _, value := range values {
		all = append(all, param.ReplaceAllLiteralString(route, value))
	}
	return all
}

func (s *sweep) try(who string, cookie *http.Cookie, method, path string) {
	s.t.Helper()
	if method == http.MethodGet {
		s.send(who, cookie, httptest.NewRequest(method, path, nil))
		return
	}
	for _, form := range forms {
		r := httptest.NewRequest(method, path, strings.NewReader(form))
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		s.send(who, cookie, r)
	}
	r := httptest.NewRequest(method, path, strings.NewReader(`{"events":[{"id":7}]}{`))
	r.Header.Set("Content-Type", "application/json")
	s.send(who, cookie, r)
}

func (s *sweep) send(who string, cookie *http.Cookie, r *http.Request) {
	s.t.Helper()
	if cookie != nil {
		r.AddCookie(cookie)
	}
	s.sent++ // each from another sender, so that none is held back
	r.RemoteAddr = fmt.Sprintf("10.%d.%d.%d:1234", s.sent>>16&255, s.sent>>8&255, s.sent&255)
	began := time.Now()
	w := httptest.NewRecorder()
	s.handler.ServeHTTP(w, r)
	if w.Code >= 500 {
		s.t.Errorf("%s: %s %.120s answers %d\n%.2000s", who, r.Method, r.URL.RequestURI(), w.Code, s.log.String())
	}
	s.log.Reset()
	if took := time.Since(began); took > 20*time.Second {
		s.t.Errorf("%s: %s %.120s keeps the program busy for %s", who, r.Method, r.URL.RequestURI(), took)
	}
	if text := w.Body.String(); w.Code >= 400 && (strings.Contains(text, "SQL") || strings.Contains(text, "goroutine") || strings.Contains(text, ".go:")) {
		s.t.Errorf("%s: %s %.120s shows its inside", who, r.Method, r.URL.RequestURI())
	}
}

// Every page that shows or changes the business's own is closed to whoever is
// not signed in.
func TestStrangersSeeOnlyPublicPages(t *testing.T) {
	s := newSweep(t)
	public := regexp.MustCompile(`^/($|sign-in|sign-out|static/|healthz|readyz|metrics|robots|book|find|f/|b/)`)
	for _, route := range s.handler.(*gin.Engine).Routes() {
		if public.MatchString(route.Path) {
			continue
		}
		path := param.ReplaceAllLiteralString(route.Path, s.ids[0])
		w := httptest.NewRecorder()
		s.handler.ServeHTTP(w, httptest.NewRequest(route.Method, path, nil))
		if led := w.Header().Get("Location"); w.Code != http.StatusUnauthorized && !strings.HasPrefix(led, "/sign-in") {
			t.Errorf("%s %s answers a stranger %d, %q", route.Method, route.Path, w.Code, led)
		}
	}
}

// An operator's pages are the phone's; money, farms and the board are not.
func TestOperatorsStayOutOfTheOffice(t *testing.T) {
	s := newSweep(t)
	cookie := s.enter(booking.Operator)
	closed := 0
	for _, route := range s.handler.(*gin.Engine).Routes() {
		if route.Method != http.MethodGet || !regexp.MustCompile(`^/(week|bookings|farms|money|settings|changes|board)`).MatchString(route.Path) {
			continue
		}
		closed++
		r := httptest.NewRequest(http.MethodGet, param.ReplaceAllLiteralString(route.Path, s.ids[0]), nil)
		r.AddCookie(cookie)
		w := httptest.NewRecorder()
		s.handler.ServeHTTP(w, r)
		if w.Code != http.StatusForbidden {
			t.Errorf("%s answers an operator %d", route.Path, w.Code)
		}
	}
	if closed < 5 {
		t.Errorf("only %d pages of the office were tried", closed)
	}
}
