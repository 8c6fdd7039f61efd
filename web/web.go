package web

import (
	"context"
	"log/slog"
	"net/http"
	"strings"
	"time"

	"drawbar/billing"
	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/offer"
	"drawbar/booking/schedule"
	"drawbar/jobs"
	"drawbar/migrations/db"
	"drawbar/routing/road"
	"drawbar/web/board"
	"drawbar/web/farmer"
	"drawbar/web/office"
	"drawbar/web/phone"
	"drawbar/web/roadmap"
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
	Biller  billing.Biller
	Roads   *road.Map // the imported roads, credited on every page of the people; nil without
	Jobs    jobs.Store
	Now     func() time.Time
	Log     *slog.Logger
	Site    string                             // address people use, such as https://example.com; "" for any
	Unsent  func(context.Context) (int, error) // notices that wait; nil for no such measurement
	Proxies []string                           // addresses of proxies whose word on the sender is taken
}

// New builds the handler of the whole site.
func New(d Deps) (http.Handler, error) {
	gin.SetMode(gin.ReleaseMode)
	engine := gin.New()
	engine.HandleMethodNotAllowed = true
	if err := engine.SetTrustedProxies(d.Proxies); err != nil {
		return nil, fault.Wrap(fault.Invalid, err, "Give trusted proxies by their addresses, such as 10.0.0.2 or 10.0.0.0/24.")
	}
	own, err := sameOrigin(d.Site)
	if err != nil {
		return nil, err
	}
	https := strings.HasPrefix(d.Site, "https://")
	sessions := session.New(d.DB, d.Store, d.Now, https)
	if d.Roads != nil {
		sessions.Credit = d.Roads.Info().Source
	}
	meter := newMeter(d.Unsent)
	engine.Use(logged(d.Log, meter), recovered(), secured(https), limited, own)
	engine.NoRoute(sessions.Load, view.Handle(noPage))
	engine.NoMethod(sessions.Load, view.Handle(noPage))
	engine.GET(static.Prefix+"*file", gin.WrapH(static.Handler()))
	mountProbes(engine, d.DB, meter)
	pages := engine.Group("", sessions.Load)
	signin.Mount(pages, signin.Deps{Store: d.Store, Desk: d.Desk, Now: d.Now})
	mountPages(pages, d)
	return engine, nil
}

// mountPages puts each audience behind its roles.
func mountPages(pages gin.IRouter, d Deps) {
	farmer.Mount(pages, farmer.Deps{Store: d.Store, Desk: d.Desk, Planner: d.Planner, Pricer: d.Biller, Now: d.Now,
		Offers: offer.Offers{Store: d.Store, Planner: d.Planner}})
	phone.Mount(pages, phone.Deps{Store: d.Store, Jobs: d.Jobs, Planner: d.Planner, Now: d.Now})
	atlas := roadmap.New(d.Roads)
	office.Mount(pages, office.Deps{Store: d.Store, Desk: d.Desk, Biller: d.Biller, Pace: d.Planner.Pace, Atlas: atlas, Now: d.Now})
	contractor := pages.Group("", session.Require(booking.Owner, booking.Office))
	atlas.Mount(contractor)
	board.Mount(contractor, board.Deps{Store: d.Store, Desk: d.Desk, Planner: d.Planner, Atlas: atlas, Now: d.Now})
}
