package board

import (
	"embed"
	"time"

	"drawbar/booking"
	"drawbar/booking/schedule"
	"drawbar/web/roadmap"
	"drawbar/web/view"

	"github.com/gin-gonic/gin"
)

// Deps is what the pages need.
type Deps struct {
	Store   booking.Store
	Desk    *booking.Desk
	Planner *schedule.Planner
	Atlas   *roadmap.Atlas
	Now     func() time.Time
}

//go:embed templates/*.html
var files embed.FS

var pages = view.MustParse(files, "templates/*.html")

// board has the handlers.
type board struct{ Deps }

// Mount adds the routes to a group that only owners and the office may enter.
func Mount(r gin.IRouter, d Deps) {
	b := &board{d}
	for _, route := range []struct {
		method, path string
		handler      func(*gin.Context) error
	}{
		{"GET", "/week", b.thisWeek},
		{"GET", "/week/:week", b.week},
		{"GET", "/week/:week/print", b.runSheets},
		{"GET", "/week/:week/map", b.weekMap},
		{"GET", "/week/:week/map.json", b.mapData},
		{"POST", "/week/:week/plan", b.planAsk},
		{"GET", "/board/plans", b.plans},
		{"POST", "/board/plans/undo", b.planUndo},
		{"GET", "/board/plans/:id", b.plan},
		{"GET", "/board/plans/:id/progress", b.planProgress},
		{"POST", "/board/plans/:id/stop", b.planStop},
		{"POST", "/board/plans/:id/accept", b.planAccept},
		{"GET", "/board/days/:day", b.trouble},
		{"POST", "/board/days/:day/rain", b.troubleRain},
		{"POST", "/board/days/:day/workshop", b.troubleShop},
		{"POST", "/board/days/:day/late", b.troubleLate},
		{"POST", "/board/days/:day/away", b.troubleAway},
		{"POST", "/board/days/:day/over", b.troubleOver},
		{"GET", "/board/visits/:id", b.visit},
		{"GET", "/board/visits/:id/why", b.visitWhy},
		{"POST", "/board/visits/:id/recount", b.visitRecount},
		{"GET", "/board/visits/:id/what-if", b.visitTry},
		{"POST", "/board/visits/:id/move", b.visitMove},
		{"POST", "/board/visits/:id/offer", b.visitOffer},
		{"POST", "/board/visits/:id/fix", b.visitFix},
		{"POST", "/board/visits/:id/unfix", b.visitUnfix},
		{"POST", "/board/visits/:id/call-off", b.visitCallOff},
		{"GET", "/bookings", b.bookings},
		{"GET", "/bookings/:id", b.booking},
		{"POST", "/bookings/:id/place", b.bookingPlace},
		{"POST", "/bookings/:id/priority", b.bookingPriority},
		{"POST", "/bookings/:id/weights", b.bookingWeigh},
		{"POST", "/bookings/:id/withdraw", b.bookingWithdraw},
		{"POST", "/bookings/:id/dismiss", b.bookingDismiss},
		{"GET", "/changes", b.changes},
	} {
		r.Handle(route.method, route.path, view.Handle(route.handler))
	}
}
