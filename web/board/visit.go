package board

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"slices"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/say"
	"drawbar/booking/schedule"
	"drawbar/web/session"
	"drawbar/web/view"

	"cloud.google.com/go/civil"
	"github.com/gin-gonic/gin"
)

// visitPage is one visit with what can be done about it.
type visitPage struct {
	Visit    booking.Visit
	Booking  booking.Booking
	Farm     booking.Farm
	Yard     booking.Yard
	Rig      booking.Rig // with those who go that day
	Stop     stop
	Round    strip
	Week     string
	Detail   schedule.Detail
	Length   view.Length // of the detail
	Aid      []aidLine   // as planned, then what would change it
	Rigs     []view.Option
	Form     *view.Form // of a move
	CallOff  *view.Form
	Recount  *view.Form        // how many animals there are
	Why      *schedule.WhyHere // nil until it is asked for
	Concerns []string          // of the place the move asks for
	Services map[string]booking.Service
}

// Movable tells whether the move form is shown.
func (p visitPage) Movable() bool { return p.Visit.State == booking.Pencilled }

// Countable tells whether the number of animals can still be mended.
func (p visitPage) Countable() bool { return p.Waiting() || p.Visit.State == booking.UnderWay }

// headField is the entry of the i-th mob's number of animals.
func headField(i int) string { return fmt.Sprintf("head.%d", i) }

// HeadField is headField for the page.
func (visitPage) HeadField(i int) string { return headField(i) }

// recountForm has the heads as booked.
func recountForm(v booking.Visit, b booking.Booking) *view.Form {
	form := view.NewForm("version", v.Version)
	for i, m := range b.Mobs {
		form.Set(headField(i), m.Head)
	}
	return form
}

// Waiting tells whether the visit has not begun.
func (p visitPage) Waiting() bool {
	return p.Visit.State == booking.Pencilled || p.Visit.State == booking.Fixed
}

func (b *board) visit(c *gin.Context) error {
	page, err := b.visitPage(c)
	if err != nil {
		return err
	}
	return view.Render(c, http.StatusOK, pages, "visit", page)
}

// visitPage reads a visit and its round.
func (b *board) visitPage(c *gin.Context) (visitPage, error) {
	id, err := view.ID(c, "id")
	if err != nil {
		return visitPage{}, err
	}
	ctx := c.Request.Context()
	v, err := b.Store.Visit(ctx, id)
	if err != nil {
		return visitPage{}, err
	}
	week, err := b.Planner.Week(ctx, v.Day, 1)
	if err != nil {
		return visitPage{}, err
	}
	page := visitPage{Visit: v, Week: isoWeek(v.Day), CallOff: view.NewForm("version", v.Version)}
	page.Form = view.NewForm("version", v.Version, "rig", v.RigID, "day", v.Day, "arrive", say.ClockOf(v.Arrive, week.Zone))
	return page, errors.Join(b.fillVisit(ctx, &page), page.place(week))
}

func (b *board) fillVisit(ctx context.Context, page *visitPage) error {
	var errs [4]error
	page.Booking, errs[0] = b.Store.Booking(ctx, page.Visit.BookingID)
	page.Farm, errs[1] = b.Store.Farm(ctx, page.Visit.FarmID)
	page.Yard, errs[2] = b.Store.Yard(ctx, page.Visit.YardID)
	page.Rig, errs[3] = booking.GoingRig(ctx, b.Store, page.Visit.RigID, page.Visit.Day)
	if err := errors.Join(errs[:]...); err != nil {
		return err
	}
	services, err := b.Store.Services(ctx)
	if err != nil {
		return err
	}
	page.Services = booking.ByCode(services)
	page.Recount = recountForm(page.Visit, page.Booking)
	page.Detail = b.Planner.Detail(page.Booking, page.Farm, page.Yard, page.Rig)
	page.Length = view.NewLength(page.Detail.Estimate)
	return b.aid(page)
}

// place finds the visit in its round.
func (p *visitPage) place(week *schedule.Week) error {
	p.Rigs = rigOptions(week.Rigs)
	s := scaleOf(week.Days)
	for _, r := range week.Days[0].Rounds {
		i := slices.IndexFunc(r.Stops, func(st schedule.Stop) bool { return st.Visit.ID == p.Visit.ID })
		if i >= 0 {
			p.Round = s.strip(r, week.Days[0].Light)
			p.Stop = p.Round.Stops[i]
		}
	}
	return nil
}

