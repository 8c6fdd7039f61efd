package office

import (
	"slices"
	"strconv"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/web/session"
	"drawbar/web/view"

	"github.com/gin-gonic/gin"
)

// saveAway notes days on which a person does not work.
func (o *office) saveAway(c *gin.Context) error {
	page, err := o.awayPage(c)
	if err != nil {
		return err
	}
	if page.Away, err = view.ReadForm(c); err != nil {
		return err
	}
	away := booking.Away{From: page.Away.Date("from", fault.Required), To: page.Away.Date("to", fault.Required), Reason: page.Away.Text("reason")}
	p := page.Person
	p.Version = page.Away.Version()
	if page.Away.OK() {
		if err = p.NoteAway(away); err == nil {
			err = o.Store.SavePerson(c.Request.Context(), &p)
		}
		if err := page.Away.Take(err); err != nil {
			return err
		}
	}
	if !page.Away.OK() {
		return view.Render(c, page.Away.Status(), pages, "person", page)
	}
	session.Flash(c, p.Name+" is away from "+view.DateYear(away.From)+" to "+view.DateYear(away.To)+". Visits that miss somebody are shown on the board.")
	return view.See(c, "/settings/people/"+string(p.ID))
}

// dropAway takes days away back.
func (o *office) dropAway(c *gin.Context) error {
	page, err := o.awayPage(c)
	if err != nil {
		return err
	}
	form, err := view.ReadForm(c)
	if err != nil {
		return err
	}
	p := page.Person
	at, err := strconv.Atoi(form.Text("at"))
	if err != nil || at < 0 || at >= len(p.Away) || form.Version() != p.Version {
		return fault.New(fault.Conflict, "The days have changed since you looked at them. Nothing was done; here is how they stand now.")
	}
	p.Away = slices.Delete(slices.Clone(p.Away), at, at+1)
	if err := o.Store.SavePerson(c.Request.Context(), &p); err != nil {
		return err
	}
	session.Flash(c, p.Name+" is there after all.")
	return view.See(c, "/settings/people/"+string(p.ID))
}

// awayPage is the page of somebody who is on file.
func (o *office) awayPage(c *gin.Context) (personPage, error) {
	page, err := o.personPage(c)
	if err == nil && page.Person.ID == "" {
		err = fault.New(fault.NotFound, "There is no such person.")
	}
	return page, err
}
