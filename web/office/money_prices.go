package office

import (
	"fmt"
	"net/http"
	"strconv"

	"drawbar/billing"
	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/web/session"
	"drawbar/web/view"

	"cloud.google.com/go/civil"
	"github.com/gin-gonic/gin"
)

// pricesPage edits a price list.
type pricesPage struct {
	Form     *view.Form
	Lists    []billing.PriceList
	ID       booking.ID // of the list being edited; "" for a new one
	Currency billing.Currency
	Rows     []priceRow
	Steps    []int // columns of the table, from 0
	Services []view.Option
	Classes  []view.Option
	Units    []view.Option
	Taxes    []view.Option
}

// priceRow is one line of the form: a service for a class, with steps.
type priceRow struct {
	Form  *view.Form
	Index int
}

// Name of an entry of the row.
func (r priceRow) Name(entry string) string { return fmt.Sprintf("price.%d.%s", r.Index, entry) }

// Step is the name of an entry of a step of the row.
func (r priceRow) Step(i int, entry string) string {
	return fmt.Sprintf("price.%d.tier.%d.%s", r.Index, i, entry)
}

// Number of the row, from 1.
func (r priceRow) Number() int { return r.Index + 1 }

const (
	fewestSteps = 3 // shown in each row
	mostRows    = 120
)

var taxKinds = []string{"work", "set_up", "wash_down", "travel"}

func (o *office) prices(c *gin.Context) error {
	page, err := o.pricesPage(c)
	if err != nil {
		return err
	}
	list := page.pick(c.Query("list"))
	page.ID = list.ID
	if c.Query("list") == "new" {
		list.Version, page.ID = 0, ""
	}
	page.Form = formOfList(list)
	page.lay()
	return view.Render(c, http.StatusOK, pages, "prices", page)
}

// pick is the list that was asked for, else the latest, else an empty one.
func (p *pricesPage) pick(id string) billing.PriceList {
	for _, l := range p.Lists {
		if string(l.ID) == id {
			return l
		}
	}
	if len(p.Lists) > 0 {
		return p.Lists[0]
	}
	return billing.PriceList{Name: "Prices", Currency: p.Currency, Travel: billing.Travel{Unit: billing.Kilometres}, Terms: billing.Terms{Days: 30},
		Minimum: p.Currency.Of(0), SetUp: p.Currency.Of(0), WashDown: p.Currency.Of(0)}
}

func (o *office) pricesPage(c *gin.Context) (*pricesPage, error) {
	ctx := c.Request.Context()
	business, err := o.Store.Business(ctx)
	if err != nil {
		return nil, err
	}
	page := &pricesPage{Currency: billing.Currency(business.Currency)}
	if page.Lists, err = o.Biller.Store.PriceLists(ctx); err != nil {
		return nil, err
	}
	services, err := o.Store.Services(ctx)
	if err != nil {
		return nil, err
	}
	page.Services = []view.Option{{Label: "Choose"}}
	for _, s := range services {
		page.Services = append(page.Services, view.Option{Value: s.Code, Label: s.Name})
	}
	page.Classes = append([]view.Option{{Label: "all classes"}}, view.Options(booking.Classes, func(k booking.Class) string { return string(k) + "s" })...)
	page.Units = view.Options([]billing.Unit{billing.Kilometres, billing.Miles}, func(u billing.Unit) string { return string(u) })
	page.Taxes = view.Options(billing.TaxCategories, billing.TaxCategory.Words)
	return page, nil
}

// lay makes the rows and steps of the form, with one of each to spare.
func (p *pricesPage) lay() {
	n, steps := rowsOf(p.Form), 0
	p.Form.Set("rows", n)
	for i := range n {
		row := priceRow{Form: p.Form, Index: i}
		p.Rows = append(p.Rows, row)
		steps = max(steps, row.steps())
	}
	for s := range min(max(fewestSteps, steps+1), billing.MaxTiers) {
		p.Steps = append(p.Steps, s)
	}
}

