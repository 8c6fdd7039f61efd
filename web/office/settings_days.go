package office

import (
	"context"
	"fmt"
	"slices"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/web/session"
	"drawbar/web/view"

	"cloud.google.com/go/civil"
	"github.com/gin-gonic/gin"
)

// daysAhead is how far days at home are listed and taken.
const daysAhead = 600

func (o *office) today(ctx context.Context) (civil.Date, error) {
	b, err := o.business(ctx)
	return b.Today(o.Now()), err
}

// daysOff of one rig, from today on.
func (o *office) daysOff(ctx context.Context, rig booking.ID) ([]booking.DayOff, error) {
	today, err := o.today(ctx)
	if err != nil {
		return nil, err
	}
	all, err := o.Store.DaysOff(ctx, today, today.AddDays(daysAhead))
	return slices.DeleteFunc(all, func(d booking.DayOff) bool { return d.RigID != rig }), err
}

// saveDayOff keeps a rig at home on a day.
func (o *office) saveDayOff(c *gin.Context) error {
	page, err := o.rigPage(c)
	if err != nil {
		return err
	}
	if page.Rig.ID == "" {
		return fault.New(fault.NotFound, "There is no such rig.")
	}
	if page.Off, err = view.ReadForm(c); err != nil {
		return err
	}
	today, err := o.today(c.Request.Context())
	if err != nil {
		return err
	}
	off := booking.DayOff{RigID: page.Rig.ID, Date: page.Off.Date("day", fault.Required), Reason: page.Off.Text("reason"), Needed: page.Off.Bool("needed")}
	until := off.Date
	if page.Off.Typed("until") != "" {
		until = page.Off.Date("until", fault.Optional)
	}
	if err := page.Off.Take(checkDayOff(off, until, today)); err != nil {
		return err
	}
	if !page.Off.OK() {
		return view.Render(c, page.Off.Status(), pages, "rig", page)
	}
	days := "on " + view.DateYear(off.Date)
	if until != off.Date {
		days = "from " + view.DateYear(off.Date) + " to " + view.DateYear(until)
	}
	var all []booking.DayOff
	for ; !off.Date.After(until); off.Date = off.Date.AddDays(1) {
		all = append(all, off)
	}
	if err := o.Store.SaveDayOff(c.Request.Context(), all...); err != nil {
		return err
	}
	session.Flash(c, fmt.Sprintf("%s stays home %s. Visits already placed then are shown on the board.", page.Rig.Name, days))
	return view.See(c, "/settings/rigs/"+string(page.Rig.ID))
}

// longestHome is how many days at home are taken at once.
const longestHome = 90

func checkDayOff(off booking.DayOff, until, today civil.Date) error {
	f := fault.Fields{}
	if until.Before(off.Date) || until.DaysSince(off.Date) > longestHome {
		f.Add("until", "Give a day from the first one to %d days later.", longestHome)
	}
	if off.Date.Before(today) || off.Date.After(today.AddDays(daysAhead)) {
		f.Add("day", "Give a day from today to %s.", view.DateYear(today.AddDays(daysAhead)))
	}
	f.Text("reason", off.Reason, 60, fault.Required)
	return f.Err()
}

// dropDayOff lets a rig go out again on a day.
func (o *office) dropDayOff(c *gin.Context) error {
	id, err := view.ID(c, "id")
	if err != nil {
		return err
	}
	rig, err := o.Store.Rig(c.Request.Context(), id)
	if err != nil {
		return err
	}
	day, err := civil.ParseDate(c.PostForm("day"))
	if err != nil {
		return fault.New(fault.NotFound, "There is no such day at home.")
	}
	if err := o.Store.DropDayOff(c.Request.Context(), id, day); err != nil {
		return err
	}
	session.Flash(c, fmt.Sprintf("%s may go out again on %s.", rig.Name, view.DateYear(day)))
	return view.See(c, "/settings/rigs/"+string(id))
}
