package office

import (
	"net/http"
	"slices"

	"drawbar/billing"
	"drawbar/web/view"

	"cloud.google.com/go/civil"
	"github.com/gin-gonic/gin"
)

func (o *office) mountMoney(r gin.IRouter) {
	for _, route := range []struct {
		method, path string
		handler      func(*gin.Context) error
	}{
		{"GET", "/money", o.money},
		{"GET", "/money/month/:month", o.month},
		{"POST", "/money/month/:month/run", o.monthRun},
		{"GET", "/money/dockets/:id/waive", o.waivePage},
		{"POST", "/money/dockets/:id/waive", o.waive},
		{"GET", "/money/invoices/:id", o.invoice},
		{"GET", "/money/invoices/:id/pdf", o.invoicePDF},
		{"POST", "/money/invoices/:id/pay", o.pay},
		{"POST", "/money/invoices/:id/credit", o.credit},
		{"POST", "/money/payments/:id/strike", o.strikePayment},
		{"GET", "/money/prices", o.prices},
		{"POST", "/money/prices", o.savePrices},
	} {
		r.Handle(route.method, route.path, view.Handle(route.handler))
	}
}

// moneyPage is who owes what, and the months.
type moneyPage struct {
	Today  civil.Date
	Months []monthLine
	Open   []billing.Account
	Ageing []billing.Ageing // one for each currency with something open
	Prices bool             // a price list holds today
}

type monthLine struct {
	Month billing.Month
	State billing.RunState
	Note  string
}

// Late is how many days overdue an account is.
func (p moneyPage) Late(a billing.Account) int { return a.Overdue(p.Today) }

const monthsShown = 6

func (o *office) money(c *gin.Context) error {
	ctx := c.Request.Context()
	business, err := o.Store.Business(ctx)
	if err != nil {
		return err
	}
	page := moneyPage{Today: o.Biller.Today(business)}
	if page.Open, err = o.Biller.Store.Accounts(ctx, billing.AccountQuery{Open: true}); err != nil {
		return err
	}
	slices.Reverse(page.Open) // the oldest first: it is the most overdue
	page.age()
	lists, err := o.Biller.Store.PriceLists(ctx)
	if err != nil {
		return err
	}
	_, page.Prices = billing.ListOn(lists, page.Today)
	runs, err := o.Biller.Store.MonthRuns(ctx)
	if err != nil {
		return err
	}
	page.months(runs)
	return view.Render(c, http.StatusOK, pages, "money", page)
}

func (p *moneyPage) age() {
	byCurrency := map[billing.Currency][]billing.Account{}
	var order []billing.Currency
	for _, a := range p.Open {
		if byCurrency[a.Invoice.Currency] == nil {
			order = append(order, a.Invoice.Currency)
		}
		byCurrency[a.Invoice.Currency] = append(byCurrency[a.Invoice.Currency], a)
	}
	for _, currency := range order {
		p.Ageing = append(p.Ageing, billing.Age(currency, byCurrency[currency], p.Today))
	}
}

// months are the last ones and any that were run before.
func (p *moneyPage) months(runs []billing.MonthRun) {
	states := map[billing.Month]billing.RunState{}
	this := billing.MonthOf(p.Today)
	earliest := this.Next(-monthsShown + 1)
	for _, r := range runs {
		states[r.Month] = r.State
		if r.Month.Before(earliest) {
			earliest = r.Month
		}
	}
	for m := this; !m.Before(earliest); m = m.Next(-1) {
		line := monthLine{Month: m, State: billing.NotRun}
		if s, ok := states[m]; ok {
			line.State = s
		}
		if m == this {
			line.Note = "not over yet"
		}
		p.Months = append(p.Months, line)
	}
}

// pathMonth reads the month of the path.
func pathMonth(c *gin.Context) (billing.Month, error) { return billing.ParseMonth(c.Param("month")) }
