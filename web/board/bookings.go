package board

import (
	"net/http"
	"strings"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/schedule"
	"drawbar/web/session"
	"drawbar/web/view"

	"github.com/gin-gonic/gin"
)

// bookingsPage lists bookings.
type bookingsPage struct {
	State  string
	Search string
	Groups []view.Option
	Lines  []bookingLine
	More   bool
}

type bookingLine struct {
	Booking booking.Booking
	Farm    booking.Farm
}

// groups of states that the list can show.
var groups = map[string][]booking.State{
	"open": {booking.Asked, booking.Offered, booking.Agreed}, "asked": {booking.Asked}, "offered": {booking.Offered},
	"agreed": {booking.Agreed}, "done": {booking.Done}, "withdrawn": {booking.Withdrawn}, "all": nil,
}

var groupOptions = []view.Option{
	{Value: "open", Label: "All open"}, {Value: "asked", Label: "No day yet"}, {Value: "offered", Label: "Day offered"},
	{Value: "agreed", Label: "Agreed"}, {Value: "done", Label: "Done"}, {Value: "withdrawn", Label: "Withdrawn"}, {Value: "all", Label: "All"},
}

const longestList = 300

func (b *board) bookings(c *gin.Context) error {
	page := bookingsPage{State: c.DefaultQuery("state", "open"), Search: c.Query("farm"), Groups: groupOptions}
	states, ok := groups[page.State]
	if !ok {
		return fault.New(fault.NotFound, "There is no such list of bookings.")
	}
	all, err := b.Store.Bookings(c.Request.Context(), booking.BookingQuery{States: states, Limit: 10_000})
	if err != nil {
		return err
	}
	farms, err := b.Store.Farms(c.Request.Context())
	if err != nil {
		return err
	}
	page.fill(all, farms)
	return view.Render(c, http.StatusOK, pages, "bookings", page)
}

// fill takes the newest bookings whose farm matches the search.
func (p *bookingsPage) fill(all []booking.Booking, farms []booking.Farm) {
	byID := map[booking.ID]booking.Farm{}
	for _, f := range farms {
		byID[f.ID] = f
	}
	for i := len(all) - 1; i >= 0; i-- {
		farm := byID[all[i].FarmID]
		if !strings.Contains(strings.ToLower(farm.Name+" "+farm.Contact), strings.ToLower(strings.TrimSpace(p.Search))) {
			continue
		}
		if len(p.Lines) == longestList {
			p.More = true
			return
		}
		p.Lines = append(p.Lines, bookingLine{all[i], farm})
	}
}

// bookingPage is one booking.
type bookingPage struct {
	Booking  booking.Booking
	Farm     booking.Farm
	Yard     booking.Yard
	Visits   []booking.Visit
	History  []booking.Change
	Services map[string]booking.Service
	Rigs     []view.Option
	Form     *view.Form
	Weights  *view.Form // the mobs' weight classes
	Concerns []string
	Slots    []schedule.Slot // where it fits beside the others
	Reason   string          // why it fits nowhere so, or what would help
	Detail   schedule.Detail
	Length   view.Length // of the detail
}

// Placeable tells whether the booking can be placed by hand.
func (p bookingPage) Placeable() bool { return p.Booking.State.Open() && len(p.Visits) == 0 }

// Chance is a likelihood in words.
func (bookingPage) Chance(p float64) string { return chance(p) }

func (b *board) booking(c *gin.Context) error {
	page, err := b.bookingPage(c)
	if err != nil {
		return err
	}
	return b.showBooking(c, http.StatusOK, page)
}

