package signin

import (
	"embed"
	"net/http"
	"strings"
	"time"
	"unicode"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/web/session"
	"drawbar/web/view"

	"github.com/gin-gonic/gin"
)

// Deps is what the pages need.
type Deps struct {
	Store booking.Store
	Desk  *booking.Desk
	Now   func() time.Time
}

//go:embed templates/*.html
var files embed.FS

var pages = view.MustParse(files, "templates/*.html")

type signin struct {
	Deps
	byAddress, byMail *session.Limiter
}

// Mount adds the routes.
func Mount(r gin.IRouter, d Deps) {
	s := &signin{
		Deps:      d,
		byAddress: session.NewLimiter(10*time.Second, 20, d.Now),
		byMail:    session.NewLimiter(time.Minute, 6, d.Now),
	}
	r.GET("/sign-in", view.Handle(s.form))
	r.POST("/sign-in", view.Handle(s.password))
	r.POST("/sign-in/mail", view.Handle(s.mail))
	r.GET("/sign-in/:secret", view.Handle(s.link))
	r.POST("/sign-in/:secret", view.Handle(s.spend))
	r.POST("/sign-out", view.Handle(s.out))
	account := r.Group("", session.Require(booking.Roles...))
	account.GET("/account", view.Handle(s.account))
	account.POST("/account", view.Handle(s.setPassword))
}

type formPage struct{ Form *view.Form }

func (s *signin) form(c *gin.Context) error {
	return view.Render(c, http.StatusOK, pages, "sign_in", formPage{view.NewForm("next", safeNext(c.Query("next")))})
}

// safeNext keeps only addresses of our own pages. Browsers leave out control
// characters and take a backslash for a slash, so both could hide a //.
func safeNext(next string) string {
	if !strings.HasPrefix(next, "/") || strings.HasPrefix(next, "//") || strings.Contains(next, `\`) || strings.ContainsFunc(next, unicode.IsControl) {
		return ""
	}
	return next
}

// slow holds back whoever tries too often, by sender and by mail address.
func (s *signin) slow(c *gin.Context, email string) error {
	if err := s.byAddress.Allow(session.Address(c)); err != nil {
		return err
	}
	return s.byMail.Allow(strings.ToLower(email))
}

func (s *signin) password(c *gin.Context) error {
	form, err := view.ReadForm(c)
	if err != nil {
		return err
	}
	email, password := form.Text("email"), form.Secret("password")
	if err := s.slow(c, email); err != nil {
		return err
	}
	if form.Errors.Email("email", email, fault.Required); !form.OK() {
		return view.Render(c, form.Status(), pages, "sign_in", formPage{form})
	}
	p, ok, err := s.match(c, email, password)
	if err != nil {
		return err
	}
	if ok {
		return s.enter(c, p, safeNext(form.Typed("next")))
	}
	form.Errors.Add("password", "Address and password do not fit together. Try again, or have a link mailed to you.")
	return view.Render(c, form.Status(), pages, "sign_in", formPage{form})
}

// match finds the person; it takes as long for one who is not there.
func (s *signin) match(c *gin.Context, email, password string) (booking.Person, bool, error) {
	ctx := c.Request.Context()
	p, err := s.Store.PersonByEmail(ctx, email)
	if err != nil && !fault.Is(err, fault.NotFound) {
		return p, false, err
	}
	hash := ""
	if err == nil {
		if hash, err = s.Store.PasswordHash(ctx, p.ID); err != nil {
			return p, false, err
		}
	}
	match, err := session.MatchPassword(ctx, password, hash)
	return p, match && p.Active, err
}

func (s *signin) enter(c *gin.Context, p booking.Person, next string) error {
	if err := session.SignIn(c, p); err != nil {
		return err
	}
	if next != "" {
		return view.See(c, next)
	}
	home, err := s.home(c, p)
	if err != nil {
		return err
	}
	return view.See(c, home)
}

// home is the first page of a person; an owner whose business has no details
// yet gives those first.
func (s *signin) home(c *gin.Context, p booking.Person) (string, error) {
	_, err := s.Store.Business(c.Request.Context())
	switch {
	case p.Role == booking.Owner && fault.Is(err, fault.NotFound):
		session.Flash(c, "Welcome. Tell us about the business first; farmers see its name on every page.")
		return "/settings", nil
	case err != nil && !fault.Is(err, fault.NotFound):
		return "", err
	}
	return view.Home(p.Role), nil
}

func (s *signin) mail(c *gin.Context) error {
	form, err := view.ReadForm(c)
	if err != nil {
		return err
	}
	email := form.Text("email")
	if err := s.slow(c, email); err != nil {
		return err
	}
	if err := form.Take(s.Desk.MailSignIn(c.Request.Context(), email)); err != nil {
		return err
	}
	if !form.OK() {
		return view.Render(c, form.Status(), pages, "sign_in", formPage{form})
	}
	return view.Render(c, http.StatusOK, pages, "mailed", email)
}

// link shows a button, so that a program that looks at links in mails does
// not use it up.
func (s *signin) link(c *gin.Context) error {
	hash := booking.Secret(c.Param("secret")).Hash()
	link, err := s.Store.OpenLink(c.Request.Context(), hash, booking.ToSignIn, s.Now())
	if err != nil {
		return err
	}
	p, err := s.Store.Person(c.Request.Context(), link.Subject)
	if err != nil {
		return err
	}
	return view.Render(c, http.StatusOK, pages, "link", p)
}

func (s *signin) spend(c *gin.Context) error {
	hash := booking.Secret(c.Param("secret")).Hash()
	link, err := s.Store.SpendLink(c.Request.Context(), hash, booking.ToSignIn, s.Now())
	if err != nil {
		return err
	}
	p, err := s.Store.Person(c.Request.Context(), link.Subject)
	if err != nil {
		return err
	}
	if !p.Active {
		return fault.New(fault.Forbidden, "You are not on the list of people any more. Ask the owner.")
	}
	return s.enter(c, p, "")
}

func (s *signin) out(c *gin.Context) error {
	if err := session.SignOut(c); err != nil {
		return err
	}
	return view.See(c, "/")
}

func (s *signin) account(c *gin.Context) error {
	return view.Render(c, http.StatusOK, pages, "account", formPage{view.NewForm()})
}

func (s *signin) setPassword(c *gin.Context) error {
	form, err := view.ReadForm(c)
	if err != nil {
		return err
	}
	hash, err := session.HashPassword(c.Request.Context(), form.Secret("password"))
	if err := form.Take(err); err != nil {
		return err
	}
	if form.OK() {
		if err := s.Store.SetPasswordHash(c.Request.Context(), session.Person(c).ID, hash); err != nil {
			return err
		}
		if err := session.SignIn(c, session.Person(c)); err != nil {
			return err
		}
		session.Flash(c, "Your password is set. Wherever else you were signed in, you are not any more.")
		return view.See(c, "/account")
	}
	return view.Render(c, form.Status(), pages, "account", formPage{form})
}
