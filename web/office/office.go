package office

import (
	"embed"
	"time"

	"drawbar/billing"
	"drawbar/booking"
	"drawbar/booking/pace"
	"drawbar/web/roadmap"
	"drawbar/web/session"
	"drawbar/web/view"

	"github.com/gin-gonic/gin"
)

// Deps is what the pages need.
type Deps struct {
	Store  booking.Store
	Desk   *booking.Desk
	Biller billing.Biller
	Atlas  *roadmap.Atlas
	Pace   *pace.Current
	Now    func() time.Time
}

//go:embed templates/*.html
var files embed.FS

var pages = view.MustParse(files, "templates/*.html")

// office has the handlers.
type office struct{ Deps }

// Mount adds the routes, each behind its roles.
func Mount(r gin.IRouter, d Deps) {
	o := &office{d}
	o.mountOwner(r.Group("", session.Require(booking.Owner)))
	both := r.Group("", session.Require(booking.Owner, booking.Office))
	o.mountMoney(both)
	o.mountRigs(both)
	o.mountTimes(both)
	o.mountFarms(both)
}
