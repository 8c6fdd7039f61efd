package farmer

import (
	"net/http"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/schedule"
	"drawbar/web/session"
	"drawbar/web/view"

	"github.com/gin-gonic/gin"
)

// ownPage is a booking as its farmer sees it.
type ownPage struct {
	Secret   booking.Secret
	Booking  booking.Booking
	Farm     booking.Farm
	Yard     booking.Yard
	Visits   []booking.Visit
	Services map[string]booking.Service
	Quote    quote
	Slots    []schedule.Slot // days to choose from
}

// Days are shown once they were named to the farmer.
func (p ownPage) Days() []booking.Visit {
	if p.Booking.State == booking.Offered || p.Booking.State == booking.Agreed || p.Booking.State == booking.Done {
		return p.Visits
	}
	return nil
}

// Changeable tells whether the farmer may still change it here.
func (p ownPage) Changeable() bool {
	if !p.Booking.State.Open() {
		return false
	}
	for _, v := range p.Visits {
		if v.State == booking.UnderWay || v.State == booking.SignedOff {
			return false
		}
	}
	return true
}

// own opens the link of the path and makes its farm the actor.
func (f *farmer) own(c *gin.Context) (ownPage, error) {
	page := ownPage{Secret: secretOf(c)}
	ctx := c.Request.Context()
	link, err := f.Store.OpenLink(ctx, page.Secret.Hash(), booking.ToBooking, f.Now())
	if err != nil {
		return page, err
	}
	if page.Booking, err = f.Store.Booking(ctx, link.Subject); err != nil {
		return page, err
	}
	if page.Farm, err = f.Store.Farm(ctx, page.Booking.FarmID); err != nil {
		return page, err
	}
	session.AsFarm(c, page.Farm)
	if page.Yard, err = f.Store.Yard(ctx, page.Booking.YardID); err != nil {
		return page, err
	}
	page.Visits, err = f.Store.Visits(ctx, booking.VisitQuery{
		BookingID: page.Booking.ID,
		States:    []booking.VisitState{booking.Pencilled, booking.Fixed, booking.UnderWay, booking.SignedOff},
	})
	return page, err
}

// sent is a form for the booking that the path's link opens.
func (f *farmer) sent(c *gin.Context) (ownPage, *view.Form, error) {
	page, err := f.own(c)
	if err != nil {
		return page, nil, err
	}
	form, err := view.ReadForm(c)
	return page, form, err
}

func (f *farmer) booking(c *gin.Context) error {
	page, err := f.own(c)
	if err != nil {
		return err
	}
	services, err := f.Store.Services(c.Request.Context())
	if err != nil {
		return err
	}
	page.Services = booking.ByCode(services)
	if page.Quote, err = f.quote(c, page.Booking, page.Yard, page.Farm.Hygiene); err != nil {
		return err
	}
	if page.Slots, err = f.Offers.For(c.Request.Context(), page.Booking); err != nil {
		return err
	}
	return view.Render(c, http.StatusOK, pages, "booking", page)
}

// take is the farmer's choice of a day.
func (f *farmer) take(c *gin.Context) error {
	page, form, err := f.sent(c)
	if err != nil {
		return err
	}
	at := schedule.Place{Rig: form.ID("rig", fault.Required), Day: form.Date("day", fault.Required), Minute: form.Clock("arrive", fault.Required)}
	if !form.OK() {
		return fault.New(fault.Invalid, "Choose one of the days on the booking's page.")
	}
	err = f.Offers.Take(c.Request.Context(), page.Booking.ID, form.Version(), at)
	return f.after(c, page, "Agreed. We are coming.", err)
}

// answer is a yes or a no to a day that was offered.
func (f *farmer) answer(c *gin.Context) error {
	page, form, err := f.sent(c)
	if err != nil {
		return err
	}
	do, says := f.Desk.Decline, "Thank you for telling us. We look for another day and write again."
	if form.Typed("answer") == "yes" {
		do, says = f.Desk.Accept, "Agreed. We are coming."
	}
	_, err = do(c.Request.Context(), page.Booking.ID, form.Version())
	return f.after(c, page, says, err)
}

// after shows the booking as it stands; what changed meanwhile is said there.
func (f *farmer) after(c *gin.Context, page ownPage, says string, err error) error {
	if fault.Is(err, fault.Conflict) {
		says, err = fault.Sentence(err), nil
	}
	if err != nil {
		return err
	}
	session.Flash(c, says)
	return view.See(c, "/b/"+string(page.Secret))
}

func (f *farmer) changeForm(c *gin.Context) error {
	own, err := f.own(c)
	if err != nil {
		return err
	}
	form := view.NewForm("version", own.Booking.Version, "note", own.Booking.Note)
	fill(form, own.Booking.Mobs, own.Booking.Windows)
	return f.showChange(c, own, form)
}

func (f *farmer) showChange(c *gin.Context, own ownPage, form *view.Form) error {
	page := &bookPage{Form: form, Action: "/b/" + string(own.Secret) + "/change", Changing: true, Known: own.Farm}
	if err := page.choices(c, f.Store); err != nil {
		return err
	}
	errs, status := form.Errors, form.Status()
	form.Errors = fault.Fields{}
	b := booking.Booking{FarmID: own.Farm.ID, Mobs: mobsOf(form), Windows: windowsOf(form)}
	if form.Errors = errs; form.Typed("do") != "" && form.Typed("do") != "send" {
		form.Errors, status = fault.Fields{}, http.StatusOK
	}
	var err error
	if page.Quote, err = f.quote(c, b, own.Yard, own.Farm.Hygiene); err != nil {
		return err
	}
	return view.Render(c, status, pages, "book", page)
}

func (f *farmer) change(c *gin.Context) error {
	own, form, err := f.sent(c)
	if err != nil {
		return err
	}
	if edit(form) {
		return f.showChange(c, own, form)
	}
	wish := booking.Wish{Version: form.Version(), Mobs: mobsOf(form), Windows: windowsOf(form), Note: form.Text("note")}
	if form.OK() {
		_, err := f.Desk.Change(c.Request.Context(), own.Booking.ID, wish)
		if err := form.Take(err); err != nil {
			return err
		}
	}
	if !form.OK() {
		return f.showChange(c, own, form)
	}
	return f.after(c, own, "Changed. A mail that says so is on its way to you.", nil)
}

func (f *farmer) withdrawForm(c *gin.Context) error {
	page, err := f.own(c)
	if err != nil {
		return err
	}
	return view.Render(c, http.StatusOK, pages, "withdraw", page)
}

func (f *farmer) withdraw(c *gin.Context) error {
	page, form, err := f.sent(c)
	if err != nil {
		return err
	}
	_, err = f.Desk.Withdraw(c.Request.Context(), page.Booking.ID, form.Version())
	return f.after(c, page, "Your booking is withdrawn. Nothing is owed for it.", err)
}
