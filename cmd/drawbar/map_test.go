package main

import (
	"bytes"
	"image"
	_ "image/png"
	"testing"

	"drawbar/booking"
	"drawbar/web/webtest"

	"github.com/chromedp/chromedp"
)

// drawnInTheme is true when the map is drawn in the colours of the page.
const drawnInTheme = `document.querySelector("[data-map] canvas") &&
	document.querySelector("[data-map]").dataset.ready === getComputedStyle(document.documentElement).getPropertyValue("--card").trim()`

// In a browser with WebGL the map is drawn there, of tiles from here, under
// the content security policy and without asking anybody else (webtest's watch
// reports both). Its drives have the colours of the rigs.
func TestMapDrawnByTheBrowser(t *testing.T) {
	app := demoApp(t)
	browser := webtest.StartWithWebGL(t)
	for size, view := range map[string]webtest.View{"wide": webtest.Desktop, "phone": webtest.Phone} {
		t.Run(size, func(t *testing.T) {
			page := browser.Page(view)
			enter(t, app, page, booking.Owner)
			for name, path := range map[string]string{"week": "/week", "map": "/week/" + weekWithVisits(t, app) + "/map"} {
				page.Go(app.Config.URL + path)
				for _, theme := range []struct {
					name string
					dark bool
				}{{"-dark", true}, {"", false}} {
					page.Dark(theme.dark)
					page.Wait(drawnInTheme)
					page.Axe()
					page.Fits()
					page.Screenshot(name + "-drawn-" + size + theme.name)
					page.Wait(drawnInTheme)
				}
				if n := inked(t, page, "#355540"); n < 100 {
					t.Errorf("%s: the first rig's drives take up %d pixels", name, n)
				}
				// --edge at 55 % on --card: only tiles bring roads.
				if n := inked(t, page, "#b8b4a9"); n < 100 {
					t.Errorf("%s: roads take up %d pixels", name, n)
				}
			}
		})
	}
}

// inked counts the pixels of the map that have a colour or nearly so.
func inked(t *testing.T, page *webtest.Page, colour string) int {
	t.Helper()
	page.Do("looking at the map", chromedp.ScrollIntoView(".map-frame"))
	shot := webtest.Run(page, "taking a picture", chromedp.Screenshot(".map-frame"))
	picture, _, err := image.Decode(bytes.NewReader(shot))
	check(t, err)
	want := webtest.Eval[[]int](page, `[1, 3, 5].map((i) => parseInt("`+colour+`".slice(i, i + 2), 16))`)
	n := 0
	for y := picture.Bounds().Min.Y; y < picture.Bounds().Max.Y; y++ {
		for x := picture.Bounds().Min.X; x < picture.Bounds().Max.X; x++ {
			r, g, b, _ := picture.At(x, y).RGBA()
			if near(int(r>>8), want[0]) && near(int(g>>8), want[1]) && near(int(b>>8), want[2]) {
				n++
			}
		}
	}
	return n
}

func near(a, b int) bool { return a-b < 12 && b-a < 12 }

// Without WebGL the server's picture shows the same, and the library is not
// even fetched; it is there without any script as well.
func TestMapWithoutWebGL(t *testing.T) {
	app := demoApp(t)
	page := webtest.Start(t).Page(webtest.Desktop)
	enter(t, app, page, booking.Owner)
	page.Go(app.Config.URL + "/week/" + weekWithVisits(t, app) + "/map")
	if webtest.Eval[bool](page, `Boolean(document.createElement("canvas").getContext("webgl2"))`) {
		t.Fatal("this browser has WebGL")
	}
	if n := webtest.Eval[int](page, `performance.getEntriesByType("resource").filter((r) => r.name.includes("maplibre-gl.mjs")).length`); n > 0 {
		t.Error("the library was fetched")
	}
	if n := inked(t, page, "#355540"); n < 100 {
		t.Errorf("the first rig's drives take up %d pixels", n)
	}
	page.WaitText("© OpenStreetMap contributors")
}

// weekWithVisits is the week of the first visit that is not done yet.
func weekWithVisits(t *testing.T, app *App) string {
	t.Helper()
	visits, err := app.Store.Visits(t.Context(), booking.VisitQuery{States: []booking.VisitState{booking.Pencilled, booking.Fixed}})
	check(t, err)
	return isoWeekOf(visits[0])
}
