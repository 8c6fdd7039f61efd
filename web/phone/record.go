package phone

import (
	"io"
	"net/http"
	"slices"
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/jobs"
	"drawbar/web/session"
	"drawbar/web/view"

	"github.com/gin-gonic/gin"
	"github.com/quagmt/udecimal"
)

// kept is what became of a batch.
type kept struct {
	Answers []jobs.Answer `json:"answers"`
	Docket  booking.ID    `json:"docket,omitempty"` // of a visit that is signed off now
	Says    string        `json:"says,omitempty"`   // why the docket could not be signed
}

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
	result, err := p.keep(c, id, batch)
	if err != nil {
		return err
	}
	c.Header("Cache-Control", "no-store")
	c.JSON(http.StatusOK, result)
	return nil
}

// keep stores events and signs the visit off once its farmer has signed. A
// docket that cannot be signed does not undo what was stored.
func (p *phone) keep(c *gin.Context, visit booking.ID, batch jobs.Batch) (result kept, err error) {
	ctx := c.Request.Context()
	if result.Answers, err = p.Jobs.Append(ctx, visit, session.Person(c).ID, batch); err != nil || !signs(batch) {
		return result, err
	}
	docket, err := p.Jobs.Sign(ctx, visit)
	if fault.Is(err, fault.Conflict) {
		result.Says, err = fault.Sentence(err), nil
	}
	result.Docket = docket.ID
	return result, err
}

func signs(batch jobs.Batch) bool {
	return slices.ContainsFunc(batch.Sound(), func(e jobs.Event) bool { return e.Kind == jobs.SignedFor })
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
	result, err := p.keep(c, page.State.Visit, jobs.NewBatch(event))
	if err != nil {
		return err
	}
	if says := whyNot(result); says != "" {
		session.Flash(c, says)
	}
	return view.See(c, "/visits/"+string(page.State.Visit))
}

// whyNot is a sentence where the event or the signing was refused.
func whyNot(k kept) string {
	for _, a := range k.Answers {
		if a.Result == jobs.Refused {
			return a.Why
		}
	}
	return k.Says
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
	case jobs.AddedMob:
		return jobs.NewMob{Mob: f.ID("mob", fault.Required), Class: booking.Class(f.Text("class"))}
	case jobs.SignedFor:
		return jobs.Signature{Name: f.Text("name"), Drawing: f.Text("drawing"), Seen: f.Int("seen", fault.Optional)}
	case jobs.HandsTold:
		return jobs.Hands{People: f.Int("people", fault.Required), Pusher: f.Bool("pusher")}
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
