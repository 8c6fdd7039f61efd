package signin_test

import (
	"context"
	"fmt"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/booking/sample"
	"drawbar/booking/store"
	"drawbar/migrations/db"
	"drawbar/migrations/dbtest"
	"drawbar/web/session"
	"drawbar/web/signin"

	"github.com/PuerkitoBio/goquery"
	"github.com/gin-gonic/gin"
)

func TestMain(m *testing.M) {
	gin.SetMode(gin.TestMode)
	slog.SetDefault(slog.New(slog.DiscardHandler)) // refusals are made on purpose here
	os.Exit(m.Run())
}

const password = "four grey sheep in a pen"

// site is the pages of this package on a database, and a browser on them.
type site struct {
	t      *testing.T
	db     *db.DB
	store  *store.Store
	desk   *booking.Desk
	engine *gin.Engine
	cookie *http.Cookie
	now    time.Time
	ann    booking.Person
}

func newSite(t *testing.T, d *db.DB) *site {
	t.Helper()
	s := &site{t: t, db: d, engine: gin.New(), now: time.Now(), ann: sample.Person(booking.Owner)}
	clock := func() time.Time { return s.now }
	s.store = store.New(d, clock, nil)
	s.desk = &booking.Desk{Store: s.store, Now: clock, Site: "http://drawbar.test"}
	s.ann.Email = "Ann@Coverdale.example"
	s.must(s.store.SavePerson(context.Background(), &s.ann))
	pages := s.engine.Group("", session.New(d, s.store, clock, false).Load)
	signin.Mount(pages, signin.Deps{Store: s.store, Desk: s.desk, Now: clock})
	return s
}

func (s *site) must(err error) {
	s.t.Helper()
	if err != nil {
		s.t.Fatal(err)
	}
}

// hashed once for all: hashing is slow on purpose.
var hashed = sync.OnceValues(func() (string, error) { return session.HashPassword(context.Background(), password) })

// withPassword gives Ann a password.
func (s *site) withPassword() *site {
	hash, err := hashed()
	s.must(err)
	s.must(s.store.SetPasswordHash(context.Background(), s.ann.ID, hash))
	return s
}

func (s *site) withBusiness() *site {
	b := sample.Business()
	s.must(s.store.SaveBusiness(context.Background(), &b))
	return s
}

type answer struct {
	*httptest.ResponseRecorder
	doc *goquery.Document
}

func (a answer) text(selector string) string {
	return strings.Join(strings.Fields(a.doc.Find(selector).Text()), " ")
}

func (a answer) to() string { return a.Header().Get("Location") }

func (s *site) send(r *http.Request) answer {
	s.t.Helper()
	if s.cookie != nil {
		r.AddCookie(s.cookie)
	}
	w := httptest.NewRecorder()
	s.engine.ServeHTTP(w, r)
	for _, c := range w.Result().Cookies() {
		if s.cookie = c; c.MaxAge < 0 {
			s.cookie = nil
		}
	}
	doc, err := goquery.NewDocumentFromReader(strings.NewReader(w.Body.String()))
	s.must(err)
	return answer{w, doc}
}

func (s *site) get(path string) answer {
	s.t.Helper()
	return s.send(httptest.NewRequest(http.MethodGet, path, nil))
}

