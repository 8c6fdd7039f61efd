package farmer

import (
	"net/http"
	"slices"
	"strconv"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/web/session"
	"drawbar/web/view"

	"github.com/gin-gonic/gin"
)

// bookPage is the booking form, new or to change one.
type bookPage struct {
	Form     *view.Form
	Action   string // where it is sent
	Changing bool
	Known    booking.Farm // the farm of the link; zero without one
	Yards    []view.Option
	Mobs     []row
	Windows  []row
	Quote    quote
	Services []view.Option
	Surfaces []view.Option
	Classes  []view.Option
	Parts    []view.Option
	Setup    bool // no business yet
}

// row is one mob or window of the form.
type row struct {
	Form   *view.Form
	Kind   string
	Index  int
	Only   bool // it cannot be taken out
	Scan   bool // ask when the males were in and out
	Choose bookChoices
}

type bookChoices struct{ Services, Classes, Parts []view.Option }

// Name of an entry of the row.
func (r row) Name(entry string) string { return name(r.Kind, r.Index, entry) }

// Number of the row, from 1.
func (r row) Number() int { return r.Index + 1 }

func (f *farmer) form(c *gin.Context) error {
	form := view.NewForm("mobs", 1, "windows", 1, "yard.surface", booking.Gravel)
	page, err := f.bookPage(c, form)
	if err != nil {
		return err
	}
	if len(page.Yards) > 1 {
		form.Set("yard", page.Yards[0].Value)
	}
	return view.Render(c, http.StatusOK, pages, "book", page)
}

// send books, or adds and takes out rows.
func (f *farmer) send(c *gin.Context) error {
	form, err := view.ReadForm(c)
	if err != nil {
		return err
	}
	if edit(form) {
		return f.show(c, form)
	}
	request, err := f.request(c, form)
	if err != nil {
		return err
	}
	if err := form.Take(f.Desk.Check(c.Request.Context(), request)); err != nil {
		return err
	}
	if !form.OK() {
		return f.show(c, form)
	}
	if err := f.sends.Allow(session.Address(c)); err != nil {
		return err
	}
	_, secret, err := f.Desk.Ask(c.Request.Context(), request)
	if err != nil {
		return err
	}
	session.Flash(c, "Thank you, your booking is in. A mail with the link to this page is on its way to you.")
	return view.See(c, "/b/"+string(secret))
}

// request reads the whole form. Entries that cannot be read stay in it and
// are told with all that the desk finds.
func (f *farmer) request(c *gin.Context, form *view.Form) (booking.Request, error) {
	r := booking.Request{Farm: session.Farm(c), Mobs: mobsOf(form), Windows: windowsOf(form), Note: form.Text("note")}
	if r.Farm.ID == "" {
		r.Farm = farmOf(form)
	}
	var err error
	r.Yard, err = f.yardFor(c, form)
	return r, err
}

// show is the form as it stands, with what is wrong.
func (f *farmer) show(c *gin.Context, form *view.Form) error {
	page, err := f.bookPage(c, form)
	if err != nil {
		return err
	}
	status := form.Status()
	if form.Typed("do") != "" && form.Typed("do") != "send" {
		form.Errors, status = fault.Fields{}, http.StatusOK
	}
	return view.Render(c, status, pages, "book", page)
}

// bookPage puts the form's page together.
func (f *farmer) bookPage(c *gin.Context, form *view.Form) (*bookPage, error) {
	page := &bookPage{Form: form, Action: "/book", Known: session.Farm(c)}
	if _, err := f.Store.Business(c.Request.Context()); err != nil {
		if fault.Is(err, fault.NotFound) {
			page.Setup = true
			return page, nil
		}
		return nil, err
	}
	if page.Known.ID != "" {
		yards, err := f.Store.Yards(c.Request.Context(), page.Known.ID)
		if err != nil {
			return nil, err
		}
		page.Yards = yardOptions(yards)
	}
	if err := page.choices(c, f.Store); err != nil {
		return nil, err
	}
	return page, f.fillQuote(c, page)
}

// fillQuote reads a copy of the form, so that what is not sent yet gives no
// errors.
func (f *farmer) fillQuote(c *gin.Context, page *bookPage) error {
	errs := page.Form.Errors
	page.Form.Errors = fault.Fields{}
	defer func() { page.Form.Errors = errs }()
	b := booking.Booking{FarmID: page.Known.ID, Mobs: mobsOf(page.Form), Windows: windowsOf(page.Form)}
	yard, err := f.yardFor(c, page.Form)
	if err != nil {
		return err
	}
	page.Quote, err = f.quote(c, b, yard, page.hygiene())
	return err
}

func yardOptions(yards []booking.Yard) []view.Option {
	options := make([]view.Option, 0, len(yards)+1)
	for _, y := range yards {
		options = append(options, view.Option{Value: string(y.ID), Label: y.Name})
	}
	return append(options, view.Option{Value: "new", Label: "Another yard"})
}

// choices fills the lists to choose from and the rows.
func (p *bookPage) choices(c *gin.Context, store booking.Store) error {
	services, err := store.Services(c.Request.Context())
	if err != nil {
		return err
	}
	var scanning []string
	for _, s := range services {
		if s.Offered {
			p.Services = append(p.Services, view.Option{Value: s.Code, Label: s.Name})
		}
		if s.Scanning {
			scanning = append(scanning, s.Code)
		}
	}
	p.Surfaces = view.Options(booking.Surfaces, surfaceLabel)
	p.Classes = append([]view.Option{{Label: "Choose"}}, view.Options(booking.Classes, func(k booking.Class) string { return string(k) + "s" })...)
	p.Parts = view.Options(booking.DayParts, func(d booking.DayPart) string { return partLabels[d] })
	choose := bookChoices{p.Services, p.Classes, p.Parts}
	p.Mobs = p.rows("mob", booking.MaxMobs, choose)
	p.Windows = p.rows("window", booking.MaxWindows, choose)
	for i := range p.Mobs {
		p.Mobs[i].Scan = slices.ContainsFunc(scanning, func(code string) bool { return p.Form.Picked(p.Mobs[i].Name("services"), code) })
	}
	return nil
}

func (p *bookPage) rows(kind string, most int, choose bookChoices) []row {
	n := rows(p.Form, kind, most)
	p.Form.Set(kind+"s", strconv.Itoa(n))
	all := make([]row, n)
	for i := range all {
		all[i] = row{Form: p.Form, Kind: kind, Index: i, Only: n == 1, Choose: choose}
	}
	return all
}

var partLabels = map[booking.DayPart]string{booking.AllDay: "any time", booking.Morning: "mornings", booking.Afternoon: "afternoons"}

func surfaceLabel(s booking.Surface) string {
	return map[booking.Surface]string{
		booking.Concrete: "concrete", booking.Gravel: "gravel or stone", booking.Grass: "short dry grass",
		booking.Soft: "soft: mud, sand or long grass", booking.Slope: "on a slope",
	}[s]
}

// hygiene of the flock; not known for a farm that books for the first time.
func (p *bookPage) hygiene() booking.Hygiene {
	if p.Known.ID == "" {
		return booking.Unknown
	}
	return p.Known.Hygiene
}
