package board

import (
	"context"
	"net/http"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/say"
	"drawbar/booking/schedule"
	"drawbar/web/view"

	"cloud.google.com/go/civil"
	"github.com/gin-gonic/gin"
)

// troublePage is a day on which something goes wrong.
type troublePage struct {
	Day    civil.Date
	Week   string
	Over   bool
	Rounds []strip
	Rigs   []view.Option
	Hands  []view.Option // who goes with the rigs
	Off    []booking.DayOff
	Away   []absence
	Form   *view.Form
}

func (b *board) trouble(c *gin.Context) error {
	page, err := b.troublePage(c)
	if err != nil {
		return err
	}
	return view.Render(c, http.StatusOK, pages, "trouble", page)
}

func (b *board) troublePage(c *gin.Context) (page troublePage, err error) {
	day, err := civil.ParseDate(c.Param("day"))
	if err != nil || day.Year < 2000 || day.Year > 2200 {
		return page, fault.New(fault.NotFound, "There is no such day. Days are named like 2026-11-25.")
	}
	week, err := b.Planner.Week(c.Request.Context(), day, 1)
	if err != nil {
		return page, err
	}
	page = troublePage{Day: day, Week: isoWeek(day), Over: day.Before(week.Today), Rigs: rigOptions(week.Rigs)}
	s := scaleOf(week.Days)
	for _, r := range week.Days[0].Rounds {
		page.Rounds = append(page.Rounds, s.strip(r, week.Days[0].Light))
	}
	page.Form = view.NewForm("rain_reason", "rained off", "shop_until", day, "shop_reason", "in the workshop", "late_from", "10:00", "late_reason", "late start", "ill_to", day, "ill_reason", "ill")
	page.Form.Set("rain_rigs", optionValues(page.Rigs))
	if err := b.hands(c.Request.Context(), &page, week.Rigs); err != nil {
		return page, err
	}
	page.Off, err = b.Store.DaysOff(c.Request.Context(), day, day)
	return page, err
}

func optionValues(options []view.Option) []string {
	values := make([]string, len(options))
	for i, o := range options {
		values[i] = o.Value
	}
	return values
}

// troubleRain keeps the rigs ticked at home for the day.
func (b *board) troubleRain(c *gin.Context) error {
	return b.mend(c, "rain_", func(f *view.Form, t *schedule.Trouble) {
		for _, text := range f.Texts("rain_rigs") {
			id, ok := booking.ParseID(text)
			if !ok {
				f.Errors.Add("rain_rigs", "Choose rigs from the list.")
			}
			t.Rigs = append(t.Rigs, id)
		}
	})
}

// troubleShop keeps a rig in the workshop until a day.
func (b *board) troubleShop(c *gin.Context) error {
	return b.mend(c, "shop_", func(f *view.Form, t *schedule.Trouble) {
		t.Rigs = []booking.ID{f.ID("shop_rigs", fault.Required)}
		t.Until = f.Date("shop_until", fault.Required)
	})
}

// troubleLate lets a rig out only from a time on.
func (b *board) troubleLate(c *gin.Context) error {
	return b.mend(c, "late_", func(f *view.Form, t *schedule.Trouble) {
		t.Rigs = []booking.ID{f.ID("late_rigs", fault.Required)}
		if t.From = f.Clock("late_from", fault.Required); t.From == 0 {
			f.Errors.Add("late_from", "Give the time from which it goes out, such as 10:00.")
		}
	})
}

// mend notes trouble of rigs and asks for the smallest change that works.
func (b *board) mend(c *gin.Context, prefix string, read func(*view.Form, *schedule.Trouble)) error {
	return b.noted(c, prefix, func(f *view.Form, day civil.Date) note {
		t := schedule.Trouble{Day: day, Until: day, Reason: f.Text(prefix + "reason")}
		read(f, &t)
		return func(ctx context.Context) (schedule.Order, error) { return b.Planner.Mark(ctx, t) }
	})
}

// note keeps what went wrong and gives the order for the plan that mends it.
type note func(context.Context) (schedule.Order, error)

// noted reads a form about the day, notes what it says, and asks for the
// smallest change that works.
func (b *board) noted(c *gin.Context, prefix string, read func(*view.Form, civil.Date) note) error {
	page, err := b.troublePage(c)
	if err != nil {
		return err
	}
	form, err := view.ReadForm(c)
	if err != nil {
		return err
	}
	keep := read(form, page.Day)
	var order schedule.Order
	if form.OK() {
		order, err = keep(c.Request.Context())
		if err := form.Take(prefixed(err, prefix)); err != nil {
			return err
		}
	}
	if !form.OK() {
		page.Form = form
		return view.Render(c, form.Status(), pages, "trouble", page)
	}
	return b.ask(c, order)
}

// prefixed gives the fields of an error the names they have in the form.
func prefixed(err error, prefix string) error {
	fields := fault.FieldsOf(err)
	if len(fields) == 0 {
		return err
	}
	named := fault.Fields{}
	named.Merge(prefix, fields)
	return named.Err()
}

// troubleOver lets a rig go out again as usual.
func (b *board) troubleOver(c *gin.Context) error {
	page, err := b.troublePage(c)
	if err != nil {
		return err
	}
	form, err := view.ReadForm(c)
	if err != nil {
		return err
	}
	rig := form.ID("rig", fault.Required)
	if err := form.Errors.Err(); err != nil {
		return err
	}
	if err := b.Store.DropDayOff(c.Request.Context(), rig, page.Day); err != nil {
		return err
	}
	return view.See(c, "/board/days/"+page.Day.String())
}

// visitRecount takes in that there are more or fewer animals than booked.
func (b *board) visitRecount(c *gin.Context) error {
	page, err := b.visitPage(c)
	if err != nil {
		return err
	}
	form, err := view.ReadForm(c)
	if err != nil {
		return err
	}
	heads := make([]int, len(page.Booking.Mobs))
	for i := range heads {
		heads[i] = form.Int(headField(i), fault.Required)
	}
	var order schedule.Order
	if form.OK() {
		order, err = b.Planner.Resize(c.Request.Context(), page.Visit.ID, form.Version(), heads)
		if err := form.Take(err); err != nil {
			return err
		}
	}
	if !form.OK() {
		page.Recount = form
		return view.Render(c, form.Status(), pages, "visit", page)
	}
	return b.ask(c, order)
}

// Clock is a minute of the day in words.
func (troublePage) Clock(minute int) string { return say.Minute(minute) }
