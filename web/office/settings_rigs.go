package office

import (
	"context"
	"net/http"
	"slices"
	"strconv"
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/say"
	"drawbar/web/session"
	"drawbar/web/view"

	"github.com/gin-gonic/gin"
)

// rigsPage lists rigs with who goes with them.
type rigsPage struct {
	Rigs  []booking.Rig
	Names map[booking.ID]string
}

func (o *office) rigs(c *gin.Context) error {
	rigs, err := o.Store.Rigs(c.Request.Context())
	if err != nil {
		return err
	}
	names, err := o.names(c.Request.Context())
	if err != nil {
		return err
	}
	return view.Render(c, http.StatusOK, pages, "rigs", rigsPage{rigs, names})
}

func (o *office) names(ctx context.Context) (map[booking.ID]string, error) {
	people, err := o.Store.People(ctx)
	names := make(map[booking.ID]string, len(people))
	for _, p := range people {
		names[p.ID] = p.Name
	}
	return names, err
}

// rigPage edits one rig.
type rigPage struct {
	Rig    booking.Rig // as stored; zero for a new one
	Form   *view.Form
	Off    *view.Form // of a day off
	Days   []booking.DayOff
	Mounts []view.Option
	People []view.Option
	Week   []view.Option
}

// ID in the address: "new" for a new rig.
func (p rigPage) ID() string {
	if p.Rig.ID == "" {
		return "new"
	}
	return string(p.Rig.ID)
}

var mountWords = map[booking.Mount]string{booking.OnTrailer: "on its own trailer", booking.OnSkid: "on a skid frame, lifted off with forks"}

const (
	usualStart = 7 * 60
	usualEnd   = 18 * 60
)

func newRig() booking.Rig {
	return booking.Rig{
		Mount: booking.OnTrailer, RacePlaces: 8, Mass: 1500, Length: 10, Width: 2.3, Height: 2.3, DayStart: usualStart, DayEnd: usualEnd, Active: true,
		Workdays: []time.Weekday{time.Monday, time.Tuesday, time.Wednesday, time.Thursday, time.Friday},
	}
}

func (o *office) rigPage(c *gin.Context) (page rigPage, err error) {
	ctx := c.Request.Context()
	page.Rig = newRig()
	if c.Param("id") != "new" {
		id, err := view.ID(c, "id")
		if err != nil {
			return page, err
		}
		if page.Rig, err = o.Store.Rig(ctx, id); err != nil {
			return page, err
		}
		if page.Days, err = o.daysOff(ctx, id); err != nil {
			return page, err
		}
	}
	people, err := o.Store.People(ctx)
	for _, p := range people {
		switch {
		case p.Active:
			page.People = append(page.People, view.Option{Value: string(p.ID), Label: p.Name})
		case slices.Contains(page.Rig.Crew, p.ID):
			page.People = append(page.People, view.Option{Value: string(p.ID), Label: p.Name + " (not working here now)"})
		}
	}
	page.Mounts = view.Options(booking.Mounts, func(m booking.Mount) string { return mountWords[m] })
	for d := range 7 {
		day := time.Weekday((d + 1) % 7) // the week begins on Monday
		page.Week = append(page.Week, view.Option{Value: strconv.Itoa(int(day)), Label: day.String()})
	}
	page.Form, page.Off = formOfRig(page.Rig), view.NewForm()
	return page, err
}

func formOfRig(r booking.Rig) *view.Form {
	f := view.NewForm("name", r.Name, "mount", r.Mount, "side_tilt", r.SideTilt, "weigh_bars", r.WeighBars, "tag_reader", r.TagReader,
		"sort_gates", r.SortGates, "race_places", r.RacePlaces, "mass", r.Mass, "length", r.Length, "width", r.Width, "height", r.Height,
		"vehicle_mass", r.Vehicle.Mass, "vehicle_length", r.Vehicle.Length, "vehicle_width", r.Vehicle.Width, "vehicle_height", r.Vehicle.Height,
		"day_start", say.Clock(r.DayStart), "day_end", say.Clock(r.DayEnd), "lodges", r.Lodges, "rests", r.Rests, "active", r.Active, "version", r.Version)
	f.Set("crew", texts(r.Crew))
	var days []string
	for _, d := range r.Workdays {
		days = append(days, strconv.Itoa(int(d)))
	}
	f.Set("workdays", days)
	return f
}

