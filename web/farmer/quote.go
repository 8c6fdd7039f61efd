package farmer

import (
	"net/http"

	"drawbar/billing"
	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/pace"
	"drawbar/booking/season"
	"drawbar/web/session"
	"drawbar/web/view"

	"github.com/gin-gonic/gin"
)

// quote is what a farmer is told before booking: how long, how much, and what
// to think of.
type quote struct {
	Length   *view.Length // nil until there is something to estimate
	Price    *billing.Expected
	NoDrive  bool // the drive is not in the price, for want of a position
	Scanning []string
	Advice   []string
}

// quote works out what can be said about a booking so far; what cannot is
// left out.
func (f *farmer) quote(c *gin.Context, b booking.Booking, yard booking.Yard, hygiene booking.Hygiene) (quote, error) {
	var q quote
	services, err := f.Store.Services(c.Request.Context())
	if err != nil {
		return q, err
	}
	known := booking.ByCode(services)
	b.Mobs = sound(b.Mobs, known)
	if len(b.Mobs) == 0 {
		return q, nil
	}
	q.advise(b, known)
	estimate, err := f.Planner.Estimate(c.Request.Context(), b.Mobs, yard, hygiene)
	if err == nil {
		length := view.NewLength(estimate)
		q.Length = &length
	} else if !fault.Is(err, fault.Invalid) {
		return q, err
	}
	return q, f.price(c, &q, b, yard, hygiene)
}

// sound are the mobs that are complete enough to count.
func sound(mobs []booking.Mob, known map[string]booking.Service) []booking.Mob {
	var kept []booking.Mob
	for _, m := range mobs {
		if len(m.Check(known)) == 0 {
			kept = append(kept, m)
		}
	}
	return kept
}

// advise gathers what to prepare, each once, and when scanning counts well.
func (q *quote) advise(b booking.Booking, known map[string]booking.Service) {
	said := map[string]bool{}
	for _, m := range b.Mobs {
		for _, code := range m.Services {
			s := known[code]
			if s.Advice != "" && !said[code] {
				said[code] = true
				q.Advice = append(q.Advice, s.Name+": "+s.Advice)
			}
			if s.Scanning {
				q.Scanning = append(q.Scanning, season.ScanWindow(m.MalesIn, m.MalesOut, m.Class.Species()).Says)
			}
		}
	}
}

// price asks for the expected price on the first day that suits, or today.
func (f *farmer) price(c *gin.Context, q *quote, b booking.Booking, yard booking.Yard, hygiene booking.Hygiene) error {
	business, err := f.Store.Business(c.Request.Context())
	if err != nil {
		return err
	}
	day := business.Today(f.Now())
	if len(b.Windows) > 0 && b.Windows[0].From.IsValid() && b.Windows[0].From.After(day) {
		day = b.Windows[0].From
	}
	if yard.At.Lat() == 0 || yard.At.Lon() == 0 { // not, or only half, typed yet
		yard.At, q.NoDrive = business.Home, true
	}
	expected, ok, err := f.Pricer.Expect(c.Request.Context(), b, yard, day, pace.WashDown(int(hygiene)) > 0)
	if err == nil && ok && len(expected.Lines) > 0 {
		q.Price = &expected
	}
	return err
}

// estimate is the part of the form that follows as one types.
func (f *farmer) estimate(c *gin.Context) error {
	form, err := view.ReadForm(c)
	if err != nil {
		return err
	}
	page, err := f.bookPage(c, form)
	if err != nil {
		return err
	}
	return view.Fragment(c, http.StatusOK, pages, "book", "quote", page.Quote)
}

// yardFor is the yard that the form means: one of the farm's, or a new one.
func (f *farmer) yardFor(c *gin.Context, form *view.Form) (booking.Yard, error) {
	farm := session.Farm(c)
	if chosen := form.Typed("yard"); farm.ID != "" && chosen != "" && chosen != "new" {
		id, ok := booking.ParseID(chosen)
		if !ok {
			return booking.Yard{}, fault.New(fault.NotFound, "There is no such yard.")
		}
		yard, err := f.Store.Yard(c.Request.Context(), id)
		if err == nil && yard.FarmID != farm.ID {
			err = fault.New(fault.NotFound, "There is no such yard.")
		}
		return yard, err
	}
	return yardOf(form), nil
}
