package office

import (
	"net/http"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/web/session"
	"drawbar/web/view"

	"github.com/gin-gonic/gin"
)

// yardPage edits one yard of a farm.
type yardPage struct {
	Farm     booking.Farm
	Yard     booking.Yard // as stored; zero for a new one
	Form     *view.Form
	Surfaces []view.Option
	Where    where
}

// ID in the address: "new" for a new yard.
func (p yardPage) ID() string {
	if p.Yard.ID == "" {
		return "new"
	}
	return string(p.Yard.ID)
}

func (o *office) yardPage(c *gin.Context) (page yardPage, err error) {
	id, err := view.ID(c, "id")
	if err != nil {
		return page, err
	}
	if page.Farm, err = o.Store.Farm(c.Request.Context(), id); err != nil {
		return page, err
	}
	page.Surfaces = view.Options(booking.Surfaces, func(s booking.Surface) string { return string(s) })
	page.Yard = booking.Yard{Surface: booking.Gravel}
	if c.Param("yard") != "new" {
		if page.Yard, err = o.ownYard(c, id); err != nil {
			return page, err
		}
	}
	page.Form = formOfYard(page.Yard)
	return page, nil
}

func formOfYard(y booking.Yard) *view.Form {
	f := view.NewForm("name", y.Name, "gate_width", y.GateWidth, "train_length", y.TrainLength, "surface", y.Surface, "turning", y.Turning,
		"lights", y.Lights, "power", y.Power, "forks", y.Forks, "helper", y.Helper, "overnight", y.Overnight, "access", y.Access, "version", y.Version)
	setPosition(f, y.At)
	return f
}

// ownYard is the yard of the path, if it is the farm's.
func (o *office) ownYard(c *gin.Context, farm booking.ID) (booking.Yard, error) {
	id, err := view.ID(c, "yard")
	if err != nil {
		return booking.Yard{}, err
	}
	y, err := o.Store.Yard(c.Request.Context(), id)
	if err == nil && y.FarmID != farm {
		err = fault.New(fault.NotFound, "There is no such yard.")
	}
	return y, err
}

func (o *office) yard(c *gin.Context) error {
	page, err := o.yardPage(c)
	if err != nil {
		return err
	}
	return o.showYard(c, http.StatusOK, page)
}

func (o *office) showYard(c *gin.Context, status int, page yardPage) error {
	page.Where = o.where(page.Form)
	return view.Render(c, status, pages, "yard", page)
}

func (o *office) saveYard(c *gin.Context) error {
	page, err := o.yardPage(c)
	if err != nil {
		return err
	}
	if page.Form, err = view.ReadForm(c); err != nil {
		return err
	}
	f := page.Form
	if do := f.Typed("do"); do != "" {
		nudge(f, do)
		return o.showYard(c, http.StatusOK, page)
	}
	y := booking.Yard{
		ID: page.Yard.ID, FarmID: page.Farm.ID, Name: f.Text("name"), At: positionOf(f), GateWidth: f.Float("gate_width", fault.Optional),
		TrainLength: f.Float("train_length", fault.Optional), Surface: booking.Surface(f.Text("surface")), Turning: f.Bool("turning"), Lights: f.Bool("lights"),
		Power: f.Bool("power"), Forks: f.Bool("forks"), Helper: f.Bool("helper"), Overnight: f.Bool("overnight"), Access: f.Text("access"), Version: f.Version(),
	}
	err = checkPlaced(f, y.Check(), "position")
	if err == nil && f.OK() {
		err = o.Store.SaveYard(c.Request.Context(), &y)
	}
	if err := f.Take(err); err != nil {
		return err
	}
	if !f.OK() {
		f.Meet(formOfYard(page.Yard), nil)
		return o.showYard(c, f.Status(), page)
	}
	session.Flash(c, "Saved "+y.Name+".")
	return view.See(c, "/farms/"+string(page.Farm.ID))
}
