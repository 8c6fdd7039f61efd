package store

import (
	"context"
	"encoding/json"
	"errors"
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/store"
	"drawbar/jobs"

	"gorm.io/gorm"
	"gorm.io/gorm/clause"
)

type eventRow struct {
	ID       booking.ID `gorm:"primaryKey"`
	VisitID  booking.ID
	Device   string
	Person   booking.ID
	Seq      int64
	At       int64 // milliseconds since 1970, as Received
	Received int64
	Kind     jobs.Kind
	What     string // JSON; "" for kinds that say it all
	Late     bool
}

func (eventRow) TableName() string { return "events" }

func (r eventRow) domain() (jobs.Event, error) {
	what, err := jobs.DecodePayload(r.Kind, []byte(r.What))
	return jobs.Event{
		ID: r.ID, VisitID: r.VisitID, Device: r.Device, Person: r.Person, Seq: int(r.Seq), Kind: r.Kind, What: what, Late: r.Late,
		At: time.UnixMilli(r.At).UTC(), Received: time.UnixMilli(r.Received).UTC(),
	}, err
}

func rowOf(e jobs.Event) (eventRow, error) {
	r := eventRow{
		ID: e.ID, VisitID: e.VisitID, Device: e.Device, Person: e.Person, Seq: int64(e.Seq), Kind: e.Kind, Late: e.Late,
		At: e.At.UnixMilli(), Received: e.Received.UnixMilli(),
	}
	if e.What == nil {
		return r, nil
	}
	what, err := json.Marshal(e.What)
	r.What = string(what)
	return r, err
}

// Append stores the sound events of a batch, see jobs.Store.
func (s *Store) Append(ctx context.Context, visit, person booking.ID, batch jobs.Batch) ([]jobs.Answer, error) {
	var answers map[booking.ID]jobs.Answer
	err := s.write(ctx, func(tx *gorm.DB) error {
		around, err := store.ReadAround(tx, visit)
		if err != nil {
			return err
		}
		signed, err := standing(tx, visit)
		if err != nil {
			return err
		}
		answers = map[booking.ID]jobs.Answer{}
		begun := false
		for _, e := range batch.Sound() {
			e.Person, e.Received, e.Late = person, s.stamp(), signed != nil && !e.Kind.FollowsSigning()
			if answers[e.ID], err = add(tx, e); err != nil {
				return err
			}
			begun = begun || begins(e.Kind)
		}
		return s.begin(ctx, tx, around.Visit, begun)
	})
	if err != nil {
		return nil, err
	}
	return batch.Answered(answers), nil
}

// add stores one event unless it is there already.
func add(tx *gorm.DB, e jobs.Event) (jobs.Answer, error) {
	row, err := rowOf(e)
	if err != nil {
		return jobs.Answer{}, err
	}
	made := tx.Clauses(clause.OnConflict{DoNothing: true}).Create(&row)
	if made.Error != nil || made.RowsAffected == 1 {
		return jobs.Answer{ID: e.ID, Result: jobs.Accepted}, made.Error
	}
	var there eventRow
	if err := tx.Where("id = ?", e.ID).Take(&there).Error; err != nil {
		return jobs.Answer{}, err
	}
	if there.VisitID != e.VisitID {
		return jobs.Answer{ID: e.ID, Result: jobs.Refused, Why: "An event with this id belongs to another visit."}, nil
	}
	return jobs.Answer{ID: e.ID, Result: jobs.AlreadyHad}, nil
}

// begins tells whether an event shows that the rig is there.
func begins(k jobs.Kind) bool {
	switch k {
	case jobs.Arrived, jobs.SetUp, jobs.Started, jobs.Counted:
		return true
	}
	return false
}

// begin puts a waiting visit under way.
func (s *Store) begin(ctx context.Context, tx *gorm.DB, v booking.Visit, begun bool) error {
	if !begun || v.State != booking.Pencilled && v.State != booking.Fixed {
		return nil
	}
	if err := store.SetVisitState(tx, v.ID, booking.UnderWay); err != nil {
		return err
	}
	return store.Record(ctx, tx, s.now(), "began", "visit", v.ID, "")
}

// Events of a visit in order of time.
func (s *Store) Events(ctx context.Context, visit booking.ID) (events []jobs.Event, err error) {
	err = s.db.Read(ctx, func(tx *gorm.DB) error {
		if _, err := store.ReadAround(tx, visit); err != nil {
			return err
		}
		events, err = eventsOf(tx, visit)
		return err
	})
	return events, err
}

func eventsOf(tx *gorm.DB, visit booking.ID) ([]jobs.Event, error) {
	var rows []eventRow
	if err := tx.Where("visit_id = ?", visit).Order("at, id").Find(&rows).Error; err != nil {
		return nil, err
	}
	events := make([]jobs.Event, len(rows))
	var failed error
	for i, r := range rows {
		var err error
		events[i], err = r.domain()
		failed = errors.Join(failed, err)
	}
	return events, failed
}

// Docket is what the events before signing add up to, see jobs.Store.
func (s *Store) Docket(ctx context.Context, visit booking.ID) (open jobs.OpenDocket, err error) {
	err = s.db.Read(ctx, func(tx *gorm.DB) error {
		open, _, err = openDocket(tx, visit)
		return err
	})
	return open, err
}

// openDocket folds a visit's events, those that came late apart.
func openDocket(tx *gorm.DB, visit booking.ID) (open jobs.OpenDocket, around store.Around, err error) {
	if around, err = store.ReadAround(tx, visit); err != nil {
		return open, around, err
	}
	frozen, err := standingDocket(tx, visit)
	if err != nil {
		return open, around, err
	}
	events, err := eventsOf(tx, visit)
	if err != nil {
		return open, around, err
	}
	open.Signed = frozen.ID
	var before []jobs.Event
	for _, e := range events {
		open.Known = append(open.Known, e.ID)
		if e.Late && !frozen.Has(e) {
			open.Late = append(open.Late, e)
		} else {
			before = append(before, e)
		}
	}
	open.Docket, open.Sheet = jobs.Fold(before), sheetOf(around)
	return open, around, nil
}

func sheetOf(a store.Around) jobs.Sheet {
	return jobs.Sheet{Visit: a.Visit, Number: a.Booking.Number, Mobs: a.Booking.Mobs, Services: a.Services}
}

var errNotSigned = fault.New(fault.Conflict, "The farmer has not signed yet. Count, look at the summary together, then sign.")
