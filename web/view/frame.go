package view

import (
	"slices"
	"strings"
	"time"

	"drawbar/booking"

	"github.com/gin-gonic/gin"
)

// Frame is what every page shows around its own matter.
type Frame struct {
	Business booking.Business // zero before set-up
	Person   booking.Person   // zero when nobody is signed in
	Farm     booking.Farm     // zero unless a farmer came through a link
	Flash    string           // said once, after something was done
	Credit   string           // of the road data; "" where drives are estimates
}

const frameKey = "drawbar/view.frame"

// SetFrame says how to get the frame of the request's page. It is called at
// most once a page, when one is rendered.
func SetFrame(c *gin.Context, load func(*gin.Context) (Frame, error)) { c.Set(frameKey, load) }

func frameOf(c *gin.Context) (Frame, error) {
	load, ok := c.Value(frameKey).(func(*gin.Context) (Frame, error))
	if !ok {
		return Frame{}, nil
	}
	return load(c)
}

// Signed tells whether a person is signed in.
func (f Frame) Signed() bool { return f.Person.ID != "" }

// Clock is the time of day in the business's zone: "7:24".
func (f Frame) Clock(t time.Time) string { return Clock(t, f.Business.Location()) }

// When is day and time in the business's zone: "Mon 8 March, 7:24".
func (f Frame) When(t time.Time) string { return When(t, f.Business.Location()) }

// Money is an amount in the business's currency, from its minor units.
func (f Frame) Money(minor int64) string { return Money(minor, f.Business.Currency) }

// place is an entry of the navigation.
type place struct {
	Name, Path string
	Here       bool
}

var (
	officePlaces = []place{
		{Name: "Week", Path: "/week"}, {Name: "Bookings", Path: "/bookings"}, {Name: "Farms", Path: "/farms"},
		{Name: "Dockets", Path: "/dockets"}, {Name: "Money", Path: "/money"},
	}
	// The owner of a small business goes with a rig as well.
	ownerPlaces    = slices.Concat(officePlaces[:1], operatorPlaces, officePlaces[1:], []place{{Name: "Settings", Path: "/settings"}})
	operatorPlaces = []place{{Name: "Today", Path: "/today"}}
	placesOf       = map[booking.Role][]place{booking.Owner: ownerPlaces, booking.Office: officePlaces, booking.Operator: operatorPlaces}
)

// Places are where the reader may go, with the present one marked.
func (p Page) Places() []place {
	all := placesOf[p.Person.Role]
	marked := make([]place, len(all))
	for i, to := range all {
		to.Here = p.Path == to.Path || strings.HasPrefix(p.Path, to.Path+"/")
		marked[i] = to
	}
	return marked
}

// Home is where the name at the top leads.
func (f Frame) Home() string { return Home(f.Person.Role) }

// Home is the first page of a role, the front page for none.
func Home(role booking.Role) string {
	if all := placesOf[role]; len(all) > 0 {
		return all[0].Path
	}
	return "/"
}