func rigOf(f *view.Form, id booking.ID) booking.Rig {
	r := booking.Rig{
		ID: id, Name: f.Text("name"), Mount: booking.Mount(f.Text("mount")), SideTilt: f.Bool("side_tilt"), WeighBars: f.Bool("weigh_bars"), TagReader: f.Bool("tag_reader"),
		SortGates: f.Int("sort_gates", fault.Optional), RacePlaces: f.Int("race_places", fault.Required), Mass: f.Int("mass", fault.Required),
		Length: f.Float("length", fault.Required), Width: f.Float("width", fault.Required), Height: f.Float("height", fault.Required),
		Vehicle: booking.Vehicle{
			Mass: f.Int("vehicle_mass", fault.Optional), Length: f.Float("vehicle_length", fault.Optional),
			Width: f.Float("vehicle_width", fault.Optional), Height: f.Float("vehicle_height", fault.Optional),
		},
		DayStart: f.Clock("day_start", fault.Required), DayEnd: f.Clock("day_end", fault.Required), Lodges: f.Bool("lodges"), Rests: f.Bool("rests"), Active: f.Bool("active"), Version: f.Version(),
	}
	for _, id := range f.Texts("crew") {
		r.Crew = append(r.Crew, booking.ID(id))
	}
	for _, text := range f.Texts("workdays") {
		if d, err := strconv.Atoi(text); err == nil && d >= 0 && d < 7 {
			r.Workdays = append(r.Workdays, time.Weekday(d))
		}
	}
	return r
}

func (o *office) rig(c *gin.Context) error {
	page, err := o.rigPage(c)
	if err != nil {
		return err
	}
	return view.Render(c, http.StatusOK, pages, "rig", page)
}

func (o *office) saveRig(c *gin.Context) error {
	page, err := o.rigPage(c)
	if err != nil {
		return err
	}
	if page.Form, err = view.ReadForm(c); err != nil {
		return err
	}
	r := rigOf(page.Form, page.Rig.ID)
	err = r.Check()
	if err == nil && page.Form.OK() {
		err = o.keepRig(c.Request.Context(), &r)
	}
	if err := page.Form.Take(err); err != nil {
		return err
	}
	if !page.Form.OK() {
		page.Form.Meet(formOfRig(page.Rig), map[string][]view.Option{"mount": page.Mounts, "crew": page.People, "workdays": page.Week})
		return view.Render(c, page.Form.Status(), pages, "rig", page)
	}
	session.Flash(c, "Saved "+r.Name+".")
	return view.See(c, "/settings/rigs")
}

// keepRig stores a rig whose name is its own and whose people are not with
// another rig on the same days.
func (o *office) keepRig(ctx context.Context, r *booking.Rig) error {
	rigs, err := o.Store.Rigs(ctx)
	if err != nil {
		return err
	}
	names, err := o.names(ctx)
	if err != nil {
		return err
	}
	f := fault.Fields{}
	for _, other := range rigs {
		if other.ID == r.ID {
			continue
		}
		if other.Name == r.Name {
			f.Add("name", "Another rig has this name; give each its own.")
		}
		if person := shared(*r, other); person != "" {
			f.Add("crew", "%s goes with %s on some of these days. Somebody can be with one rig at a time.", names[person], other.Name)
		}
	}
	for _, id := range r.Crew {
		if names[id] == "" {
			f.Add("crew", "Choose people from the list.")
		}
	}
	if err := f.Err(); err != nil {
		return err
	}
	return o.Store.SaveRig(ctx, r)
}

// shared is a person that two active rigs both count on, on the same day of
// the week; "" for none.
func shared(a, b booking.Rig) booking.ID {
	sameDay := slices.ContainsFunc(a.Workdays, func(d time.Weekday) bool { return slices.Contains(b.Workdays, d) })
	if !a.Active || !b.Active || !sameDay {
		return ""
	}
	for _, id := range a.Crew {
		if slices.Contains(b.Crew, id) {
			return id
		}
	}
	return ""
}
