package phone

import (
	"fmt"
	"net/http"
	"slices"
	"strings"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/jobs"
	"drawbar/web/session"
	"drawbar/web/view"

	"cloud.google.com/go/civil"
	"github.com/gin-gonic/gin"
)

// docketsPage lists what was signed, and what should have been.
type docketsPage struct {
	From, To civil.Date
	Form     *view.Form
	Dockets  []jobs.SignedDocket
	Unsigned []unsigned
	Late     []booking.ID
}

type unsigned struct {
	Visit booking.Visit
	Farm  booking.Farm
}

const daysOfDockets = 60

func (p *phone) dockets(c *gin.Context) error {
	today, err := p.dayNow(c.Request.Context())
	if err != nil {
		return err
	}
	page := docketsPage{From: today.AddDays(-daysOfDockets), To: today}
	if from, err := civil.ParseDate(c.Query("from")); err == nil {
		page.From = from
	}
	if to, err := civil.ParseDate(c.Query("to")); err == nil {
		page.To = to
	}
	page.Form = view.NewForm("from", page.From, "to", page.To)
	if err := p.fillDockets(c, &page, today); err != nil {
		return err
	}
	return view.Render(c, http.StatusOK, pages, "dockets", page)
}

func (p *phone) fillDockets(c *gin.Context, page *docketsPage, today civil.Date) (err error) {
	ctx := c.Request.Context()
	if page.Dockets, err = p.Jobs.SignedDockets(ctx, jobs.DocketQuery{From: page.From, To: page.To, Standing: true}); err != nil {
		return err
	}
	slices.Reverse(page.Dockets)
	if page.Late, err = p.Jobs.Late(ctx); err != nil {
		return err
	}
	visits, err := p.Jobs.Unsigned(ctx, today)
	if err != nil {
		return err
	}
	for _, v := range visits {
		farm, err := p.Store.Farm(ctx, v.FarmID)
		if err != nil {
			return err
		}
		page.Unsigned = append(page.Unsigned, unsigned{v, farm})
	}
	return nil
}

// docketPage is one signed docket, to read, print and correct.
type docketPage struct {
	Docket  jobs.SignedDocket
	Late    []jobs.Event
	Form    *view.Form
	Caution string
}

// Class of a mob on the docket.
func (p docketPage) Class(mob booking.ID) string {
	for _, m := range p.Docket.Mobs {
		if m.ID == mob && m.Class != "" {
			return pluralOf(m.Class)
		}
	}
	return "animals"
}

// InWords is an event that arrived after signing.
func (p docketPage) InWords(e jobs.Event) string {
	switch what := e.What.(type) {
	case jobs.Count:
		return fmt.Sprintf("%d %s counted, %s", what.Head, p.Class(what.Mob), strings.Join(what.Services, ", "))
	case jobs.Treatment:
		return fmt.Sprintf("%s given to %d %s", what.Product, what.Head, p.Class(what.Mob))
	case jobs.Note:
		return "note: " + what.Text
	case jobs.Incident:
		return "incident: " + what.Text
	case jobs.Strike:
		return "an entry was taken back"
	}
	return string(e.Kind)
}

// Service is the name of the day.
func (p docketPage) Service(code string) string {
	if name := p.Docket.Names.Service[code]; name != "" {
		return name
	}
	return code
}

func (p *phone) docket(c *gin.Context) error {
	page, err := p.docketPage(c)
	if err != nil {
		return err
	}
	return view.Render(c, http.StatusOK, pages, "docket", page)
}

func (p *phone) docketPage(c *gin.Context) (page docketPage, err error) {
	id, err := view.ID(c, "id")
	if err != nil {
		return page, err
	}
	if page.Docket, err = p.Jobs.SignedDocket(c.Request.Context(), id); err != nil {
		return page, err
	}
	open, err := p.Jobs.Docket(c.Request.Context(), page.Docket.VisitID)
	if err != nil {
		return page, err
	}
	page.Late, page.Form, page.Caution = open.Late, view.NewForm(), jobs.Caution
	for i, t := range page.Docket.Docket.Tallies {
		page.Form.Set(headName(i), t.Head)
	}
	return page, nil
}

func headName(i int) string { return fmt.Sprintf("head.%d", i) }

// HeadName is the field of a tally in the correction's form.
func (docketPage) HeadName(i int) string { return headName(i) }

// correct stores a docket that supersedes the one shown.
func (p *phone) correct(c *gin.Context) error {
	page, err := p.docketPage(c)
	if err != nil {
		return err
	}
	if page.Form, err = view.ReadForm(c); err != nil {
		return err
	}
	correction := jobs.Correction{Docket: page.Docket.ID, Reason: page.Form.Text("reason"), Late: page.Form.Bool("late")}
	for i, t := range page.Docket.Docket.Tallies {
		if head := page.Form.Int(headName(i), fault.Required); head != t.Head {
			t.Head = head
			correction.Heads = append(correction.Heads, t)
		}
	}
	if page.Form.OK() {
		next, err := p.Jobs.Correct(c.Request.Context(), correction)
		if err := page.Form.Take(err); err != nil {
			return err
		}
		if page.Form.OK() {
			session.Flash(c, "Corrected. The docket that was signed is kept beside this one.")
			return view.See(c, "/dockets/"+string(next.ID))
		}
	}
	return view.Render(c, page.Form.Status(), pages, "docket", page)
}