// post sends names and values in turn.
func (s *site) post(path string, pairs ...string) answer {
	s.t.Helper()
	values := url.Values{}
	for i := 0; i < len(pairs); i += 2 {
		values.Add(pairs[i], pairs[i+1])
	}
	r := httptest.NewRequest(http.MethodPost, path, strings.NewReader(values.Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	return s.send(r)
}

// link makes a sign-in link for Ann and gives its path.
func (s *site) link() string {
	s.t.Helper()
	address, err := s.desk.SignInLink(context.Background(), s.ann)
	s.must(err)
	return strings.TrimPrefix(address, "http://drawbar.test")
}

// signedIn tells whether the account page opens.
func (s *site) signedIn() bool {
	s.t.Helper()
	return s.get("/account").Code == http.StatusOK
}

func TestPasswordSignsIn(t *testing.T) {
	s := newSite(t, dbtest.SQLite(t)).withPassword().withBusiness()
	if s.signedIn() {
		t.Fatal("signed in before anything was sent")
	}
	if a := s.post("/sign-in", "email", "ann@coverdale.EXAMPLE", "password", password); a.Code != http.StatusSeeOther || a.to() != "/week" {
		t.Errorf("%d to %s", a.Code, a.to())
	}
	if !s.signedIn() {
		t.Error("not signed in")
	}
	if a := s.post("/sign-out"); a.Code != http.StatusSeeOther || s.signedIn() {
		t.Errorf("signing out: %d", a.Code)
	}
}

// Whoever tries addresses learns nothing from the answers.
func TestUnknownAndKnownAddressesAnswerAlike(t *testing.T) {
	s := newSite(t, dbtest.SQLite(t)).withPassword()
	ben := sample.Person(booking.Operator)
	ben.Active = false
	s.must(s.store.SavePerson(context.Background(), &ben))
	for _, path := range []string{"/sign-in", "/sign-in/mail"} {
		want := ""
		for _, email := range []string{s.ann.Email, "nobody@coverdale.example", ben.Email} {
			a := s.post(path, "email", email, "password", "five grey sheep in a pen")
			got := fmt.Sprintf("%d %s", a.Code, strings.ReplaceAll(a.Body.String(), email, "EMAIL"))
			if want == "" {
				want = got
			}
			if got != want {
				t.Errorf("%s: %s answers otherwise:\n%s\nbut\n%s", path, email, got, want)
			}
		}
	}
}

func TestRefusedPasswordKeepsTheAddress(t *testing.T) {
	s := newSite(t, dbtest.SQLite(t))
	a := s.post("/sign-in", "email", s.ann.Email, "password", "wrong", "next", "/farms")
	if a.Code != http.StatusUnprocessableEntity || a.text(".errors") == "" {
		t.Errorf("%d %q", a.Code, a.text("main"))
	}
	for selector, want := range map[string]string{"[name=email]": s.ann.Email, "[name=password]": "", "[name=next]": "/farms"} {
		if got := a.doc.Find(selector).AttrOr("value", ""); got != want {
			t.Errorf("%s holds %q, want %q", selector, got, want)
		}
	}
}

func TestPeopleWhoLeftCannotSignIn(t *testing.T) {
	s := newSite(t, dbtest.SQLite(t)).withPassword()
	link := s.link()
	another := sample.Person(booking.Owner) // somebody has to stay
	s.must(s.store.SavePerson(context.Background(), &another))
	s.ann.Active = false
	s.must(s.store.SavePerson(context.Background(), &s.ann))
	if a := s.post("/sign-in", "email", s.ann.Email, "password", password); a.Code != http.StatusUnprocessableEntity {
		t.Errorf("by password: %d", a.Code)
	}
	if a := s.post(link); a.Code != http.StatusForbidden || s.signedIn() {
		t.Errorf("by link: %d", a.Code)
	}
}

func TestSignInLeadsWhereSomebodyWantedToGo(t *testing.T) {
	s := newSite(t, dbtest.SQLite(t)).withPassword().withBusiness()
	for next, want := range map[string]string{"/farms?q=a&sort=name": "/farms?q=a&sort=name", "//evil.example": "/week"} {
		if a := s.post("/sign-in", "email", s.ann.Email, "password", password, "next", next); a.to() != want {
			t.Errorf("next %q leads to %q, want %q", next, a.to(), want)
		}
	}
}

func TestNewOwnerIsLedToTheSettings(t *testing.T) {
	s := newSite(t, dbtest.SQLite(t))
	if a := s.post(s.link()); a.to() != "/settings" {
		t.Errorf("led to %q", a.to())
	}
	if a := s.get("/account"); !strings.Contains(a.text(".flash"), "business first") {
		t.Errorf("told %q", a.text(".flash"))
	}
}

// A program that looks at the links in mails must not use one up.
func TestLookingAtALinkDoesNotSpendIt(t *testing.T) {
	s := newSite(t, dbtest.SQLite(t)).withBusiness()
	link := s.link()
	for range 3 {
		a := s.get(link)
		if a.Code != http.StatusOK || s.signedIn() {
			t.Fatalf("looking: %d", a.Code)
		}
		if got := a.text("form[method=post] button.go"); got != "Sign in as "+s.ann.Name {
			t.Errorf("the button says %q", got)
		}
	}
	if a := s.post(link); a.Code != http.StatusSeeOther || !s.signedIn() {
		t.Errorf("spending: %d", a.Code)
	}
}

func TestLinksWorkOnce(t *testing.T) {
	dbtest.Each(t, func(t *testing.T, d *db.DB) {
		s := newSite(t, d)
		link := s.link()
		s.post(link)
		s.cookie = nil
		for _, a := range []answer{s.get(link), s.post(link)} {
			if a.Code != http.StatusGone || s.signedIn() {
				t.Errorf("the second time: %d", a.Code)
			}
			if a.doc.Find("main a[href='/sign-in']").Length() != 1 {
				t.Error("no way to another link")
			}
		}
	})
}

func TestOneOfManyAtTheSameMomentGetsIn(t *testing.T) {
	dbtest.Each(t, func(t *testing.T, d *db.DB) {
		s := newSite(t, d)
		link := s.link()
		codes := make([]int, 8)
		var all sync.WaitGroup
		for i := range codes {
			all.Go(func() {
				w := httptest.NewRecorder()
				s.engine.ServeHTTP(w, httptest.NewRequest(http.MethodPost, link, nil))
				codes[i] = w.Code
			})
		}
		all.Wait()
		in := 0
		for _, code := range codes {
			switch code {
			case http.StatusSeeOther:
				in++
			case http.StatusGone:
			default:
				t.Errorf("somebody got %d", code)
			}
		}
		if in != 1 {
			t.Errorf("%d got in by one link", in)
		}
	})
}

func TestLinksRunOut(t *testing.T) {
	s := newSite(t, dbtest.SQLite(t))
	link := s.link()
	s.now = s.now.Add(61 * time.Minute)
	if a := s.get(link); a.Code != http.StatusGone {
		t.Errorf("looking: %d", a.Code)
	}
	if a := s.post(link); a.Code != http.StatusGone || s.signedIn() {
		t.Errorf("spending: %d", a.Code)
	}
}

func TestInventedLinksAreNotFound(t *testing.T) {
	s := newSite(t, dbtest.SQLite(t))
	for _, secret := range []string{"x", "abc%2Fdef", "%00", "%ff%fe", strings.Repeat("A", 5000), string(booking.NewSecret())} {
		if a := s.get("/sign-in/" + secret); a.Code != http.StatusNotFound {
			t.Errorf("looking at %.10s: %d", secret, a.Code)
		}
		if a := s.post("/sign-in/" + secret); a.Code != http.StatusNotFound {
			t.Errorf("spending %.10s: %d", secret, a.Code)
		}
	}
}

// A link to a booking or a farm must not sign anybody in.
func TestLinksForOtherThingsDoNotSignIn(t *testing.T) {
	s := newSite(t, dbtest.SQLite(t))
	for _, purpose := range []booking.LinkPurpose{booking.ToBooking, booking.ToFarm} {
		secret := booking.NewSecret()
		s.must(s.store.AddLink(context.Background(), booking.Link{Hash: secret.Hash(), Purpose: purpose, Subject: s.ann.ID, Expires: s.now.Add(time.Hour)}))
		if a := s.post("/sign-in/" + string(secret)); a.Code != http.StatusNotFound || s.signedIn() {
			t.Errorf("%s: %d", purpose, a.Code)
		}
	}
}

var mailed = regexp.MustCompile(`http://drawbar\.test(/sign-in/\S+)`)

func TestMailedLinkSignsIn(t *testing.T) {
	s := newSite(t, dbtest.SQLite(t)).withBusiness()
	if a := s.post("/sign-in/mail", "email", strings.ToLower(s.ann.Email)); a.Code != http.StatusOK {
		t.Fatalf("asking: %d %s", a.Code, a.text("main"))
	}
	n, ok, err := s.store.ClaimNotice(context.Background(), s.now.Add(time.Minute))
	s.must(err)
	if !ok || n.To != s.ann.Email {
		t.Fatalf("mailed to %q", n.To)
	}
	found := mailed.FindStringSubmatch(n.Body)
	if found == nil {
		t.Fatalf("no link in %q", n.Body)
	}
	if a := s.post(found[1]); a.to() != "/week" || !s.signedIn() {
		t.Errorf("the mailed link: %d to %s", a.Code, a.to())
	}
}

func TestMailToNobodyIsNotSent(t *testing.T) {
	s := newSite(t, dbtest.SQLite(t))
	s.post("/sign-in/mail", "email", "nobody@coverdale.example")
	if n, ok, err := s.store.ClaimNotice(context.Background(), s.now.Add(time.Minute)); ok || err != nil {
		t.Errorf("mailed to %q, %v", n.To, err)
	}
}

func TestManyTriesAreHeldBack(t *testing.T) {
	s := newSite(t, dbtest.SQLite(t))
	var a answer
	for i := range 7 {
		a = s.post("/sign-in/mail", "email", "ann@coverdale.example")
		if held := a.Code == http.StatusTooManyRequests; held != (i >= 6) {
			t.Errorf("try %d: %d", i+1, a.Code)
		}
	}
	if a.Header().Get("Retry-After") == "" {
		t.Error("nobody is told how long to wait")
	}
	if a := s.post("/sign-in", "email", "ANN@coverdale.example", "password", password); a.Code != http.StatusTooManyRequests {
		t.Errorf("capital letters are another account: %d", a.Code)
	}
	if a := s.post("/sign-in/mail", "email", "ben@coverdale.example"); a.Code != http.StatusOK {
		t.Errorf("somebody else: %d", a.Code)
	}
	s.now = s.now.Add(time.Minute)
	if a := s.post("/sign-in/mail", "email", "ann@coverdale.example"); a.Code != http.StatusOK {
		t.Errorf("a minute later: %d", a.Code)
	}
}

func TestOneSenderCannotTryManyAddresses(t *testing.T) {
	s := newSite(t, dbtest.SQLite(t))
	held := false
	for i := range 25 {
		held = s.post("/sign-in/mail", "email", fmt.Sprintf("p%d@coverdale.example", i)).Code == http.StatusTooManyRequests
	}
	if !held {
		t.Error("25 addresses in a row")
	}
}

func TestBadEntriesNeverBreakThePage(t *testing.T) {
	s := newSite(t, dbtest.SQLite(t))
	for _, path := range []string{"/sign-in", "/sign-in/mail"} {
		for _, email := range []string{"", "ann", "a@b", "ann@x.example, ben@x.example", "caf\xe9@x.example", "nul\x00@x.example", strings.Repeat("a", 30_000) + "@x.example", "'; DROP TABLE people; --"} {
			s.now = s.now.Add(time.Hour) // so that nothing is held back
			a := s.post(path, "email", email, "password", "nul\x00and\xff")
			if a.Code != http.StatusUnprocessableEntity || a.text(".errors") == "" {
				t.Errorf("%s with %.12q: %d", path, email, a.Code)
			}
		}
	}
}

func TestAccountSetsAPassword(t *testing.T) {
	s := newSite(t, dbtest.SQLite(t)).withBusiness()
	s.post(s.link())
	if a := s.post("/account", "password", "short"); a.Code != http.StatusUnprocessableEntity || !strings.Contains(a.text(".error"), "10 to 200") {
		t.Errorf("a short one: %d %q", a.Code, a.text(".error"))
	}
	if a := s.post("/account", "password", password); a.to() != "/account" {
		t.Errorf("a good one: %d %s", a.Code, a.text("main"))
	}
	if got := s.get("/account").text(".flash"); !strings.HasPrefix(got, "Your password is set.") {
		t.Errorf("told %q", got)
	}
	if got := s.get("/account").text(".flash"); got != "" {
		t.Errorf("told again: %q", got)
	}
	s.post("/sign-out")
	s.post("/sign-in", "email", s.ann.Email, "password", password)
	if !s.signedIn() {
		t.Error("the new password does not open")
	}
}
