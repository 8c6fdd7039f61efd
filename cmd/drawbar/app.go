package main

import (
	"context"
	"errors"
	"log/slog"
	"net/http"
	"strings"
	"time"

	"drawbar/billing"
	"drawbar/billing/document"
	billstore "drawbar/billing/store"
	"drawbar/booking"
	"drawbar/booking/notice"
	"drawbar/booking/pace"
	"drawbar/booking/schedule"
	"drawbar/booking/store"
	"drawbar/jobs/lesson"
	"drawbar/jobs/report"
	jobstore "drawbar/jobs/store"
	"drawbar/migrations"
	"drawbar/migrations/db"
	"drawbar/routing/road"
	"drawbar/web"
)

// App is the program put together on one database. Tests start it too.
type App struct {
	Config  Config
	DB      *db.DB
	Store   *store.Store
	Desk    *booking.Desk
	Jobs    *jobstore.Store
	Biller  billing.Biller
	Planner *schedule.Planner
	Teacher *lesson.Teacher
	Now     func() time.Time
	Log     *slog.Logger
	work    *background
	roads   *road.Map // nil without imported roads
}

// Open opens the database and puts the parts together. The schema has to be
// up to date; see migrations.Check.
func Open(ctx context.Context, config Config, now func() time.Time, log *slog.Logger) (*App, error) {
	d, err := db.Open(ctx, config.Database)
	if err != nil {
		return nil, err
	}
	a := &App{Config: config, DB: d, Now: now, Log: log}
	if err := a.assemble(ctx); err != nil {
		return nil, errors.Join(err, d.Close())
	}
	return a, nil
}

func (a *App) assemble(ctx context.Context) error {
	if err := migrations.Check(ctx, a.DB); err != nil {
		return err
	}
	sender, err := notice.Open(a.Config.Mail)
	if err != nil {
		return err
	}
	model, err := pace.NewModel(pace.DefaultPriors(), nil)
	if err != nil {
		return err
	}
	if a.roads, err = a.Config.roadMap(); err != nil {
		return err
	}
	a.work = newBackground(a.DB, a.Now, a.Log)
	a.Store = store.New(a.DB, a.Now, a.work.wakers())
	a.Desk = &booking.Desk{Store: a.Store, Now: a.Now, Site: strings.TrimSuffix(a.Config.URL, "/")}
	a.Planner = schedule.New(a.Store, roadsOf(a.roads), model, a.Now)
	a.Planner.Desk = a.Desk
	a.Jobs = jobstore.New(a.DB, a.Now)
	a.Planner.Reports = report.Reports{Dockets: a.Jobs}
	a.Teacher = &lesson.Teacher{Trade: a.Store, Dockets: a.Jobs, Current: a.Planner.Pace, Now: a.Now}
	a.work.teacher = a.Teacher
	if err := a.work.prepare(a.Store, sender, a.Config.MailFrom, a.Planner); err != nil {
		return err
	}
	a.Biller = billing.Biller{
		Store: billstore.New(a.DB, a.Now), Dockets: a.Jobs, Trade: a.Store, Roads: roadsOf(a.roads), Render: document.Render, Now: a.Now,
	}
	return a.Teacher.Refresh(ctx)
}

// Handler is the site.
func (a *App) Handler() (http.Handler, error) {
	return web.New(web.Deps{
		DB: a.DB, Store: a.Store, Desk: a.Desk, Planner: a.Planner, Jobs: a.Jobs, Biller: a.Biller, Roads: a.roads, Now: a.Now, Log: a.Log,
		Site: a.Desk.Site, Proxies: a.Config.Proxies, Unsent: a.Store.CountUnsent,
	})
}

// Close lets go of the database.
func (a *App) Close() error { return a.DB.Close() }
