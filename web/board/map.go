package board

import (
	"context"
	"html/template"
	"net/http"
	"slices"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/schedule"
	"drawbar/routing"
	"drawbar/routing/road"
	"drawbar/routing/road/tile"
	"drawbar/web/view"

	"cloud.google.com/go/civil"
	"github.com/gin-gonic/gin"
	"github.com/paulmach/orb"
)

// chart is the week, or a day of it, on the map: the picture that every
// browser shows, and what a browser with WebGL needs to draw the same itself.
type chart struct {
	Picture  template.HTML
	Data     string // address of the drives and places
	Tiles    string // address of the roads, "" where none are imported
	Credit   string
	Rigs     []chartRig
	Days     []chartDay
	Estimate bool // some drives are straight lines
}

// chartRig is an entry of the key.
type chartRig struct {
	Name  string
	Style int
	Key   template.HTML
	Solo  template.HTML // the stroke for its vehicle alone
}

// chartDay is a day's drives in words.
type chartDay struct {
	Date   civil.Date
	Drives []chartDrive
}

// chartDrive is one drive, in words and as a line.
type chartDrive struct {
	schedule.Leg
	Rig      string
	Style    int
	From, To string
	Path     *road.Path
	Straight bool // no way along roads is known
}

// places are where drives begin and end.
type places struct {
	home  orb.Point
	yards map[booking.ID]booking.Yard
	farms map[booking.ID]booking.Farm
}

func (b *board) places(ctx context.Context, home orb.Point) (p places, err error) {
	p = places{home: home, yards: map[booking.ID]booking.Yard{}, farms: map[booking.ID]booking.Farm{}}
	yards, err := b.Store.Yards(ctx, "")
	if err != nil {
		return p, err
	}
	farms, err := b.Store.Farms(ctx)
	for _, y := range yards {
		p.yards[y.ID] = y
	}
	for _, f := range farms {
		p.farms[f.ID] = f
	}
	return p, err
}

// at is the position of a place of a leg.
func (p places) at(id string) orb.Point {
	if y, ok := p.yards[booking.ID(id)]; ok {
		return y.At
	}
	return p.home
}

// name is what people call it: the farm, or home.
func (p places) name(id string) string {
	if y, ok := p.yards[booking.ID(id)]; ok {
		return p.farms[y.FarmID].Name
	}
	return "home"
}

// chart draws the days of a week, or one of them. size is the picture's.
func (b *board) chart(ctx context.Context, week *schedule.Week, only civil.Date, width, height int) (chart, error) {
	at, err := b.places(ctx, week.Business.Home)
	if err != nil {
		return chart{}, err
	}
	c := chart{Tiles: b.Atlas.Tiles(), Credit: b.Atlas.Credit(), Data: "/week/" + isoWeek(week.From) + "/map.json"}
	if only.IsValid() {
		c.Data += "?day=" + only.String()
	}
	for _, d := range week.Days {
		if only.IsValid() && d.Date != only {
			continue
		}
		c.Days = append(c.Days, chartDay{d.Date, b.drives(d, week.Rigs, at)})
	}
	for i, r := range week.Rigs {
		c.Rigs = append(c.Rigs, chartRig{r.Name, tile.Style(i), template.HTML(tile.Sample(i, false)), template.HTML(tile.Sample(i, true))})
	}
	for _, d := range c.drives() {
		c.Estimate = c.Estimate || d.Straight || d.Leg.Estimate
	}
	c.Picture = b.Atlas.Picture(tile.Picture{
		Width: width, Height: height, Label: "Map of the drives, listed in words on the map's own page", Lines: c.lines(), Marks: c.marks(at),
	})
	return c, nil
}

// drives are those of all rigs on a day, by the clock.
func (b *board) drives(d schedule.Day, rigs []booking.Rig, at places) []chartDrive {
	var all []chartDrive
	for _, r := range d.Rounds {
		style := slices.IndexFunc(rigs, func(o booking.Rig) bool { return o.ID == r.Rig.ID })
		for _, l := range r.Legs {
			profile := routing.Towing
			if l.Solo {
				profile = routing.Solo
			}
			path, ok := b.Atlas.Drive(r.Rig.OnTheRoad(), profile, at.at(l.Start), at.at(l.End))
			all = append(all, chartDrive{Leg: l, Rig: r.Rig.Name, Style: tile.Style(style), From: at.name(l.Start), To: at.name(l.End), Path: path, Straight: !ok})
		}
	}
	slices.SortStableFunc(all, func(a, b chartDrive) int { return a.Leg.From - b.Leg.From })
	return all
}

func (c chart) drives() []chartDrive {
	var all []chartDrive
	for _, d := range c.Days {
		all = append(all, d.Drives...)
	}
	return all
}

// mapPage is the map by itself, with the drives in words beside it.
type mapPage struct {
	chart
	Week  string
	Only  civil.Date
	Dates []civil.Date
	Span  [2]civil.Date
}

// drawn reads the week of the address and draws it.
func (b *board) drawn(c *gin.Context) (*schedule.Week, mapPage, error) {
	var page mapPage
	first, err := weekOf(c)
	if err != nil {
		return nil, page, err
	}
	if day := c.Query("day"); day != "" {
		if page.Only, err = civil.ParseDate(day); err != nil || page.Only.Before(first) || page.Only.After(first.AddDays(daysOfWeek-1)) {
			return nil, page, fault.New(fault.NotFound, "There is no such day in this week.")
		}
	}
	week, err := b.Planner.Week(c.Request.Context(), first, daysOfWeek)
	if err != nil {
		return nil, page, err
	}
	page.Week, page.Span = isoWeek(first), [2]civil.Date{week.From, week.To}
	for _, d := range week.Days {
		page.Dates = append(page.Dates, d.Date)
	}
	page.chart, err = b.chart(c.Request.Context(), week, page.Only, 640, 560)
	return week, page, err
}

// Chart is the map, for the template that the board shares.
func (p mapPage) Chart() chart { return p.chart }

// Any tells whether there is any drive.
func (p mapPage) Any() bool { return len(p.drives()) > 0 }

func (b *board) weekMap(c *gin.Context) error {
	_, page, err := b.drawn(c)
	if err != nil {
		return err
	}
	return view.Render(c, http.StatusOK, pages, "map", page)
}
