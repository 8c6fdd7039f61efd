package phone

import (
	"embed"
	"time"

	"drawbar/booking"
	"drawbar/booking/schedule"
	"drawbar/jobs"
	"drawbar/web/session"
	"drawbar/web/view"

	"github.com/gin-gonic/gin"
)

// Deps is what the pages need.
type Deps struct {
	Store   booking.Store
	Jobs    jobs.Store
	Planner *schedule.Planner
	Now     func() time.Time
}

//go:embed templates/*.html
var files embed.FS

var pages = view.MustParse(files, "templates/*.html")

type phone struct{ Deps }

// Mount adds the routes: rounds and visits for everybody who works here, the
// dockets for the owner and the office.
func Mount(r gin.IRouter, d Deps) {
	p := &phone{d}
	crew := r.Group("", session.Require(booking.Roles...))
	crew.GET("/today", view.Handle(p.today))
	crew.GET("/visits/:id", view.Handle(p.visit))
	crew.GET("/visits/:id/kit", view.Handle(p.kit))
	crew.POST("/visits/:id/record", view.Handle(p.record))
	crew.GET("/api/visits/:id", view.Handle(p.state))
	crew.POST("/api/visits/:id/events", view.Handle(p.events))
	office := r.Group("", session.Require(booking.Owner, booking.Office))
	office.GET("/dockets", view.Handle(p.dockets))
	office.GET("/dockets/:id", view.Handle(p.docket))
	office.POST("/dockets/:id/correct", view.Handle(p.correct))
}
