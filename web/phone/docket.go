package phone

import (
	"fmt"
	"maps"
	"net/http"
	"slices"
	"strings"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/jobs"
	"drawbar/web/session"
	"drawbar/web/view"

	"github.com/gin-gonic/gin"
)

// docketPage is one signed docket, to read, print and correct.
type docketPage struct {
	Docket   jobs.SignedDocket
	Since    jobs.Docket  // with what follows signing: packing down, leaving
	Late     []jobs.Event // arrived after signing and not taken in
	Looks    []string     // what is odd about its time, in sentences
	Form     *view.Form
	Mobs     []view.Option
	Services []view.Option
	Caution  string
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
	case jobs.Hands:
		return "crew: " + handsInWords(what)
	}
	return string(e.Kind)
}

// Hands are who came, in words.
func (docketPage) Hands(h jobs.Hands) string { return handsInWords(h) }

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
	page.Late, page.Since, page.Form, page.Caution = open.Late, open.Docket, view.NewForm(), jobs.Caution
	model, err := p.Store.PaceModel(c.Request.Context())
	if err != nil {
		return page, err
	}
	page.Looks = model.LookAt(id)
	page.setChoices()
	for i, t := range page.Docket.Docket.Tallies {
		page.Form.Set(headName(i), t.Head)
	}
	return page, nil
}

// setChoices are the mobs and services that a correction may add a line for.
func (p *docketPage) setChoices() {
	for _, m := range p.Docket.Mobs {
		p.Mobs = append(p.Mobs, view.Option{Value: string(m.ID), Label: p.Class(m.ID)})
	}
	for _, code := range slices.Sorted(maps.Keys(p.Docket.Names.Service)) {
		p.Services = append(p.Services, view.Option{Value: code, Label: p.Service(code)})
	}
}

// By is who recorded something, by the name of that day.
func (p docketPage) By(e jobs.Entry) string { return p.Docket.Names.People[e.Person] }

func headName(i int) string { return fmt.Sprintf("head.%d", i) }

// HeadName is the field of a tally in the correction's form.
func (docketPage) HeadName(i int) string { return headName(i) }

// correction reads the form: the heads that differ, and a line to add.
func (p docketPage) correction() jobs.Correction {
	c := jobs.Correction{Docket: p.Docket.ID, Reason: p.Form.Text("reason"), Late: p.Form.Bool("late")}
	for i, t := range p.Docket.Docket.Tallies {
		if head := p.Form.Int(headName(i), fault.Required); head != t.Head {
			t.Head = head
			c.Heads = append(c.Heads, t)
		}
	}
	if head := p.Form.Int("more", fault.Optional); head != 0 {
		c.Heads = append(c.Heads, jobs.Tally{Mob: p.Form.ID("mob", fault.Required), Service: p.Form.Text("service"), Head: head})
	}
	return c
}

// correct stores a docket that supersedes the one shown.
func (p *phone) correct(c *gin.Context) error {
	page, err := p.docketPage(c)
	if err != nil {
		return err
	}
	if page.Form, err = view.ReadForm(c); err != nil {
		return err
	}
	correction := page.correction()
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