func rigOptions(rigs []booking.Rig) []view.Option {
	options := make([]view.Option, len(rigs))
	for i, r := range rigs {
		options[i] = view.Option{Value: string(r.ID), Label: r.Name}
	}
	return options
}

// placeOf reads where a visit should go.
func placeOf(form *view.Form) schedule.Place {
	return schedule.Place{Rig: form.ID("rig", fault.Optional), Day: form.Date("day", fault.Optional), Minute: form.Clock("arrive", fault.Required)}
}

// visitMove moves a visit; where that breaks a rule it asks first.
func (b *board) visitMove(c *gin.Context) error {
	page, err := b.visitPage(c)
	if err != nil {
		return err
	}
	if page.Form, err = view.ReadForm(c); err != nil {
		return err
	}
	to := placeOf(page.Form)
	var moved *schedule.Moved
	if page.Form.OK() {
		moved, err = b.Planner.Move(c.Request.Context(), page.Visit.ID, page.Form.Version(), to)
		if err := page.Form.Take(err); err != nil {
			return err
		}
	}
	done, err := b.keep(c, page.Form, moved, &page.Concerns)
	if err != nil || done {
		return err
	}
	return view.Render(c, page.Form.Status(), pages, "visit", page)
}

// keep stores a move that breaks no rule, or that was confirmed, and sends
// the reader to its week. Otherwise it says what to show.
func (b *board) keep(c *gin.Context, form *view.Form, moved *schedule.Moved, concerns *[]string) (done bool, err error) {
	if !form.OK() {
		return false, nil
	}
	if len(moved.Concerns) > 0 && !form.Bool("anyway") {
		*concerns = moved.Concerns
		return false, nil
	}
	if err := form.Take(b.Planner.Keep(c.Request.Context(), moved)); err != nil || !form.OK() {
		return false, err
	}
	session.Flash(c, fmt.Sprintf("Now on %s.", view.Date(moved.Visit.Day)))
	return true, view.See(c, weekAt(moved.Visit.Day, moved.Visit.ID))
}

// weekAt is the week of a day, at the visit.
func weekAt(day civil.Date, visit booking.ID) string {
	return "/week/" + isoWeek(day) + "#v-" + string(visit)
}

func (b *board) visitOffer(c *gin.Context) error {
	return b.act(c, "The day was offered to the farmer by mail.", b.Desk.Offer)
}

func (b *board) visitFix(c *gin.Context) error {
	return b.act(c, "Fixed. The farmer was told by mail.", b.Desk.Fix)
}

func (b *board) visitUnfix(c *gin.Context) error {
	return b.act(c, "Unfixed. The farmer has not been told; ring, or fix it anew.", b.Desk.Unfix)
}

func (b *board) visitCallOff(c *gin.Context) error {
	form, err := view.ReadForm(c)
	if err != nil {
		return err
	}
	reason := form.Text("reason")
	return b.actWith(c, form, "Called off. The booking is back in the tray.", func(ctx context.Context, id booking.ID, version int) error {
		return b.Desk.CallOff(ctx, id, version, reason)
	})
}

// act does one thing to a visit and shows the visit again.
func (b *board) act(c *gin.Context, says string, do func(context.Context, booking.ID, int) error) error {
	form, err := view.ReadForm(c)
	if err != nil {
		return err
	}
	return b.actWith(c, form, says, do)
}

func (b *board) actWith(c *gin.Context, form *view.Form, says string, do func(context.Context, booking.ID, int) error) error {
	id, err := view.ID(c, "id")
	if err != nil {
		return err
	}
	err = do(c.Request.Context(), id, form.Version())
	if taken := form.Take(err); taken != nil {
		return taken
	}
	if form.OK() {
		session.Flash(c, says)
		return view.See(c, "/board/visits/"+string(id))
	}
	page, err := b.visitPage(c)
	if err != nil {
		return err
	}
	form.Set("version", page.Visit.Version)
	page.CallOff = form
	return view.Render(c, form.Status(), pages, "visit", page)
}
