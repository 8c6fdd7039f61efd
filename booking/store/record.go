package store

import (
	"context"
	"time"

	"drawbar/booking"

	"gorm.io/gorm"
)

type changeRow struct {
	ID        booking.ID `gorm:"primaryKey"`
	At        int64
	ActorKind booking.ActorKind
	ActorID   booking.ID
	ActorName string
	Verb      string
	Kind      string
	Subject   booking.ID
	Detail    string
}

func (changeRow) TableName() string { return "changes" }

func (r changeRow) domain() booking.Change {
	return booking.Change{
		ID: r.ID, At: instant(r.At), Verb: r.Verb, Kind: r.Kind, Subject: r.Subject, Detail: r.Detail,
		Who: booking.Actor{Kind: r.ActorKind, ID: r.ActorID, Name: r.ActorName},
	}
}

// Record writes one line of who changed what, in the transaction of the
// change. Stores of other packages call it for theirs.
func Record(ctx context.Context, tx *gorm.DB, now time.Time, verb, kind string, subject booking.ID, detail string) error {
	who := booking.ActorOf(ctx)
	return tx.Create(&changeRow{
		ID: booking.NewID(), At: millis(now), Verb: verb, Kind: kind, Subject: subject, Detail: detail,
		ActorKind: who.Kind, ActorID: who.ID, ActorName: who.Name,
	}).Error
}

// record is Record at the store's own clock.
func (s *Store) record(ctx context.Context, tx *gorm.DB, verb, kind string, subject booking.ID, detail string) error {
	return Record(ctx, tx, s.now(), verb, kind, subject, detail)
}

const mostChanges = 500

// Changes picks lines of the record, newest first.
func (s *Store) Changes(ctx context.Context, q booking.ChangeQuery) ([]booking.Change, error) {
	return read(ctx, s.db, changeRow.domain, func(tx *gorm.DB) *gorm.DB {
		if q.Kind != "" {
			tx = tx.Where("kind = ?", q.Kind)
		}
		if q.Subject != "" {
			tx = tx.Where("subject = ?", q.Subject)
		}
		if !q.Before.IsZero() {
			tx = tx.Where("at < ?", millis(q.Before))
		}
		return tx.Order("at DESC, id DESC").Limit(limit(q.Limit, 100, mostChanges))
	})
}

func limit(asked, usual, most int) int {
	if asked <= 0 {
		return usual
	}
	return min(asked, most)
}

// millis and instant are how instants are kept.
func millis(t time.Time) int64 {
	if t.IsZero() {
		return 0
	}
	return t.UnixMilli()
}

func instant(ms int64) time.Time {
	if ms == 0 {
		return time.Time{}
	}
	return time.UnixMilli(ms).UTC()
}
