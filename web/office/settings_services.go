package office

import (
	"net/http"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/web/session"
	"drawbar/web/view"

	"github.com/gin-gonic/gin"
)

// servicesPage edits what is on offer, one form a service.
type servicesPage struct {
	Services []serviceForm
	Skills   []view.Option
}

type serviceForm struct {
	booking.Service
	Form   *view.Form
	Skills []view.Option
}

func (o *office) services(c *gin.Context) error {
	page, err := o.servicesPage(c)
	if err != nil {
		return err
	}
	return view.Render(c, http.StatusOK, pages, "services", page)
}

func (o *office) servicesPage(c *gin.Context) (page servicesPage, err error) {
	services, err := o.Store.Services(c.Request.Context())
	page.Skills = append([]view.Option{{Label: "nobody special"}}, view.Options(booking.Skills, func(s booking.Skill) string { return "somebody who does " + skillWords(s) })...)
	for _, s := range services {
		page.Services = append(page.Services, serviceForm{s, formOfService(s), page.Skills})
	}
	return page, err
}

func formOfService(s booking.Service) *view.Form {
	return view.NewForm("name", s.Name, "side_tilt", s.SideTilt, "weigh_bars", s.WeighBars, "tag_reader", s.TagReader, "sort_gates", s.SortGates,
		"skill", s.Skill, "scanning", s.Scanning, "advice", s.Advice, "offered", s.Offered, "position", s.Position, "version", s.Version)
}

func (o *office) saveService(c *gin.Context) error {
	page, err := o.servicesPage(c)
	if err != nil {
		return err
	}
	for i := range page.Services {
		if page.Services[i].Code == c.Param("code") {
			return o.changeService(c, page, &page.Services[i])
		}
	}
	return fault.New(fault.NotFound, "There is no such service.")
}

func (o *office) changeService(c *gin.Context, page servicesPage, at *serviceForm) (err error) {
	if at.Form, err = view.ReadForm(c); err != nil {
		return err
	}
	f := at.Form
	s := booking.Service{
		Code: at.Code, Name: f.Text("name"), SideTilt: f.Bool("side_tilt"), WeighBars: f.Bool("weigh_bars"), TagReader: f.Bool("tag_reader"),
		SortGates: f.Int("sort_gates", fault.Optional), Skill: booking.Skill(f.Text("skill")), Scanning: f.Bool("scanning"), Advice: f.Text("advice"),
		Offered: f.Bool("offered"), Position: f.Int("position", fault.Optional), Version: f.Version(),
	}
	if f.OK() {
		err := s.Check()
		if err == nil {
			err = o.Store.SaveService(c.Request.Context(), &s)
		}
		if err := f.Take(err); err != nil {
			return err
		}
	}
	if !f.OK() {
		return view.Render(c, f.Status(), pages, "services", page)
	}
	session.Flash(c, "Saved "+s.Name+".")
	return view.See(c, "/settings/services")
}
