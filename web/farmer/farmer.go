package farmer

import (
	"context"
	"embed"
	"time"

	"drawbar/billing"
	"drawbar/booking"
	"drawbar/booking/offer"
	"drawbar/booking/schedule"
	"drawbar/web/session"
	"drawbar/web/view"

	"cloud.google.com/go/civil"
	"github.com/gin-gonic/gin"
)

// Pricer says what a booking is expected to cost.
type Pricer interface {
	Expect(ctx context.Context, asked booking.Booking, yard booking.Yard, day civil.Date, washDown bool) (billing.Expected, bool, error)
}

// Deps is what the pages need.
type Deps struct {
	Store   booking.Store
	Desk    *booking.Desk
	Planner *schedule.Planner
	Offers  offer.Offers
	Pricer  Pricer
	Now     func() time.Time
}

//go:embed templates/*.html
var files embed.FS

var pages = view.MustParse(files, "templates/*.html")

type farmer struct {
	Deps
	sends, finds *session.Limiter
}

// Mount adds the routes, open to everybody.
func Mount(r gin.IRouter, d Deps) {
	f := &farmer{
		Deps:  d,
		sends: session.NewLimiter(time.Minute, 12, d.Now),
		finds: session.NewLimiter(time.Minute, 5, d.Now),
	}
	for _, route := range []struct {
		method, path string
		handler      func(*gin.Context) error
	}{
		{"GET", "/", f.front},
		{"POST", "/find", f.find},
		{"GET", "/f/:secret", f.farmLink},
		{"POST", "/f/:secret", f.farmSpend},
		{"GET", "/book", f.form},
		{"POST", "/book", f.send},
		{"POST", "/book/estimate", f.estimate},
		{"GET", "/b/:secret", f.booking},
		{"POST", "/b/:secret/answer", f.answer},
		{"POST", "/b/:secret/take", f.take},
		{"GET", "/b/:secret/change", f.changeForm},
		{"POST", "/b/:secret/change", f.change},
		{"GET", "/b/:secret/withdraw", f.withdrawForm},
		{"POST", "/b/:secret/withdraw", f.withdraw},
	} {
		r.Handle(route.method, route.path, view.Handle(route.handler))
	}
}
