package session_test

import (
	"context"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"os"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/booking/sample"
	"drawbar/booking/store"
	"drawbar/migrations/db"
	"drawbar/migrations/dbtest"
	"drawbar/web/session"
	"drawbar/web/view"

	"github.com/gin-gonic/gin"
)

func TestMain(m *testing.M) {
	gin.SetMode(gin.TestMode)
	slog.SetDefault(slog.New(slog.DiscardHandler)) // refusals are made on purpose here
	os.Exit(m.Run())
}

// site is a few pages on a database, with a clock that can be put forward.
type site struct {
	t      *testing.T
	store  *store.Store
	db     *db.DB
	ahead  atomic.Int64
	engine *gin.Engine
	owner  booking.Person
	farm   booking.Farm
}

func (s *site) now() time.Time { return time.Now().Add(time.Duration(s.ahead.Load())) }

func newSite(t *testing.T, d *db.DB, secure bool) *site {
	t.Helper()
	s := &site{t: t, db: d, engine: gin.New(), owner: sample.Person(booking.Owner), farm: sample.Farm()}
	s.store = store.New(d, s.now, nil)
	ctx := context.Background()
	if err := s.store.SavePerson(ctx, &s.owner); err != nil {
		t.Fatal(err)
	}
	if err := s.store.SaveFarm(ctx, &s.farm); err != nil {
		t.Fatal(err)
	}
	pages := s.engine.Group("", session.New(d, s.store, s.now, secure).Load)
	pages.POST("/in", view.Handle(func(c *gin.Context) error { return session.SignIn(c, s.owner) }))
	pages.POST("/in-farm", view.Handle(func(c *gin.Context) error { return session.SignInFarm(c, s.farm.ID) }))
	pages.POST("/out", view.Handle(session.SignOut))
	pages.POST("/flash", func(c *gin.Context) { session.Flash(c, "The farm is saved.") })
	pages.GET("/who", func(c *gin.Context) {
		actor := booking.ActorOf(c.Request.Context())
		c.String(http.StatusOK, "%s|%s|%s|%s", session.Person(c).Name, session.Farm(c).Name, actor.Kind, actor.Name)
	})
	pages.GET("/office", session.Require(booking.Owner, booking.Office), func(c *gin.Context) { c.String(http.StatusOK, "welcome") })
	pages.GET("/stream", func(c *gin.Context) {
		session.Flash(c, "kept")
		c.Writer.Flush()
		c.String(http.StatusOK, "later")
	})
	return s
}

// withAnotherOwner lets the first one go: somebody has to stay.
func (s *site) withAnotherOwner() {
	s.t.Helper()
	another := sample.Person(booking.Owner)
	if err := s.store.SavePerson(context.Background(), &another); err != nil {
		s.t.Fatal(err)
	}
}

// browser keeps the cookie.
type browser struct {
	*site
	cookie *http.Cookie
}

func (b *browser) send(method, path string) *httptest.ResponseRecorder {
	b.t.Helper()
	r := httptest.NewRequest(method, path, nil)
	if b.cookie != nil {
		r.AddCookie(b.cookie)
	}
	w := httptest.NewRecorder()
	b.engine.ServeHTTP(w, r)
	for _, c := range w.Result().Cookies() {
		if b.cookie = c; c.MaxAge < 0 {
			b.cookie = nil
		}
	}
	return w
}

func (b *browser) who() string { return b.send(http.MethodGet, "/who").Body.String() }

func TestPeopleComeAndGo(t *testing.T) {
	dbtest.Each(t, func(t *testing.T, d *db.DB) {
		b := &browser{site: newSite(t, d, false)}
		if got := b.who(); got != "||program|Drawbar" {
			t.Errorf("before anything: %q", got)
		}
		b.send(http.MethodPost, "/in")
		if got, want := b.who(), b.owner.Name+"||person|"+b.owner.Name; got != want {
			t.Errorf("signed in: %q, want %q", got, want)
		}
		kept := b.cookie
		b.send(http.MethodPost, "/out")
		if got := b.who(); got != "||program|Drawbar" {
			t.Errorf("signed out: %q", got)
		}
		b.cookie = kept
		if got := b.who(); got != "||program|Drawbar" {
			t.Errorf("the old cookie still works: %q", got)
		}
	})
}

func TestFarmersActForTheirFarm(t *testing.T) {
	b := &browser{site: newSite(t, dbtest.SQLite(t), false)}
	b.send(http.MethodPost, "/in-farm")
	if got, want := b.who(), "|"+b.farm.Name+"|farmer|"+b.farm.Name; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if w := b.send(http.MethodGet, "/office"); w.Code != http.StatusSeeOther {
		t.Errorf("a farmer gets %d from the office", w.Code)
	}
	b.ahead.Store(int64(13 * time.Hour))
	if got := b.who(); got != "||program|Drawbar" {
		t.Errorf("the next day: %q", got)
	}
}

func TestSessionsRunOut(t *testing.T) {
	dbtest.Each(t, func(t *testing.T, d *db.DB) {
		b := &browser{site: newSite(t, d, false)}
		b.send(http.MethodPost, "/in")
		b.ahead.Store(int64(29 * 24 * time.Hour))
		if !strings.Contains(b.who(), b.owner.Name) {
			t.Error("signed out within a month")
		}
		if err := session.Sweep(context.Background(), d, b.now()); err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(b.who(), b.owner.Name) {
			t.Error("a session that still runs was swept away")
		}
		b.ahead.Store(int64(31 * 24 * time.Hour))
		if got := b.who(); got != "||program|Drawbar" {
			t.Errorf("after a month: %q", got)
		}
		if err := session.Sweep(context.Background(), d, b.now()); err != nil {
			t.Fatal(err)
		}
		if n := count(t, d); n != 0 {
			t.Errorf("%d sessions stay after the sweep", n)
		}
	})
}

