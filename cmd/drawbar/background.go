package main

import (
	"context"
	"database/sql"
	"fmt"
	"log/slog"
	"time"

	"drawbar/booking"
	"drawbar/booking/notice"
	"drawbar/booking/schedule"
	"drawbar/booking/store"
	"drawbar/jobs/lesson"
	"drawbar/migrations/db"

	"github.com/riverqueue/river"
	"github.com/riverqueue/river/riverdriver/riverdatabasesql"
	"github.com/riverqueue/river/riverdriver/riversqlite"
	"gorm.io/gorm"
)

// background does what nobody waits for: it sends notices, plans weeks and
// learns from dockets. Work is put into the database, in the transaction that
// causes it where there is one, and any process on that database may take it.
type background struct {
	db      *db.DB
	now     func() time.Time
	log     *slog.Logger
	client  *river.Client[*sql.Tx]
	store   *store.Store
	ending  chan struct{}   // closed when the program is to end
	teacher *lesson.Teacher // set before prepare
}

func newBackground(d *db.DB, now func() time.Time, log *slog.Logger) *background {
	return &background{db: d, now: now, log: log, ending: make(chan struct{})}
}

// sendNotices is the work of sending whatever waits.
type sendNotices struct{}

// Kind names the work in the database.
func (sendNotices) Kind() string { return "send_notices" }

// InsertOpts leaves trying again to the clock, which asks every minute: each
// notice keeps its own account of when it is due.
func (sendNotices) InsertOpts() river.InsertOpts { return river.InsertOpts{MaxAttempts: 1} }

type noticeWorker struct {
	river.WorkerDefaults[sendNotices]
	box     *store.Store
	sender  notice.Sender
	address string
	now     func() time.Time
	log     *slog.Logger
}

// Work sends the notices that wait.
func (w *noticeWorker) Work(ctx context.Context, _ *river.Job[sendNotices]) error {
	from := notice.From{Name: "Drawbar", Address: w.address}
	if business, err := w.box.Business(ctx); err == nil {
		from.Name, from.ReplyTo = business.Name, business.Email
	}
	if err := notice.Deliver(ctx, w.box, w.sender, from, w.now); err != nil {
		w.log.Warn("mail not sent, will be tried again", "error", err)
	}
	return nil
}

// prepare makes the client; start begins to work. Plans have a queue of their
// own: mail does not wait for a long search.
func (b *background) prepare(box *store.Store, sender notice.Sender, address string, planner *schedule.Planner) (err error) {
	b.store = box
	workers := river.NewWorkers()
	river.AddWorker(workers, &noticeWorker{box: box, sender: sender, address: address, now: b.now, log: b.log})
	river.AddWorker(workers, &planWorker{planner: planner, ending: b.ending})
	river.AddWorker(workers, &lessonWorker{teacher: b.teacher})
	config := &river.Config{
		Workers:           workers,
		Queues:            map[string]river.QueueConfig{river.QueueDefault: {MaxWorkers: 1}, planQueue: {MaxWorkers: 1}},
		FetchPollInterval: time.Second,
		Logger:            quiet(b.log),
	}
	if b.db.Dialect() == db.Postgres {
		b.client, err = river.NewClient(riverdatabasesql.New(b.db.SQL()), config)
	} else {
		b.client, err = river.NewClient(riversqlite.New(b.db.SQL()), config)
	}
	return err
}

// quiet leaves out River's talk about its own start and stop.
func quiet(log *slog.Logger) *slog.Logger { return slog.New(warnings{log.Handler()}) }

// warnings passes on warnings and errors only.
type warnings struct{ slog.Handler }

// Enabled leaves out all below a warning.
func (w warnings) Enabled(ctx context.Context, level slog.Level) bool {
	return level >= slog.LevelWarn && w.Handler.Enabled(ctx, level)
}

// wakers put work into the transaction that causes it.
func (b *background) wakers() *store.Wake {
	return &store.Wake{
		Notices:  b.wake,
		Planning: func(tx *gorm.DB, id booking.ID) error { return b.insert(tx, planWeek{Planning: id}) },
	}
}

// wake asks for the notices to be sent, in the transaction that stored them.
func (b *background) wake(tx *gorm.DB) error { return b.insert(tx, sendNotices{}) }

func (b *background) insert(tx *gorm.DB, work river.JobArgs) error {
	inside, ok := tx.Statement.ConnPool.(*sql.Tx)
	if !ok {
		return fmt.Errorf("background: not inside a transaction but on %T", tx.Statement.ConnPool)
	}
	_, err := b.client.InsertTx(tx.Statement.Context, inside, work, nil)
	return err
}

const stopTime = 10 * time.Second

// run works until the context ends, then lets the work at hand finish.
func (b *background) run(ctx context.Context) error {
	if err := b.client.Start(context.WithoutCancel(ctx)); err != nil {
		return err
	}
	if err := b.db.InTx(ctx, b.study); err != nil && ctx.Err() == nil {
		b.log.Error("nothing is learned at the start", "error", err)
	}
	clock := b.startClock()
	<-ctx.Done()
	close(b.ending)
	<-clock.Stop().Done()
	stop, cancel := context.WithTimeout(context.WithoutCancel(ctx), stopTime)
	defer cancel()
	return b.client.Stop(stop)
}
