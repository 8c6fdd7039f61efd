package web

import (
	"log/slog"
	"net/http"
	"time"

	"drawbar/booking"
	"drawbar/booking/schedule"
	"drawbar/migrations/db"
	"drawbar/web/board"
	"drawbar/web/session"
	"drawbar/web/signin"
	"drawbar/web/static"
	"drawbar/web/view"

	"github.com/gin-gonic/gin"
)

// Deps is what the pages need.
type Deps struct {
	DB      *db.DB
	Store   booking.Store
	Desk    *booking.Desk
	Planner *schedule.Planner
	Now     func() time.Time
	Secure  bool // the site is served over https
	Log     *slog.Logger
}

// New builds the handler of the whole site.
func New(d Deps) (http.Handler, error) {
	gin.SetMode(gin.ReleaseMode)
	engine := gin.New()
	engine.HandleMethodNotAllowed = true
	if err := engine.SetTrustedProxies(nil); err != nil {
		return nil, err
	}
	sessions := session.New(d.DB, d.Store, d.Now, d.Secure)
	meter := newMeter()
	engine.Use(logged(d.Log, meter), recovered(), secured(d.Secure), limited)
	engine.NoRoute(sessions.Load, view.Handle(noPage))
	engine.NoMethod(sessions.Load, view.Handle(noPage))
	engine.GET(static.Prefix+"*file", gin.WrapH(static.Handler()))
	mountProbes(engine, d.DB, meter)
	pages := engine.Group("", sessions.Load)
	signin.Mount(pages, signin.Deps{Store: d.Store, Desk: d.Desk, Now: d.Now})
	mountPages(pages, d)
	return sameOrigin(sessions.Wrap(engine)), nil
}

// mountPages puts each audience behind its roles.
func mountPages(pages gin.IRouter, d Deps) {
	contractor := pages.Group("", session.Require(booking.Owner, booking.Office))
	board.Mount(contractor, board.Deps{Store: d.Store, Desk: d.Desk, Planner: d.Planner, Now: d.Now})
}
