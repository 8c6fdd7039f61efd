package main

import (
	"math"
	"testing"

	"drawbar/booking"
	"drawbar/routing"
	"drawbar/web/webtest"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/paulmach/orb"
)

// The office drags a gate on the map: the road it is reached from is told, the
// yard is stored where the mark was dropped, and the same goes by buttons.
func TestDraggingAGate(t *testing.T) {
	app := demoApp(t)
	page := webtest.Start(t).Page(webtest.Desktop)
	enter(t, app, page, booking.Owner)
	yards, err := app.Store.Yards(t.Context(), "")
	check(t, err)
	yard := yards[0]
	path := app.Config.URL + "/farms/" + string(yard.FarmID) + "/yards/" + string(yard.ID)
	page.Go(path)
	page.WaitText("Reached from")
	page.Axe()

	before := page.Value("Latitude")
	page.Click("button", "25 m north")
	page.Wait(`document.getElementById("f-lat").value !== "` + before + `"`)
	north := at(page)
	if moved := routing.GreatCircle(yard.At, north); math.Abs(moved-25) > 0.5 || north.Lat() <= yard.At.Lat() {
		t.Errorf("25 m north is %.1f m away, from %v to %v", moved, yard.At, north)
	}

	// The picture shows its width in degrees as the page says; 90 px of it east.
	type frame struct{ X, Y, East float64 }
	f := webtest.Eval[frame](page, `(() => {
		const frame = document.querySelector("[data-drag]"), mark = frame.querySelector("circle").getBoundingClientRect();
		const wide = frame.querySelector("svg").getBoundingClientRect().width, { west, east } = frame.dataset;
		return { X: mark.x + mark.width / 2, Y: mark.y + mark.height / 2, East: (east - west) / wide * 90 };
	})()`)
	before = page.Value("Longitude")
	page.Do("dragging the gate",
		chromedp.MouseEvent(input.DispatchMouseEventTypeMousePressed, f.X, f.Y, chromedp.ButtonLeft),
		chromedp.MouseEvent(input.DispatchMouseEventTypeMouseMoved, f.X+50, f.Y, chromedp.ButtonLeft),
		chromedp.MouseEvent(input.DispatchMouseEventTypeMouseMoved, f.X+90, f.Y, chromedp.ButtonLeft),
		chromedp.MouseEvent(input.DispatchMouseEventTypeMouseReleased, f.X+90, f.Y, chromedp.ButtonLeft))
	page.Wait(`document.getElementById("f-lon").value !== "` + before + `"`)
	east := at(page)
	if off := routing.GreatCircle(orb.Point{north.Lon() + f.East, north.Lat()}, east); off > 2 {
		t.Errorf("dropped at %v, %.1f m off", east, off)
	}
	page.Follow("button", "Save")
	stored, err := app.Store.Yard(t.Context(), yard.ID)
	check(t, err)
	if stored.At != east {
		t.Errorf("stored %v, dropped at %v", stored.At, east)
	}
}

// at is the position in the form.
func at(page *webtest.Page) orb.Point {
	return webtest.Eval[orb.Point](page, `["lon", "lat"].map((d) => Number(document.getElementById("f-" + d).value))`)
}

// A yard that no road leads to says so where it is kept and on its farm, and
// that its drives are estimates.
func TestAYardOutInTheBay(t *testing.T) {
	app := demoApp(t)
	yards, err := app.Store.Yards(t.Context(), "")
	check(t, err)
	yard := yards[0]
	yard.At = orb.Point{-75.2, 39.1} // open water of the Delaware Bay
	check(t, app.Store.SaveYard(t.Context(), &yard))
	page := webtest.Start(t).Page(webtest.Phone)
	enter(t, app, page, booking.Owner)
	farm := app.Config.URL + "/farms/" + string(yard.FarmID)
	for _, path := range []string{farm, farm + "/yards/" + string(yard.ID)} {
		page.Go(path)
		page.WaitText("No road for cars within 2 km")
		page.WaitText("estimates")
		page.InBothThemes("bay")
	}
}
