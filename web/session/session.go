package session

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"net/http"
	"slices"
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/migrations/db"
	"drawbar/web/view"

	"github.com/alexedwards/scs/v2"
	"github.com/gin-gonic/gin"
)

// Sessions tells who is asking.
type Sessions struct {
	Credit  string // of the road data, for the frame of pages
	manager *scs.SessionManager
	store   booking.Store
	now     func() time.Time
}

// How long a session lasts. People take the phone out of reach for days; a
// farmer can come back through a link.
const (
	personStays = 30 * 24 * time.Hour
	farmerStays = 12 * time.Hour
)

// New keeps sessions in the database. secure is for sites served over https.
func New(d *db.DB, store booking.Store, now func() time.Time, secure bool) *Sessions {
	m := scs.New()
	m.Store = rows{d, now}
	m.Lifetime = personStays
	m.Cookie.Name = "drawbar"
	m.Cookie.HttpOnly = true
	m.Cookie.SameSite = http.SameSiteLaxMode
	if m.Cookie.Secure = secure; secure {
		m.Cookie.Name = "__Host-drawbar" // browsers take it from this host alone, and only by https
	}
	m.HashTokenInStore = true
	return &Sessions{manager: m, store: store, now: now}
}

const (
	managerKey = "drawbar/session.manager"
	personKey  = "drawbar/session.person"
	farmKey    = "drawbar/session.farm"
	person     = "person"
	farm       = "farm"
	stamp      = "stamp" // of the password that held when the session began
	flash      = "flash"
)

// Load opens the session, finds out who is asking, names them as the actor of
// whatever the request changes, and gives pages their frame. It saves the
// session before the answer begins.
func (s *Sessions) Load(c *gin.Context) {
	c.Header("Vary", "Cookie")
	token, _ := c.Cookie(s.manager.Cookie.Name) // without one the session is new
	ctx, err := s.manager.Load(c.Request.Context(), token)
	if err != nil {
		view.Fail(c, err)
		return
	}
	c.Request = c.Request.WithContext(ctx)
	c.Set(managerKey, s)
	w := &saving{ResponseWriter: c.Writer, save: func() { s.save(c) }}
	c.Writer = w
	defer w.once()
	if err := s.load(c); err != nil {
		view.Fail(c, err)
		return
	}
	view.SetFrame(c, s.frame)
	c.Next()
}

func (s *Sessions) load(c *gin.Context) error {
	ctx := c.Request.Context()
	if id := s.manager.GetString(ctx, person); id != "" {
		p, err := s.store.Person(ctx, booking.ID(id))
		if err != nil && !fault.Is(err, fault.NotFound) {
			return err
		}
		if err != nil || !p.Active {
			return s.manager.Destroy(ctx)
		}
		if now, err := s.stampOf(c, p.ID); err != nil || now != s.manager.GetString(ctx, stamp) {
			return errors.Join(err, s.manager.Destroy(ctx))
		}
		c.Set(personKey, p)
		c.Request = c.Request.WithContext(booking.As(ctx, booking.Actor{Kind: booking.ByPerson, ID: p.ID, Name: p.Name}))
		return nil
	}
	if id := s.manager.GetString(ctx, farm); id != "" {
		return s.loadFarm(c, booking.ID(id))
	}
	return nil
}

// stampOf changes with a person's password, so that setting a new one ends
// the sessions that were begun before (OWASP Session Management Cheat Sheet).
func (s *Sessions) stampOf(c *gin.Context, id booking.ID) (string, error) {
	hash, err := s.store.PasswordHash(c.Request.Context(), id)
	sum := sha256.Sum256([]byte(hash))
	return hex.EncodeToString(sum[:]), err
}

func (s *Sessions) loadFarm(c *gin.Context, id booking.ID) error {
	f, err := s.store.Farm(c.Request.Context(), id)
	if fault.Is(err, fault.NotFound) {
		return s.manager.Destroy(c.Request.Context())
	}
	if err == nil {
		AsFarm(c, f)
	}
	return err
}

// AsFarm makes the farm the actor of this request, for a page that was opened
// through a booking's own link.
func AsFarm(c *gin.Context, f booking.Farm) {
	c.Set(farmKey, f)
	c.Request = c.Request.WithContext(booking.As(c.Request.Context(), booking.Actor{Kind: booking.ByFarmer, ID: f.ID, Name: f.Name}))
}

// frame is what every page shows.
func (s *Sessions) frame(c *gin.Context) (view.Frame, error) {
	f := view.Frame{Credit: s.Credit, Person: Person(c), Farm: Farm(c), Flash: s.manager.PopString(c.Request.Context(), flash)}
	business, err := s.store.Business(c.Request.Context())
	if err != nil && !fault.Is(err, fault.NotFound) {
		return f, err
	}
	f.Business = business
	return f, nil
}

// Person is who is signed in; the zero Person when nobody is.
func Person(c *gin.Context) booking.Person {
	p, _ := c.Value(personKey).(booking.Person)
	return p
}

// Farm is the farm whose link was opened; the zero Farm without one.
func Farm(c *gin.Context) booking.Farm {
	f, _ := c.Value(farmKey).(booking.Farm)
	return f
}

// of is the sessions that Load put there.
func of(c *gin.Context) *Sessions { return c.MustGet(managerKey).(*Sessions) }

// Flash keeps a sentence for the next page.
func Flash(c *gin.Context, sentence string) {
	of(c).manager.Put(c.Request.Context(), flash, sentence)
}

// SignIn starts a session for a person, which lasts as long as their password.
func SignIn(c *gin.Context, p booking.Person) error {
	held, err := of(c).stampOf(c, p.ID)
	if err != nil {
		return err
	}
	if err := begin(c, person, p.ID, personStays); err != nil {
		return err
	}
	of(c).manager.Put(c.Request.Context(), stamp, held)
	return nil
}

// SignInFarm starts a session that may see one farm's own pages.
func SignInFarm(c *gin.Context, id booking.ID) error { return begin(c, farm, id, farmerStays) }

// begin leaves nothing of the session that was, least of all its token.
func begin(c *gin.Context, who string, id booking.ID, stays time.Duration) error {
	m, ctx := of(c).manager, c.Request.Context()
	if err := m.Clear(ctx); err != nil {
		return err
	}
	if err := m.RenewToken(ctx); err != nil {
		return err
	}
	m.SetDeadline(ctx, of(c).now().Add(stays))
	m.Put(ctx, who, string(id))
	return nil
}

// SignOut ends the session.
func SignOut(c *gin.Context) error { return of(c).manager.Destroy(c.Request.Context()) }

// Require lets only people of some roles through.
func Require(roles ...booking.Role) gin.HandlerFunc {
	return view.Handle(func(c *gin.Context) error {
		switch p := Person(c); {
		case p.ID == "":
			return fault.New(fault.Unsigned, "Please sign in first.")
		case !slices.Contains(roles, p.Role):
			return fault.New(fault.Forbidden, "This page is not for your part of the work. Ask the owner if it should be.")
		}
		return nil
	})
}