// steps of the row that hold something.
func (r priceRow) steps() (n int) {
	for s := range billing.MaxTiers {
		if !r.empty(s) {
			n = s + 1
		}
	}
	return n
}

func (r priceRow) empty(step int) bool {
	return r.Form.Typed(r.Step(step, "from")) == "" && r.Form.Typed(r.Step(step, "rate")) == ""
}

func rowsOf(f *view.Form) int {
	n, err := strconv.Atoi(f.Typed("rows"))
	if err != nil || n < 1 {
		n = 1
	}
	return min(n, mostRows)
}

// formOfList fills the form with a list.
func formOfList(l billing.PriceList) *view.Form {
	f := view.NewForm("name", l.Name, "version", l.Version, "minimum", l.Minimum.Plain(), "set_up", l.SetUp.Plain(), "wash_down", l.WashDown.Plain(),
		"travel.rate", l.Travel.Rate.Plain(), "travel.free", l.Travel.Free, "travel.unit", l.Travel.Unit, "days", l.Terms.Days, "pay_to", l.Terms.PayTo,
		"tax_reason", l.TaxReason, "rows", len(l.Prices)+1)
	if l.ValidFrom.IsValid() {
		f.Set("valid_from", l.ValidFrom)
	}
	for i, t := range []billing.Tax{l.Taxes.Work, l.Taxes.SetUp, l.Taxes.WashDown, l.Taxes.Travel} {
		f.Set("tax."+taxKinds[i]+".category", t.Category)
		f.Set("tax."+taxKinds[i]+".percent", t.Percent.Plain())
	}
	for i, p := range l.Prices {
		r := priceRow{Form: f, Index: i}
		f.Set(r.Name("service"), p.Service)
		f.Set(r.Name("class"), p.Class)
		for s, t := range p.Tiers {
			f.Set(r.Step(s, "from"), t.From)
			f.Set(r.Step(s, "rate"), t.Rate.Plain())
		}
	}
	return f
}

// savePrices stores the list, or adds rows.
func (o *office) savePrices(c *gin.Context) error {
	page, err := o.pricesPage(c)
	if err != nil {
		return err
	}
	if page.Form, err = view.ReadForm(c); err != nil {
		return err
	}
	page.ID = booking.ID(page.Form.Typed("id"))
	if page.Form.Typed("do") == "add" {
		page.Form.Set("rows", rowsOf(page.Form)+5)
		page.lay()
		return view.Render(c, http.StatusOK, pages, "prices", page)
	}
	list := page.read()
	if err := o.storeList(c, page.Form, &list); err != nil {
		return err
	}
	if !page.Form.OK() {
		page.lay()
		return view.Render(c, page.Form.Status(), pages, "prices", page)
	}
	session.Flash(c, "Saved. Documents that were issued keep their prices.")
	return view.See(c, "/money/prices?list="+string(list.ID))
}

func (o *office) storeList(c *gin.Context, form *view.Form, list *billing.PriceList) error {
	services, err := o.Store.Services(c.Request.Context())
	if err != nil {
		return err
	}
	if err := form.Take(list.Check(booking.ByCode(services))); err != nil || !form.OK() {
		return err
	}
	return form.Take(o.Biller.Store.SavePriceList(c.Request.Context(), list))
}

// read makes a list of the form; what cannot be read is noted in the form.
func (p *pricesPage) read() billing.PriceList {
	f := p.Form
	l := billing.PriceList{
		ID: p.ID, Version: f.Version(), Name: f.Text("name"), ValidFrom: f.Date("valid_from", fault.Required), Currency: p.Currency,
		Minimum: p.amount("minimum"), SetUp: p.amount("set_up"), WashDown: p.amount("wash_down"), TaxReason: f.Text("tax_reason"),
		Travel: billing.Travel{Unit: billing.Unit(f.Text("travel.unit")), Rate: p.rate("travel.rate"), Free: f.Int("travel.free", fault.Required)},
		Terms:  billing.Terms{Days: f.Int("days", fault.Required), PayTo: f.Text("pay_to")},
	}
	for i, t := range []*billing.Tax{&l.Taxes.Work, &l.Taxes.SetUp, &l.Taxes.WashDown, &l.Taxes.Travel} {
		*t = p.tax("tax." + taxKinds[i] + ".")
	}
	p.readRows(&l)
	return l
}

