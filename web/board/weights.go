package board

import (
	"fmt"
	"strconv"
	"strings"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/web/session"
	"drawbar/web/view"

	"github.com/gin-gonic/gin"
)

// weighing is the form of one mob's weight classes.
type weighing struct {
	booking.Mob
	Index int
}

// Name of all the mob's classes together.
func (w weighing) Name() string { return fmt.Sprintf("mob.%d.weights", w.Index) }

// Field is the entry of a class's head.
func (w weighing) Field(class int) string { return fmt.Sprintf("mob.%d.class.%d.head", w.Index, class) }

// Kilos is the entry of the weight of a class's heaviest.
func (w weighing) Kilos(class int) string {
	return fmt.Sprintf("mob.%d.class.%d.heaviest", w.Index, class)
}

// Classes are the rows of the form.
func (weighing) Classes() []int { return []int{0, 1, 2} }

// Number of a class, as people count.
func (weighing) Number(class int) int { return class + 1 }

// Weighings are the mobs whose weight classes can be told.
func (p bookingPage) Weighings() []weighing {
	all := make([]weighing, len(p.Booking.Mobs))
	for i, m := range p.Booking.Mobs {
		all[i] = weighing{m, i}
	}
	return all
}

// weightsForm shows the classes that are stored.
func weightsForm(b booking.Booking) *view.Form {
	f := view.NewForm("version", b.Version)
	for i, m := range b.Mobs {
		w := weighing{m, i}
		for class, c := range m.Weights {
			f.Set(w.Field(class), c.Head)
			f.Set(w.Kilos(class), strconv.FormatFloat(c.Kg, 'f', -1, 64))
		}
	}
	return f
}

// bookingWeigh takes the weight classes of the mobs in.
func (b *board) bookingWeigh(c *gin.Context) error {
	page, err := b.bookingPage(c)
	if err != nil {
		return err
	}
	if page.Weights, err = view.ReadForm(c); err != nil {
		return err
	}
	classes := classesOf(page.Weights, page.Booking.Mobs)
	if page.Weights.OK() {
		err := b.Desk.Weigh(c.Request.Context(), page.Booking.ID, page.Weights.Version(), classes)
		if err := page.Weights.Take(err); err != nil {
			return err
		}
	}
	if !page.Weights.OK() {
		return b.showBooking(c, page.Weights.Status(), page)
	}
	session.Flash(c, "Kept. Doses and walls follow these classes; a visit keeps its length until it is planned again.")
	return view.See(c, "/bookings/"+string(page.Booking.ID))
}

// classesOf reads the classes of each mob; rows left empty are none.
func classesOf(f *view.Form, mobs []booking.Mob) [][]booking.WeightClass {
	all := make([][]booking.WeightClass, len(mobs))
	for i, m := range mobs {
		w := weighing{m, i}
		for _, class := range w.Classes() {
			if strings.TrimSpace(f.Typed(w.Field(class))+f.Typed(w.Kilos(class))) == "" {
				continue
			}
			all[i] = append(all[i], booking.WeightClass{Head: f.Int(w.Field(class), fault.Required), Kg: f.Float(w.Kilos(class), fault.Required)})
		}
	}
	return all
}