func count(t *testing.T, d *db.DB) (n int) {
	t.Helper()
	if err := d.SQL().QueryRow("SELECT count(*) FROM sessions").Scan(&n); err != nil {
		t.Fatal(err)
	}
	return n
}

func TestWhoIsLetGoIsOutAtOnce(t *testing.T) {
	b := &browser{site: newSite(t, dbtest.SQLite(t), false)}
	b.send(http.MethodPost, "/in")
	b.withAnotherOwner()
	b.owner.Active = false
	if err := b.store.SavePerson(context.Background(), &b.owner); err != nil {
		t.Fatal(err)
	}
	if got := b.who(); got != "||program|Drawbar" {
		t.Errorf("still there: %q", got)
	}
}

// OWASP Session Management Cheat Sheet: a new password ends the sessions that
// were begun with the one before.
func TestNewPasswordEndsOldSessions(t *testing.T) {
	s := newSite(t, dbtest.SQLite(t), false)
	here, there := &browser{site: s}, &browser{site: s}
	here.send(http.MethodPost, "/in")
	there.send(http.MethodPost, "/in")
	if err := s.store.SetPasswordHash(context.Background(), s.owner.ID, "$argon2id$new"); err != nil {
		t.Fatal(err)
	}
	here.send(http.MethodPost, "/in")
	if got, want := here.who(), s.owner.Name+"||person|"+s.owner.Name; got != want {
		t.Errorf("signed in anew: %q, want %q", got, want)
	}
	if got := there.who(); got != "||program|Drawbar" {
		t.Errorf("signed in before: %q", got)
	}
}

func TestRolesAreReadAnew(t *testing.T) {
	b := &browser{site: newSite(t, dbtest.SQLite(t), false)}
	if w := b.send(http.MethodGet, "/office"); w.Code != http.StatusSeeOther || w.Header().Get("Location") != "/sign-in?next=%2Foffice" {
		t.Errorf("nobody gets %d %s", w.Code, w.Header().Get("Location"))
	}
	b.send(http.MethodPost, "/in")
	if w := b.send(http.MethodGet, "/office"); w.Code != http.StatusOK || w.Body.String() != "welcome" {
		t.Errorf("the owner gets %d", w.Code)
	}
	b.withAnotherOwner()
	b.owner.Role = booking.Operator
	if err := b.store.SavePerson(context.Background(), &b.owner); err != nil {
		t.Fatal(err)
	}
	if w := b.send(http.MethodGet, "/office"); w.Code != http.StatusForbidden || strings.Contains(w.Body.String(), "welcome") {
		t.Errorf("an operator gets %d", w.Code)
	}
}

// OWASP Session Management Cheat Sheet: renew the id at every change of
// privilege.
func TestSigningInChangesTheToken(t *testing.T) {
	b := &browser{site: newSite(t, dbtest.SQLite(t), false)}
	b.send(http.MethodPost, "/flash")
	planted := b.cookie
	b.send(http.MethodPost, "/in")
	if planted == nil || b.cookie.Value == planted.Value {
		t.Error("the token stayed the same")
	}
	b.cookie = planted
	if got := b.who(); got != "||program|Drawbar" {
		t.Errorf("the planted token opens %q", got)
	}
}

func TestTheDatabaseDoesNotKnowTheToken(t *testing.T) {
	b := &browser{site: newSite(t, dbtest.SQLite(t), false)}
	b.send(http.MethodPost, "/in")
	var token string
	if err := b.db.SQL().QueryRow("SELECT token FROM sessions").Scan(&token); err != nil {
		t.Fatal(err)
	}
	if token == b.cookie.Value {
		t.Error("whoever reads the database can sign in")
	}
}

func TestCookieIsGuarded(t *testing.T) {
	for _, secure := range []bool{false, true} {
		b := &browser{site: newSite(t, dbtest.SQLite(t), secure)}
		b.send(http.MethodPost, "/in")
		// RFC 6265bis, section 4.1.3.2: the prefix binds the cookie to this host.
		if strings.HasPrefix(b.cookie.Name, "__Host-") != secure {
			t.Errorf("secure %v: the cookie is called %s", secure, b.cookie.Name)
		}
		if c := b.cookie; !c.HttpOnly || c.SameSite != http.SameSiteLaxMode || c.Secure != secure || c.Path != "/" || c.Domain != "" {
			t.Errorf("secure %v: %+v", secure, c)
		}
	}
}

func TestNoCookieWithoutNeed(t *testing.T) {
	b := &browser{site: newSite(t, dbtest.SQLite(t), false)}
	if w := b.send(http.MethodGet, "/who"); len(w.Result().Cookies()) != 0 || count(t, b.db) != 0 {
		t.Error("a reader who did nothing has a session")
	}
}

func TestNonsenseInTheCookie(t *testing.T) {
	b := &browser{site: newSite(t, dbtest.SQLite(t), false)}
	for _, value := range []string{"x", strings.Repeat("y", 4000), "%00"} {
		b.cookie = &http.Cookie{Name: "drawbar", Value: value}
		if w := b.send(http.MethodGet, "/who"); w.Code != http.StatusOK {
			t.Errorf("cookie %.10q gets %d", value, w.Code)
		}
	}
}

func TestSessionIsSavedBeforeAStreamBegins(t *testing.T) {
	b := &browser{site: newSite(t, dbtest.SQLite(t), false)}
	if w := b.send(http.MethodGet, "/stream"); !w.Flushed || b.cookie == nil || w.Body.String() != "later" {
		t.Errorf("flushed %v, cookie %v, body %q", w.Flushed, b.cookie, w.Body)
	}
}