func (b *board) bookingPage(c *gin.Context) (page bookingPage, err error) {
	id, err := view.ID(c, "id")
	if err != nil {
		return page, err
	}
	ctx := c.Request.Context()
	if page.Booking, err = b.Store.Booking(ctx, id); err != nil {
		return page, err
	}
	if page.Farm, err = b.Store.Farm(ctx, page.Booking.FarmID); err != nil {
		return page, err
	}
	if page.Yard, err = b.Store.Yard(ctx, page.Booking.YardID); err != nil {
		return page, err
	}
	live := []booking.VisitState{booking.Pencilled, booking.Fixed, booking.UnderWay, booking.SignedOff}
	if page.Visits, err = b.Store.Visits(ctx, booking.VisitQuery{BookingID: id, States: live}); err != nil {
		return page, err
	}
	if page.History, err = b.Store.Changes(ctx, booking.ChangeQuery{Kind: "booking", Subject: id}); err != nil {
		return page, err
	}
	page.Form = view.NewForm("version", page.Booking.Version, "day", page.Booking.Windows[0].From, "arrive", "08:00")
	page.Weights = weightsForm(page.Booking)
	return page, b.fillBooking(c, &page)
}

// showBooking looks for slots, which takes a moment, only for a page to show.
func (b *board) showBooking(c *gin.Context, status int, page bookingPage) (err error) {
	if page.Placeable() {
		page.Slots, err = b.Planner.Slots(c.Request.Context(), page.Booking.ID)
		if err == nil && len(page.Slots) == 0 {
			page.Reason, err = b.Planner.WhyNoDay(c.Request.Context(), page.Booking.ID)
		}
	}
	if err != nil {
		return err
	}
	return view.Render(c, status, pages, "booking", page)
}

func (b *board) fillBooking(c *gin.Context, page *bookingPage) error {
	services, err := b.Store.Services(c.Request.Context())
	if err != nil {
		return err
	}
	rigs, err := b.Store.Rigs(c.Request.Context())
	page.Services, page.Rigs = booking.ByCode(services), rigOptions(rigs)
	if err != nil {
		return err
	}
	details, err := b.Planner.Details(c.Request.Context(), schedule.Waiting{Booking: page.Booking, Farm: page.Farm, Yard: page.Yard})
	if err == nil {
		page.Detail, page.Length = details[0], view.NewLength(details[0].Estimate)
	}
	return err
}

// bookingPlace places a booking from the tray by hand.
func (b *board) bookingPlace(c *gin.Context) error {
	page, err := b.bookingPage(c)
	if err != nil {
		return err
	}
	if page.Form, err = view.ReadForm(c); err != nil {
		return err
	}
	to := placeOf(page.Form)
	done := false
	if page.Form.OK() {
		moved, err := b.Planner.PlaceBooking(c.Request.Context(), page.Booking.ID, to)
		if err := page.Form.Take(err); err != nil {
			return err
		}
		if done, err = b.keep(c, page.Form, moved, &page.Concerns); err != nil || done {
			return err
		}
	}
	return b.showBooking(c, page.Form.Status(), page)
}

// bookingPriority says how much it matters that the booking gets a day.
func (b *board) bookingPriority(c *gin.Context) error {
	return b.bookingAct(c, "Noted; plans weigh it so from now on.", func(id booking.ID, version int) error {
		return b.Desk.Prioritise(c.Request.Context(), id, version, booking.Priority(c.PostForm("priority")))
	})
}

// Priorities are the choices, with the one that is set.
func (p bookingPage) Priorities() []view.Option {
	return view.Options(booking.Priorities, booking.Priority.InWords)
}

// bookingWithdraw takes a booking back for the farmer.
func (b *board) bookingWithdraw(c *gin.Context) error {
	return b.bookingAct(c, "Withdrawn. The farmer was told by mail.", func(id booking.ID, version int) error {
		_, err := b.Desk.Withdraw(c.Request.Context(), id, version)
		return err
	})
}

// bookingDismiss takes note of what the booking asks to be looked at.
func (b *board) bookingDismiss(c *gin.Context) error {
	return b.bookingAct(c, "Noted.", func(id booking.ID, version int) error {
		return b.Desk.Dismiss(c.Request.Context(), id, version)
	})
}

func (b *board) bookingAct(c *gin.Context, says string, do func(booking.ID, int) error) error {
	id, err := view.ID(c, "id")
	if err != nil {
		return err
	}
	form, err := view.ReadForm(c)
	if err != nil {
		return err
	}
	if err := do(id, form.Version()); err != nil {
		return err
	}
	session.Flash(c, says)
	return view.See(c, "/bookings/"+string(id))
}
