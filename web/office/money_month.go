package office

import (
	"fmt"
	"net/http"

	"drawbar/billing"
	"drawbar/web/session"
	"drawbar/web/view"

	"github.com/gin-gonic/gin"
)

// monthPage is what a run of the month would do, and what it has done.
type monthPage struct {
	billing.Preview
	Issued []billing.Account
	Now    bool // the month is not over
}

// Month of the page.
func (p monthPage) Month() billing.Month { return p.Run.Month }

func (o *office) month(c *gin.Context) error {
	m, err := pathMonth(c)
	if err != nil {
		return err
	}
	ctx := c.Request.Context()
	business, err := o.Store.Business(ctx)
	if err != nil {
		return err
	}
	page := monthPage{Now: !m.Before(billing.MonthOf(o.Biller.Today(business)))}
	if page.Preview, err = o.Biller.Preview(ctx, m); err != nil {
		return err
	}
	if page.Issued, err = o.Biller.Store.Accounts(ctx, billing.AccountQuery{Month: m}); err != nil {
		return err
	}
	return view.Render(c, http.StatusOK, pages, "month", page)
}

// monthRun bills the month. Running it again changes nothing.
func (o *office) monthRun(c *gin.Context) error {
	m, err := pathMonth(c)
	if err != nil {
		return err
	}
	result, err := o.Biller.Run(c.Request.Context(), m)
	if err != nil {
		return err
	}
	session.Flash(c, runWords(result))
	return view.See(c, "/money/month/"+m.String())
}

func runWords(r billing.RunResult) string {
	if len(r.Issued) == 0 {
		return "Nothing was left to bill; nothing changed."
	}
	return fmt.Sprintf("Issued %s, %s to %s.", view.Plural(len(r.Issued), "invoice", "invoices"), r.Issued[0].Number, r.Issued[len(r.Issued)-1].Number)
}
