package phone

import (
	"net/http"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/web/view"

	"github.com/gin-gonic/gin"
)

// kitPage is what to load for a visit, to tick off or to print.
type kitPage struct {
	Visit   booking.Visit
	Booking booking.Booking
	Farm    booking.Farm
	Yard    booking.Yard
	Kit     []view.KitLine
	Problem string // why there is no list
	Bring   []string
}

func (p *phone) kit(c *gin.Context) error {
	id, err := view.ID(c, "id")
	if err != nil {
		return err
	}
	v, err := p.Store.Visit(c.Request.Context(), id)
	if err != nil {
		return err
	}
	a, err := p.around(c.Request.Context(), v)
	if err != nil {
		return err
	}
	page := kitPage{Visit: v, Booking: a.booking, Farm: a.farm, Yard: a.yard, Bring: bring(a.booking, a.farm, a.yard, a.rig)}
	if page.Kit, page.Problem, err = p.kitOf(c, a); err != nil {
		return err
	}
	return view.Render(c, http.StatusOK, pages, "kit", page)
}

// kitOf is the kit list, or why there is none.
func (p *phone) kitOf(c *gin.Context, a around) (lines []view.KitLine, problem string, err error) {
	services, err := p.Store.Services(c.Request.Context())
	if err != nil {
		return nil, "", err
	}
	items, err := p.Planner.Kit(a.booking, a.farm, a.yard, a.rig, booking.ByCode(services))
	if fault.Is(err, fault.Invalid) {
		return nil, fault.Sentence(err), nil
	}
	return view.NewKit(items), "", err
}
