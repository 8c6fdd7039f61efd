package pace

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"drawbar/booking/say"
)

// driver is something that makes a visit longer, with the minutes it accounts
// for.
type driver struct {
	minutes float64
	words   func() string
}

// maxDrivers is how many are shown; smallDriver is the share of the whole below
// which a thing is not worth a sentence.
const (
	maxDrivers  = 3
	smallDriver = 0.05
)

// drivers are the things that account for most of the time, as sentences.
func (e *Estimate) drivers(j *Job, w *work) []string {
	all := make([]driver, 0, 16)
	all = e.siteDrivers(all, j)
	all = workDrivers(all, j, w)
	slices.SortStableFunc(all, func(a, b driver) int { return cmp.Compare(b.minutes, a.minutes) })
	var out []string
	for _, d := range all {
		if len(out) == maxDrivers || len(out) > 1 && d.minutes < smallDriver*e.Total.Mean.Minutes() {
			break
		}
		out = append(out, d.words())
	}
	return out
}

func (e *Estimate) siteDrivers(all []driver, j *Job) []driver {
	set, wash := e.Parts.SetUp.Minutes, e.Parts.WashDown.Minutes
	all = append(all, driver{set, func() string {
		return fmt.Sprintf("Setting up takes about %.0f min with %s.", set, say.People(j.Crew.People))
	}})
	if j.Setting.Hygiene > 1 {
		all = append(all, driver{wash, func() string {
			return fmt.Sprintf("The wash-down after this flock takes about %.0f min.", wash)
		}})
	}
	if changes := e.Parts.Changes.Minutes; changes > 0 {
		all = append(all, driver{changes, func() string {
			return fmt.Sprintf("Changing between %d mobs and setting the walls %s takes about %.0f min.", len(j.Mobs), times(e.WallChanges), changes)
		}})
	}
	return all
}

// workDrivers names the service that takes most, and what slows this work.
func workDrivers(all []driver, j *Job, w *work) []driver {
	total := w.log.Mean()
	top := 0
	for k := range services {
		if w.total.lean[k] > w.total.lean[top] {
			top = k
		}
	}
	share := w.total.lean[top]
	all = append(all, driver{share * total, func() string {
		return fmt.Sprintf("%s takes %.0f %% of the time at the crate.", services[top].Name, 100*share)
	}})
	if push := w.total.lean[keyPush]; !w.cross[0].way.pusher {
		all = append(all, driver{push * total, func() string {
			return fmt.Sprintf("Nobody pushes up while the crate works: filling the race takes about %.0f min.", push*total)
		}})
	}
	for i := range j.Mobs {
		all = mobDrivers(all, &j.Mobs[i], j.Rig.CalmPanel, w.mobs[i].mean/w.total.mean*total)
	}
	return all
}

func mobDrivers(all []driver, m *Mob, calm bool, minutes float64) []driver {
	add := func(share float64, format string) {
		if share > 0 {
			all = append(all, driver{share * minutes, func() string {
				return fmt.Sprintf(format, m.named(), share*minutes)
			}})
		}
	}
	if m.NewToCrate {
		add(1-float64(m.Head)/m.heads(calm), "The %s are new to the crate and start slowly: about %.0f min more.")
	}
	if m.Horned {
		add(1-1/hornedFactor, "The %s have horns: about %.0f min more.")
	}
	if m.FullWool {
		add(1-1/fullWoolFactor, "The %s are in full wool: about %.0f min more.")
	}
	if m.AsTheyCome {
		add(1-1/m.looseShare(), "The %s come in mixed sizes: about %.0f min more than drafted by size.")
	}
	return all
}

func (m *Mob) named() string {
	if m.Class == Ewe && m.LambsAtFoot {
		return "ewes with lambs"
	}
	if m.Class == Buck || m.Class == Doe {
		return strings.ToLower(string(m.Class)) + "s"
	}
	return string(m.Class) + "s"
}

func times(n int) string {
	if n == 1 {
		return "once"
	}
	return fmt.Sprintf("%d times", n)
}
