package schedule_test

import (
	"strings"
	"testing"

	"drawbar/booking"
	"drawbar/booking/sample"

	"github.com/paulmach/orb"
)

// Two days at a yard more than two hours away: a crew that may lodge does, for
// a night costs less than driving home and back; one that may not drives, and
// nobody lodges where home is near.
func TestCrewsLodgeWhereThatIsCheaper(t *testing.T) {
	usual := booking.UsualRunning.Lodging
	far, near := orb.Point{-77.2, 38.3}, orb.Point{-75.45, 38.75}
	for name, c := range map[string]struct {
		lodges bool
		at     orb.Point
		night  int64 // what lodging costs this business, in minor units
		want   bool
	}{"far, may": {true, far, usual, true}, "far, may not": {false, far, usual, false}, "near, may": {true, near, usual, false}, "far, may, but dear": {true, far, 200 * usual, false}} {
		t.Run(name, func(t *testing.T) {
			b := newBench(t)
			business := sample.Business()
			business.Version, business.Running = 1, booking.UsualRunning
			business.Running.Lodging = c.night
			b.must(b.store.SaveBusiness(t.Context(), &business))
			b.rig.Lodges = c.lodges
			b.must(b.store.SaveRig(t.Context(), &b.rig))
			b.asked(700, func(_ *booking.Farm, y *booking.Yard, k *booking.Booking) {
				y.At, k.Mobs[0].Services = c.at, []string{"foot-check", "drench"}
			})
			b.applied()
			nights := 0
			for _, d := range b.week().Days {
				for _, r := range d.Rounds {
					if len(r.Stops) == 0 || r.Sleeps == "home" {
						continue
					}
					nights++
					if got := strings.HasSuffix(r.Sleeps, ", crew lodges"); got != c.want || r.Stops[0].Visit.Lodged != c.want {
						t.Errorf("%s: %s", d.Date, r.Sleeps)
					}
					for _, l := range r.Legs {
						if l.Solo && c.want {
							t.Errorf("%s: lodging and yet driving %+v", d.Date, l)
						}
					}
				}
			}
			if nights == 0 {
				t.Error("the rig never stayed")
			}
			if _, _, misfits, err := b.planner.AsPlaced(t.Context(), b.week().From, 7); err != nil || len(misfits) > 0 {
				t.Errorf("stored, it does not hold: %v, %v", misfits, err)
			}
		})
	}
}
