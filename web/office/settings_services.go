package office

import (
	"context"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/web/session"
	"drawbar/web/view"

	"github.com/gin-gonic/gin"
)

// serviceLine is one line of the list.
type serviceLine struct {
	booking.Service
	Needs string // in words, "" for nothing beyond a rig
}

// services lists what can be done, in the order farmers see.
func (o *office) services(c *gin.Context) error {
	services, err := o.Store.Services(c.Request.Context())
	if err != nil {
		return err
	}
	lines := make([]serviceLine, len(services))
	for i, s := range services {
		lines[i] = serviceLine{s, needs(s)}
	}
	return view.Render(c, http.StatusOK, pages, "services", lines)
}

func needs(s booking.Service) string {
	var all []string
	for _, need := range []struct {
		needed bool
		words  string
	}{
		{s.SideTilt, "side tilt"}, {s.WeighBars, "weigh bars"}, {s.TagReader, "tag reader"},
		{s.SortGates > 0, view.Plural(s.SortGates, "powered gate", "powered gates")},
		{s.Skill != "", "somebody who does " + skillWords(s.Skill)},
	} {
		if need.needed {
			all = append(all, need.words)
		}
	}
	return strings.Join(all, ", ")
}

// servicePage edits one service.
type servicePage struct {
	Service booking.Service // as stored
	All     []booking.Service
	Form    *view.Form
	Skills  []view.Option
	After   []view.Option // which service it may follow in lists
}

func (o *office) servicePage(c *gin.Context) (page servicePage, err error) {
	if page.All, err = o.Store.Services(c.Request.Context()); err != nil {
		return page, err
	}
	at := slices.IndexFunc(page.All, func(s booking.Service) bool { return s.Code == c.Param("code") })
	if at < 0 {
		return page, fault.New(fault.NotFound, "There is no such service.")
	}
	page.Service = page.All[at]
	page.Skills = append([]view.Option{{Label: "none"}}, view.Options(booking.Skills, skillWords)...)
	page.After = []view.Option{{Label: "nothing: it comes first"}}
	for _, s := range page.All {
		if s.Code != page.Service.Code {
			page.After = append(page.After, view.Option{Value: s.Code, Label: s.Name})
		}
	}
	page.Form = formOfService(page.All, at)
	return page, nil
}

func formOfService(all []booking.Service, at int) *view.Form {
	s, after := all[at], ""
	if at > 0 {
		after = all[at-1].Code
	}
	return view.NewForm("name", s.Name, "side_tilt", s.SideTilt, "weigh_bars", s.WeighBars, "tag_reader", s.TagReader, "sort_gates", s.SortGates,
		"skill", s.Skill, "scanning", s.Scanning, "advice", s.Advice, "offered", s.Offered, "after", after, "version", s.Version,
		"product", s.Product, "mg_per_kg", figure(s.MgPerKg), "mg_per_ml", figure(s.MgPerML), "ml_per_head", figure(s.MLPerHead), "packs", sizesInWords(s.Packs))
}

func (o *office) service(c *gin.Context) error {
	page, err := o.servicePage(c)
	if err != nil {
		return err
	}
	return view.Render(c, http.StatusOK, pages, "service", page)
}

func (o *office) saveService(c *gin.Context) error {
	page, err := o.servicePage(c)
	if err != nil {
		return err
	}
	now := page.Form
	if page.Form, err = view.ReadForm(c); err != nil {
		return err
	}
	s := serviceOf(page.Form, page.Service.Code)
	after := page.after()
	err = s.Check()
	if err == nil && page.Form.OK() {
		err = o.keepServices(c.Request.Context(), arranged(page.All, s, after))
	}
	if err := page.Form.Take(err); err != nil {
		return err
	}
	if !page.Form.OK() {
		page.Form.Meet(now, map[string][]view.Option{"skill": page.Skills, "after": page.After})
		return view.Render(c, page.Form.Status(), pages, "service", page)
	}
	session.Flash(c, "Saved "+s.Name+".")
	return view.See(c, "/settings/services")
}

func serviceOf(f *view.Form, code string) booking.Service {
	return booking.Service{
		Code: code, Name: f.Text("name"), SideTilt: f.Bool("side_tilt"), WeighBars: f.Bool("weigh_bars"), TagReader: f.Bool("tag_reader"),
		SortGates: f.Int("sort_gates", fault.Optional), Skill: booking.Skill(f.Text("skill")), Scanning: f.Bool("scanning"),
		Advice: f.Text("advice"), Offered: f.Bool("offered"), Version: f.Version(),
		Product: f.Text("product"), MgPerKg: f.Float("mg_per_kg", fault.Optional), MgPerML: f.Float("mg_per_ml", fault.Optional),
		MLPerHead: f.Float("ml_per_head", fault.Optional), Packs: sizesOf(f, "packs"),
	}
}

// Medicated tells whether the service may give a product.
func (p servicePage) Medicated() bool { return slices.Contains(booking.Medicated, p.Service.Code) }

// figure is a number as typed; "" for none.
func figure(n float64) string {
	if n == 0 {
		return ""
	}
	return strconv.FormatFloat(n, 'f', -1, 64)
}

// sizesInWords are the sizes of packs as typed: "1000, 2500".
func sizesInWords(packs []int) string {
	words := make([]string, len(packs))
	for i, p := range packs {
		words[i] = strconv.Itoa(p)
	}
	return strings.Join(words, ", ")
}

// sizesOf reads sizes of packs.
func sizesOf(f *view.Form, name string) (packs []int) {
	for word := range strings.FieldsFuncSeq(f.Text(name), func(r rune) bool { return r == ',' || r == ';' || r == ' ' }) {
		n, err := strconv.Atoi(word)
		if err != nil {
			f.Errors.Add(name, "Give whole mL with commas between, such as 1000, 2500.")
			return nil
		}
		packs = append(packs, n)
	}
	return packs
}

// after is the code of the service that this one is to follow.
func (p servicePage) after() string {
	codes := make([]string, len(p.After))
	for i, option := range p.After {
		codes[i] = option.Value
	}
	return view.Choice(p.Form, "after", codes)
}

// arranged puts a changed service behind another ("" for the front) and
// numbers all anew: the changed one, then those whose place changes.
func arranged(all []booking.Service, s booking.Service, after string) []booking.Service {
	order := slices.DeleteFunc(slices.Clone(all), func(other booking.Service) bool { return other.Code == s.Code })
	at := slices.IndexFunc(order, func(other booking.Service) bool { return other.Code == after }) + 1
	s.Position = at + 1
	changed := []booking.Service{s}
	for i, other := range slices.Insert(order, at, s) {
		if other.Code != s.Code && other.Position != i+1 {
			other.Position = i + 1
			changed = append(changed, other)
		}
	}
	return changed
}

// keepServices stores one after the other; when it ends early the order is
// what the next save puts right.
func (o *office) keepServices(ctx context.Context, services []booking.Service) error {
	for _, s := range services {
		if err := o.Store.SaveService(ctx, &s); err != nil {
			return err
		}
	}
	return nil
}
