package main

import (
	"context"
	"fmt"
	"net"
	"strings"
	"testing"
	"time"

	"drawbar/billing"
	"drawbar/booking"
	"drawbar/cmd/drawbar/demo"
	"drawbar/jobs"
	"drawbar/migrations/db"
	"drawbar/migrations/dbtest"
	"drawbar/web/webtest"
)

// screen is a page of the demo, as somebody sees it.
type screen struct {
	name, path string
	who        booking.Role // "" for nobody
}

// TestScreens opens every screen of the running demo at both sizes, in light
// and dark: nothing sticks out sideways, and axe-core finds nothing. With
// DRAWBAR_SHOTS set it leaves pictures, of which README.md shows some.
func TestScreens(t *testing.T) {
	app := demoApp(t)
	browser := webtest.Start(t)
	all := screens(t, app)
	for _, who := range []booking.Role{"", booking.Owner, booking.Operator} {
		for size, view := range map[string]webtest.View{"wide": webtest.Desktop, "phone": webtest.Phone} {
			t.Run(string(who)+" "+size, func(t *testing.T) {
				page := browser.Page(view)
				enter(t, app, page, who)
				for _, s := range all {
					if s.who == who {
						look(t, page, app.Config.URL+s.path, s.name+"-"+size)
					}
				}
				if who == booking.Owner {
					lookAtPlan(page, app, size)
				}
			})
		}
	}
}

// demoApp serves the demo until the test ends.
func demoApp(t *testing.T) *App {
	d := dbtest.SQLite(t)
	loadedDemo(t, d)
	return newStoryApp(t, d, (*App).ServeAndWork)
}

// loadedDemo fills a database with the demo.
func loadedDemo(t *testing.T, d *db.DB) {
	t.Helper()
	clock := demo.NewClock(time.Now().UTC())
	loader, err := Open(t.Context(), Config{Database: d.DSN(), Roads: demoRoads, URL: "http://drawbar.test", Mail: t.TempDir(), MailFrom: "post@machine.example"}, clock.Now, quietLog)
	if err != nil {
		t.Fatal(err)
	}
	err = demo.Load(t.Context(), demo.Parts{Store: loader.Store, Desk: loader.Desk, Planner: loader.Planner, Jobs: loader.Jobs, Biller: loader.Biller, Clock: clock})
	if err != nil {
		t.Fatal(err)
	}
	check(t, loader.Teacher.Teach(t.Context()))
	if err := loader.Close(); err != nil {
		t.Fatal(err)
	}
}

