package phone

import (
	"context"
	"io"
	"net/http"
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/jobs"
	"drawbar/web/session"
	"drawbar/web/view"

	"github.com/gin-gonic/gin"
	"github.com/quagmt/udecimal"
)

// events takes a batch from a phone and answers for each event.
func (p *phone) events(c *gin.Context) error {
	id, err := view.ID(c, "id")
	if err != nil {
		return err
	}
	data, err := io.ReadAll(c.Request.Body)
	if err != nil {
		return err
	}
	batch, err := jobs.ParseBatch(data, id, p.Now())
	if err != nil {
		return err
	}
	answers, err := p.keep(c, id, batch)
	if err != nil {
		return err
	}
	c.JSON(http.StatusOK, gin.H{"answers": answers})
	return nil
}

// keep stores events and signs the visit off once its farmer has signed.
func (p *phone) keep(c *gin.Context, visit booking.ID, batch jobs.Batch) ([]jobs.Answer, error) {
	ctx := c.Request.Context()
	answers, err := p.Jobs.Append(ctx, visit, session.Person(c).ID, batch)
	if err != nil {
		return nil, err
	}
	return answers, p.signOff(ctx, visit, batch)
}

func (p *phone) signOff(ctx context.Context, visit booking.ID, batch jobs.Batch) error {
	for _, e := range batch.Sound() {
		if e.Kind == jobs.SignedFor {
			_, err := p.Jobs.Sign(ctx, visit)
			return err
		}
	}
	return nil
}

// formDevice names events that came by a plain form.
const formDevice = "form"

// record takes one event by a plain form, for phones without a script.
func (p *phone) record(c *gin.Context) error {
	page, err := p.visitPage(c)
	if err != nil {
		return err
	}
	if page.Form, err = view.ReadForm(c); err != nil {
		return err
	}
	event := jobs.Event{
		ID: page.Form.ID("id", fault.Required), VisitID: page.State.Visit, Device: formDevice,
		At: p.Now().UTC().Truncate(time.Millisecond), Kind: jobs.Kind(page.Form.Text("kind")),
	}
	event.What = whatOf(page.Form, event.Kind)
	if err := page.Form.Take(event.Check(p.Now())); err != nil {
		return err
	}
	if !page.Form.OK() {
		return view.Render(c, page.Form.Status(), pages, "visit", page)
	}
	if _, err := p.keep(c, page.State.Visit, jobs.NewBatch(event)); err != nil {
		return err
	}
	return view.See(c, "/visits/"+string(page.State.Visit))
}

// whatOf reads what an event of a kind says.
func whatOf(f *view.Form, kind jobs.Kind) jobs.Payload {
	switch kind {
	case jobs.Counted:
		return countOf(f)
	case jobs.Treated:
		return treatmentOf(f)
	case jobs.Noted:
		return jobs.Note{Text: f.Text("text")}
	case jobs.Happened:
		return jobs.Incident{Mob: f.ID("mob", fault.Optional), Head: f.Int("head", fault.Optional), Text: f.Text("text")}
	case jobs.SignedFor:
		return jobs.Signature{Name: f.Text("name"), Drawing: f.Text("drawing"), Seen: f.Int("seen", fault.Optional)}
	case jobs.StruckOut:
		return jobs.Strike{Event: f.ID("event", fault.Required)}
	}
	return nil
}

func countOf(f *view.Form) jobs.Count {
	count := jobs.Count{Mob: f.ID("mob", fault.Required), Services: f.Texts("services"), Gate: jobs.Gate(f.Text("gate")), Head: 1}
	if f.Has("head") {
		count.Head = f.Int("head", fault.Required)
	}
	return count
}

func treatmentOf(f *view.Form) jobs.Treatment {
	dose, err := udecimal.Parse(f.Text("dose"))
	if err != nil {
		dose = udecimal.Zero // refused with a sentence by its check
	}
	return jobs.Treatment{
		Mob: f.ID("mob", fault.Required), Head: f.Int("head", fault.Required), Animals: f.Text("animals"), Product: f.Text("product"),
		Batch: f.Text("batch"), Expiry: f.Date("expiry", fault.Required), Dose: dose, Unit: f.Text("unit"), Route: jobs.Route(f.Text("route")),
		Given: f.Date("given", fault.Required), MeatDays: f.Int("meatDays", fault.Required),
	}
}
