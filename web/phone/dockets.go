package phone

import (
	"net/http"
	"slices"

	"drawbar/booking"
	"drawbar/jobs"
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
	Looks    booking.PaceModel // which dockets have an odd time
}

// Odd tells whether a docket's time should be looked at.
func (p docketsPage) Odd(id booking.ID) bool { return len(p.Looks.LookAt(id)) > 0 }

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
	if page.Looks, err = p.Store.PaceModel(ctx); err != nil {
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