// newStoryApp serves a database that is ready.
func newStoryApp(t *testing.T, d *db.DB, serve func(*App, context.Context, net.Listener) error) *App {
	listener, err := listen("127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	config := Config{Database: d.DSN(), Roads: demoRoads, URL: "http://" + listener.Addr().String(), Mail: t.TempDir(), MailFrom: "post@machine.example"}
	app, err := Open(context.Background(), config, time.Now, quietLog)
	if err != nil {
		t.Fatal(err)
	}
	s := &story{t: t, app: app}
	s.serve(listener, serve)
	return app
}

// screens are the pages to look at.
func screens(t *testing.T, app *App) []screen {
	ctx := t.Context()
	dockets, err := app.Jobs.SignedDockets(ctx, jobs.DocketQuery{})
	check(t, err)
	accounts, err := app.Biller.Store.Accounts(ctx, billing.AccountQuery{Open: true})
	check(t, err)
	visits, err := app.Store.Visits(ctx, booking.VisitQuery{States: []booking.VisitState{booking.Pencilled, booking.Fixed}})
	check(t, err)
	agreed, err := app.Store.Bookings(ctx, booking.BookingQuery{States: []booking.State{booking.Agreed}})
	check(t, err)
	waiting, err := app.Store.Bookings(ctx, booking.BookingQuery{States: []booking.State{booking.Asked}})
	check(t, err)
	link, err := app.Desk.OpenBookingLink(ctx, agreed[0])
	check(t, err)
	own := strings.TrimPrefix(link, app.Config.URL)
	choosing, err := choosing(ctx, app)
	check(t, err)
	link, err = app.Desk.OpenBookingLink(ctx, choosing[0])
	check(t, err)
	choose := strings.TrimPrefix(link, app.Config.URL)
	day := visits[0].Day.String()
	docket, account := dockets[len(dockets)-1], accounts[0]
	people, err := app.Store.People(ctx)
	check(t, err)
	people[0].Away = []booking.Away{{From: visits[0].Day.AddDays(90), To: visits[0].Day.AddDays(97), Reason: "leave"}}
	check(t, app.Store.SavePerson(ctx, &people[0]))
	return []screen{
		{"front", "/", ""}, {"book", "/book", ""}, {"booking-link", own, ""}, {"choose", choose, ""}, {"change", own + "/change", ""}, {"withdraw", own + "/withdraw", ""}, {"sign-in", "/sign-in", ""},
		{"week", "/week", booking.Owner}, {"map", "/week/" + isoWeekOf(visits[0]) + "/map", booking.Owner}, {"run-sheets", "/week/" + isoWeekOf(visits[0]) + "/print", booking.Owner},
		{"visit", "/board/visits/" + string(visits[len(visits)-1].ID), booking.Owner}, {"visit-why", "/board/visits/" + string(visits[len(visits)-1].ID) + "/why", booking.Owner},
		{"trouble", "/board/days/" + visits[1].Day.String(), booking.Owner}, {"what-if", "/board/visits/" + string(visits[len(visits)-1].ID) + "/what-if", booking.Owner},
		{"kit", "/visits/" + string(visits[len(visits)-1].ID) + "/kit", booking.Owner}, {"service-product", "/settings/services/drench", booking.Owner}, {"bookings", "/bookings", booking.Owner},
		{"booking", "/bookings/" + string(waiting[len(waiting)-1].ID), booking.Owner}, {"changes", "/changes", booking.Owner},
		{"dockets", "/dockets", booking.Owner}, {"docket", "/dockets/" + string(docket.ID), booking.Owner},
		{"money", "/money", booking.Owner}, {"month", "/money/month/" + billing.MonthOf(docket.Day).String(), booking.Owner},
		{"invoice", "/money/invoices/" + string(account.Invoice.ID), booking.Owner}, {"prices", "/money/prices", booking.Owner}, {"waive", "/money/dockets/" + string(docket.ID) + "/waive", booking.Owner},
		{"farms", "/farms", booking.Owner}, {"farm", "/farms/" + string(docket.FarmID), booking.Owner},
		{"settings", "/settings", booking.Owner}, {"people", "/settings/people", booking.Owner}, {"rigs", "/settings/rigs", booking.Owner}, {"services", "/settings/services", booking.Owner}, {"times", "/settings/times", booking.Owner}, {"costs", "/settings/costs", booking.Owner}, {"time", "/settings/times/scan/all", booking.Owner},
		{"person", "/settings/people/" + string(people[0].ID), booking.Owner}, {"rig", "/settings/rigs/" + string(visits[0].RigID), booking.Owner}, {"service", "/settings/services/scan", booking.Owner},
		{"new-farm", "/farms/new", booking.Owner}, {"yard", "/farms/" + string(docket.FarmID) + "/yards/new", booking.Owner},
		{"today", "/today?day=" + day, booking.Operator}, {"phone", "/visits/" + string(visits[0].ID), booking.Operator}, {"account", "/account", booking.Operator},
	}
}

func isoWeekOf(v booking.Visit) string {
	year, week := v.Day.In(time.UTC).ISOWeek()
	return fmt.Sprintf("%04d-W%02d", year, week)
}

func check(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// enter signs somebody of the role in.
func enter(t *testing.T, app *App, page *webtest.Page, who booking.Role) {
	if who == "" {
		return
	}
	people, err := app.Store.People(t.Context())
	check(t, err)
	for _, p := range people {
		if p.Role == who {
			link, err := app.Desk.SignInLink(t.Context(), p)
			check(t, err)
			page.Go(link)
			page.Follow("button", "Sign in as "+p.Name)
			return
		}
	}
	t.Fatalf("nobody is %s", who)
}

// look opens a page in both themes.
func look(t *testing.T, page *webtest.Page, address, name string) {
	if status := page.Go(address); status != 200 {
		t.Errorf("%s answers %d", address, status)
	}
	page.InBothThemes(name)
}

// lookAtPlan shows what planning the week would change, and the list of plans.
func lookAtPlan(page *webtest.Page, app *App, size string) {
	page.Go(app.Config.URL + "/week")
	page.Follow("link", "Week after")
	page.Follow("button", "Plan this week")
	page.WaitText("ways tried")
	page.InBothThemes("plan-" + size)
	page.Go(app.Config.URL + "/board/plans")
	page.InBothThemes("plans-" + size)
	page.Go(app.Config.URL + "/week")
	page.Follow("link", "Week after")
	page.Go(webtest.Eval[string](page, `document.querySelector(".date a").href`))
	page.Follow("button", "Find the smallest change")
	page.WaitText("ways tried")
	page.InBothThemes("mended-" + size)
}
