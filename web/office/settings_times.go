package office

import (
	"net/http"
	"slices"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/pace"
	"drawbar/web/view"

	"cloud.google.com/go/civil"
	"github.com/gin-gonic/gin"
)

// timesPage lists the base times of all services and motions.
type timesPage struct {
	Known  booking.PaceModel
	Groups []timesGroup
}

// timesGroup is one service or motion.
type timesGroup struct {
	Code, Name string
	Lines      []timeLine
	More       []string // animals without a line of their own
}

// timeLine is one base time, with what dockets make of it.
type timeLine struct {
	pace.Prior
	Own     bool    // the business's
	Learned float64 // seconds, as dockets have it; 0 where nothing is learned
	Within  float64 // per cent
}

// Spread in per cent.
func (l timeLine) Spread() float64 { return 100 * l.CV }

// Animals the line is for, in the plural.
func (l timeLine) Animals() string { return animals(l.Covers()) }

// Since is the day it was entered.
func (l timeLine) Since() civil.Date { return booking.BaseTime{Prior: l.Prior}.Since() }

// Key is the end of the line's address.
func (l timeLine) Key() string { return booking.BaseTime{Prior: l.Prior}.Key() }

// coverings are the animals a base time can be for, as in addresses.
var coverings = []string{"", "sheep", "goat", "ewe", "ram", "hogget", "lamb", "doe", "buck", "kid"}

func animals(covers string) string {
	switch covers {
	case "":
		return "all animals"
	case "sheep":
		return "sheep"
	}
	return covers + "s"
}

func (o *office) mountTimes(r gin.IRouter) {
	r.GET("/settings/times", view.Handle(o.times))
	r.GET("/settings/times/:code/:covers", view.Handle(o.baseTime))
	r.POST("/settings/times/:code/:covers", view.Handle(o.saveBaseTime))
	r.POST("/settings/times/:code/:covers/drop", view.Handle(o.dropBaseTime))
}

func (o *office) times(c *gin.Context) error {
	own, err := o.Store.BaseTimes(c.Request.Context())
	if err != nil {
		return err
	}
	var page timesPage
	if page.Known, err = o.Store.PaceModel(c.Request.Context()); err != nil {
		return err
	}
	m, err := pace.NewModel(booking.Priors(own), page.Known.Learned)
	if err != nil { // learned by another program; the next lesson mends it
		m, err = pace.NewModel(booking.Priors(own), nil)
	}
	if err != nil {
		return err
	}
	page.Groups = timesGroups(m, own)
	return view.Render(c, http.StatusOK, pages, "times", page)
}

func timesGroups(m *pace.Model, own []booking.BaseTime) []timesGroup {
	rows := m.Priors().Rows
	var groups []timesGroup
	for _, code := range pace.Keys() {
		g := timesGroup{Code: code, Name: pace.Prior{Code: code}.Word()}
		factor, cv, taught := m.Taught(code)
		for _, covers := range coverings {
			i := slices.IndexFunc(rows, func(row pace.Prior) bool { return row.Code == code && row.Covers() == covers })
			if i < 0 {
				g.More = append(g.More, covers)
				continue
			}
			line := timeLine{Prior: rows[i], Own: slices.ContainsFunc(own, func(b booking.BaseTime) bool { return b.Code == code && b.Covers() == covers })}
			if taught {
				line.Learned, line.Within = rows[i].Seconds*factor, 100*cv
			}
			g.Lines = append(g.Lines, line)
		}
		groups = append(groups, g)
	}
	return groups
}

// baseTimePage edits one base time.
type baseTimePage struct {
	Time    booking.BaseTime // in force; Version 0 where it is not the business's own
	Name    string
	Animals string
	Key     string
	Form    *view.Form
	Origins []view.Option
}

var origins = []view.Option{
	{Value: string(pace.Own), Label: "Our own"},
	{Value: string(pace.CommonPractice), Label: "Common practice"},
	{Value: string(pace.Published), Label: "Published"},
}

func (o *office) baseTimePage(c *gin.Context) (page baseTimePage, err error) {
	code, covers := c.Param("code"), c.Param("covers")
	if covers == "all" {
		covers = ""
	}
	if !slices.Contains(pace.Keys(), code) || !slices.Contains(coverings, covers) {
		return page, fault.New(fault.NotFound, "There is no such base time.")
	}
	own, err := o.Store.BaseTimes(c.Request.Context())
	if err != nil {
		return page, err
	}
	page.Time = inForce(own, code, covers)
	page.Name, page.Animals, page.Key, page.Origins = page.Time.Word(), animals(covers), page.Time.Key(), origins
	page.Form = formOfTime(page.Time)
	return page, nil
}

// inForce is the base time for the animals; where they have no line of their
// own, one with the values of the line that covers them.
func inForce(own []booking.BaseTime, code, covers string) booking.BaseTime {
	i := slices.IndexFunc(own, func(b booking.BaseTime) bool { return b.Code == code && b.Covers() == covers })
	if i >= 0 {
		return own[i]
	}
	wanted := pace.Prior{Code: code}.ForAnimals(covers)
	for _, at := range []string{covers, string(wanted.Species), ""} {
		for _, row := range booking.Priors(own).Rows {
			if row.Code == code && row.Covers() == at {
				return booking.BaseTime{Prior: row.ForAnimals(covers)}
			}
		}
	}
	return booking.BaseTime{Prior: wanted}
}