// readRows reads the rows that name a service, closing gaps in the form too,
// so that what is wrong is told at the right row.
func (p *pricesPage) readRows(l *billing.PriceList) {
	kept := 0
	for i := range rowsOf(p.Form) {
		r := priceRow{Form: p.Form, Index: i}
		if p.Form.Typed(r.Name("service")) == "" {
			r.clear()
			continue
		}
		to := priceRow{Form: p.Form, Index: kept}
		r.move(to)
		l.Prices = append(l.Prices, billing.Price{Service: p.Form.Text(to.Name("service")), Class: booking.Class(p.Form.Text(to.Name("class"))), Tiers: p.tiers(to)})
		kept++
	}
	p.Form.Set("rows", kept+1)
}

// tiers reads the steps of a row. The first is always wanted; what is wrong
// with it is told there.
func (p *pricesPage) tiers(r priceRow) (all []billing.Tier) {
	for s := range max(1, r.steps()) {
		all = append(all, billing.Tier{From: p.Form.Int(r.Step(s, "from"), fault.Required), Rate: p.rate(r.Step(s, "rate"))})
	}
	return all
}

// clear takes out a row without a service.
func (r priceRow) clear() {
	r.Form.Set(r.Name("class"), "")
	for s := range billing.MaxTiers {
		r.Form.Set(r.Step(s, "from"), "")
		r.Form.Set(r.Step(s, "rate"), "")
	}
}

// move takes what was typed in a row to another, closing gaps between steps.
func (r priceRow) move(to priceRow) {
	r.carry(r.Name("service"), to.Name("service"))
	r.carry(r.Name("class"), to.Name("class"))
	kept := 0
	for s := range billing.MaxTiers {
		if s > 0 && r.empty(s) {
			continue
		}
		r.carry(r.Step(s, "from"), to.Step(kept, "from"))
		r.carry(r.Step(s, "rate"), to.Step(kept, "rate"))
		kept++
	}
}

func (r priceRow) carry(from, to string) {
	if from != to {
		r.Form.Set(to, r.Form.Typed(from))
		r.Form.Set(from, "")
	}
}

func (p *pricesPage) amount(name string) billing.Money { return amountOf(p.Form, name, p.Currency) }

func (p *pricesPage) rate(name string) billing.Rate {
	r, err := billing.ParseRate(p.Form.Text(name), p.Currency)
	note(p.Form, name, err)
	return r
}

func (p *pricesPage) tax(at string) billing.Tax {
	t := billing.Tax{Category: billing.TaxCategory(p.Form.Text(at + "category"))}
	if text := p.Form.Text(at + "percent"); text != "" {
		percent, err := billing.ParsePercent(text)
		note(p.Form, at+"percent", err)
		t.Percent = percent
	}
	return t
}

// amountOf reads an amount of money and notes what is wrong with it.
func amountOf(f *view.Form, name string, c billing.Currency) billing.Money {
	m, err := billing.ParseMoney(f.Text(name), c)
	note(f, name, err)
	return m
}

func note(f *view.Form, name string, err error) {
	if err != nil {
		f.Errors.Add(name, "%s", fault.Sentence(err))
	}
}

// Holds tells whether a list holds on a day.
func (p *pricesPage) Holds(l billing.PriceList, day civil.Date) bool {
	now, ok := billing.ListOn(p.Lists, day)
	return ok && now.ID == l.ID
}
