package farmer

import (
	"fmt"
	"strconv"
	"strings"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/web/view"

	"github.com/paulmach/orb"
)

// Entries of a mob and of a window, as the form names them.
var (
	mobEntries    = []string{"class", "head", "services", "mixed", "horned", "wool", "new", "at_foot", "males_in", "males_out", "heaviest"}
	windowEntries = []string{"from", "to", "part"}
)

// rows of a kind ("mob", "window") that the form holds, at least one.
func rows(form *view.Form, kind string, most int) int {
	n, err := strconv.Atoi(form.Typed(kind + "s"))
	if err != nil || n < 1 {
		return 1
	}
	return min(n, most)
}

// name of an entry: "mob.0.head".
func name(kind string, i int, entry string) string { return fmt.Sprintf("%s.%d.%s", kind, i, entry) }

// edit adds or takes out a row when one of the form's small buttons was
// pressed; it tells whether one was.
func edit(form *view.Form) bool {
	action := form.Typed("do")
	for kind, most := range map[string]int{"mob": booking.MaxMobs, "window": booking.MaxWindows} {
		n := rows(form, kind, most)
		if action == "add-"+kind {
			form.Set(kind+"s", min(n+1, most))
			return true
		}
		if i, found := strings.CutPrefix(action, "drop-"+kind+"-"); found {
			dropRow(form, kind, i, n)
			return true
		}
	}
	return action == "again"
}

// dropRow takes row i out and moves the later ones up.
func dropRow(form *view.Form, kind, index string, n int) {
	i, err := strconv.Atoi(index)
	if err != nil || i < 0 || i >= n || n == 1 {
		return
	}
	entries := mobEntries
	if kind == "window" {
		entries = windowEntries
	}
	for ; i < n; i++ {
		for _, e := range entries {
			form.Set(name(kind, i, e), form.Texts(name(kind, i+1, e)))
		}
	}
	form.Set(kind+"s", n-1)
}

// mobsOf reads the mobs.
func mobsOf(form *view.Form) []booking.Mob {
	var mobs []booking.Mob
	for i := range rows(form, "mob", booking.MaxMobs) {
		at := func(entry string) string { return name("mob", i, entry) }
		mob := booking.Mob{
			Class: booking.Class(form.Text(at("class"))), Head: form.Int(at("head"), fault.Optional), Services: form.Texts(at("services")),
			MixedSizes: form.Bool(at("mixed")), Horned: form.Bool(at("horned")), FullWool: form.Bool(at("wool")),
			NewToCrate: form.Bool(at("new")), AtFoot: form.Bool(at("at_foot")),
			MalesIn: form.Date(at("males_in"), fault.Optional), MalesOut: form.Date(at("males_out"), fault.Optional),
		}
		if kg := form.Float(at("heaviest"), fault.Optional); kg != 0 {
			mob.Weights = []booking.WeightClass{{Head: mob.Head, Kg: kg}}
		}
		mobs = append(mobs, mob)
	}
	return mobs
}

// windowsOf reads when it suits.
func windowsOf(form *view.Form) []booking.Window {
	var windows []booking.Window
	for i := range rows(form, "window", booking.MaxWindows) {
		at := func(entry string) string { return name("window", i, entry) }
		windows = append(windows, booking.Window{
			From: form.Date(at("from"), fault.Optional), To: form.Date(at("to"), fault.Optional), Part: booking.DayPart(form.Text(at("part"))),
		})
	}
	return windows
}

func farmOf(form *view.Form) booking.Farm {
	return booking.Farm{
		Name: form.Text("farm.name"), Contact: form.Text("farm.contact"), Email: form.Text("farm.email"),
		Phone: form.Text("farm.phone"), Hygiene: booking.Unknown,
	}
}

func yardOf(form *view.Form) booking.Yard {
	return booking.Yard{
		Name: form.Text("yard.name"), At: orb.Point{form.Float("yard.lon", fault.Required), form.Float("yard.lat", fault.Required)},
		GateWidth: form.Float("yard.gate_width", fault.Optional), Surface: booking.Surface(form.Text("yard.surface")),
		Turning: form.Bool("yard.turning"), Lights: form.Bool("yard.lights"), Power: form.Bool("yard.power"), Forks: form.Bool("yard.forks"),
		Helper: form.Bool("yard.helper"), Overnight: form.Bool("yard.overnight"), Access: form.Text("yard.access"),
	}
}

// fill puts a booking's mobs and windows into the form.
func fill(form *view.Form, mobs []booking.Mob, windows []booking.Window) {
	form.Set("mobs", max(len(mobs), 1))
	for i, m := range mobs {
		for entry, value := range map[string]any{
			"class": m.Class, "head": m.Head, "services": m.Services, "mixed": m.MixedSizes, "horned": m.Horned,
			"wool": m.FullWool, "new": m.NewToCrate, "at_foot": m.AtFoot,
		} {
			form.Set(name("mob", i, entry), value)
		}
		if kg := m.Heaviest(); kg > 0 {
			form.Set(name("mob", i, "heaviest"), kg)
		}
		if m.MalesIn.IsValid() {
			form.Set(name("mob", i, "males_in"), m.MalesIn)
		}
		if m.MalesOut.IsValid() {
			form.Set(name("mob", i, "males_out"), m.MalesOut)
		}
	}
	form.Set("windows", max(len(windows), 1))
	for i, w := range windows {
		form.Set(name("window", i, "from"), w.From)
		form.Set(name("window", i, "to"), w.To)
		form.Set(name("window", i, "part"), w.Part)
	}
}
