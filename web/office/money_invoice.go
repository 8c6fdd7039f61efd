package office

import (
	"fmt"
	"net/http"
	"slices"
	"strconv"

	"drawbar/billing"
	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/web/session"
	"drawbar/web/view"

	"cloud.google.com/go/civil"
	"github.com/gin-gonic/gin"
)

// invoicePage is one invoice with what became of it.
type invoicePage struct {
	billing.Account
	Today  civil.Date
	Pay    *view.Form
	Credit *view.Form
}

// Taken tells whether a line, by its place, has been credited.
func (p invoicePage) Taken(place int) bool { return slices.Contains(p.Credited, place+1) }

// Number of a line, by its place.
func (invoicePage) Number(place int) int { return place + 1 }

// Lines that can still be credited.
func (p invoicePage) Lines() []view.Option {
	var left []view.Option
	for i, l := range p.Invoice.Lines {
		if !p.Taken(i) {
			left = append(left, view.Option{Value: strconv.Itoa(i + 1), Label: fmt.Sprintf("%d. %s, %s", i+1, l.Text, l.Net)})
		}
	}
	return left
}

func (o *office) invoice(c *gin.Context) error {
	page, err := o.invoicePage(c)
	if err != nil {
		return err
	}
	return view.Render(c, http.StatusOK, pages, "invoice", page)
}

func (o *office) invoicePage(c *gin.Context) (page invoicePage, err error) {
	id, err := view.ID(c, "id")
	if err != nil {
		return page, err
	}
	business, err := o.Store.Business(c.Request.Context())
	if err != nil {
		return page, err
	}
	page.Today = o.Biller.Today(business)
	page.Account, err = o.Biller.Store.Account(c.Request.Context(), id)
	page.Pay = view.NewForm("id", booking.NewID(), "amount", page.Open().Plain(), "day", page.Today)
	page.Credit = view.NewForm()
	return page, err
}

func (o *office) invoicePDF(c *gin.Context) error {
	id, err := view.ID(c, "id")
	if err != nil {
		return err
	}
	invoice, data, err := o.Biller.Store.PDF(c.Request.Context(), id)
	if err != nil {
		return err
	}
	c.Header("Content-Disposition", fmt.Sprintf("inline; filename=%q", invoice.Number+".pdf"))
	c.Data(http.StatusOK, "application/pdf", data)
	return nil
}

// pay records money that came in. The id is made with the form, so that
// sending it twice counts once.
func (o *office) pay(c *gin.Context) error {
	page, err := o.invoicePage(c)
	if err != nil {
		return err
	}
	if page.Pay, err = view.ReadForm(c); err != nil {
		return err
	}
	payment := billing.Payment{
		ID: page.Pay.ID("id", fault.Required), InvoiceID: page.Invoice.ID, Day: page.Pay.Date("day", fault.Required), How: page.Pay.Text("how"),
	}
	payment.Amount = amountOf(page.Pay, "amount", page.Invoice.Currency)
	if page.Pay.OK() {
		err := o.Biller.Pay(c.Request.Context(), payment)
		if err := page.Pay.Take(err); err != nil {
			return err
		}
	}
	if !page.Pay.OK() {
		return view.Render(c, page.Pay.Status(), pages, "invoice", page)
	}
	session.Flash(c, "Recorded: "+payment.Amount.String()+".")
	return view.See(c, "/money/invoices/"+string(page.Invoice.ID))
}

// credit issues a credit note for the chosen lines.
func (o *office) credit(c *gin.Context) error {
	page, err := o.invoicePage(c)
	if err != nil {
		return err
	}
	if page.Credit, err = view.ReadForm(c); err != nil {
		return err
	}
	credit := billing.Credit{Invoice: page.Invoice.ID, Reason: page.Credit.Text("reason"), Rebill: page.Credit.Bool("rebill")}
	for _, text := range page.Credit.Texts("lines") {
		n, err := strconv.Atoi(text)
		if err != nil {
			n = 0 // refused as a line that is not there
		}
		credit.Lines = append(credit.Lines, n)
	}
	page.Credit.Errors.Text("reason", credit.Reason, 300, fault.Required)
	if len(credit.Lines) == 0 {
		page.Credit.Errors.Add("lines", "Choose the lines that are taken back.")
	}
	var note billing.Invoice
	if page.Credit.OK() {
		note, err = o.Biller.Credit(c.Request.Context(), credit)
		if err := page.Credit.Take(err); err != nil {
			return err
		}
	}
	if !page.Credit.OK() {
		return view.Render(c, page.Credit.Status(), pages, "invoice", page)
	}
	session.Flash(c, "Credit note "+note.Number+" is issued.")
	return view.See(c, "/money/invoices/"+string(page.Invoice.ID))
}

// strikePayment takes back a payment that was recorded by mistake.
func (o *office) strikePayment(c *gin.Context) error {
	id, err := view.ID(c, "id")
	if err != nil {
		return err
	}
	if err := o.Biller.Store.StrikePayment(c.Request.Context(), id); err != nil {
		return err
	}
	session.Flash(c, "The payment is struck out.")
	back, ok := booking.ParseID(c.PostForm("invoice"))
	if !ok {
		return view.See(c, "/money")
	}
	return view.See(c, "/money/invoices/"+string(back))
}
