package store

import (
	"context"
	"time"

	"drawbar/booking"

	"gorm.io/gorm"
)

type noticeRow struct {
	ID      booking.ID `gorm:"primaryKey"`
	ToAddr  string
	ToName  string
	Subject string
	Body    string
	Created int64
	Sent    int64
	Due     int64
	Tries   int
	Trouble string
}

func (noticeRow) TableName() string { return "notices" }

func (r noticeRow) domain() booking.Notice {
	return booking.Notice{ID: r.ID, To: r.ToAddr, ToName: r.ToName, Subject: r.Subject, Body: r.Body, Tries: r.Tries}
}

func (s *Store) noticeRowOf(n booking.Notice) noticeRow {
	return noticeRow{ID: booking.NewID(), ToAddr: n.To, ToName: n.ToName, Subject: n.Subject, Body: n.Body, Created: millis(s.now())}
}

// ClaimNotice takes the notice that has waited longest of those that are due
// and keeps it from others until then; ok is false when none is due.
func (s *Store) ClaimNotice(ctx context.Context, until time.Time) (n booking.Notice, ok bool, err error) {
	err = s.write(ctx, func(tx *gorm.DB) error {
		var rows []noticeRow
		n, ok = booking.Notice{}, false
		if err := tx.Where("sent = 0 AND due <= ?", millis(s.now())).Order("due, created, id").Limit(1).Find(&rows).Error; err != nil || len(rows) == 0 {
			return err
		}
		n, ok = rows[0].domain(), true
		return tx.Model(&noticeRow{}).Where("id = ?", n.ID).Update("due", millis(until)).Error
	})
	return n, ok, err
}

// MarkSent notes that a notice is out.
func (s *Store) MarkSent(ctx context.Context, id booking.ID) error {
	return s.write(ctx, func(tx *gorm.DB) error {
		return tx.Model(&noticeRow{}).Where("id = ?", id).Updates(map[string]any{"sent": millis(s.now()), "trouble": ""}).Error
	})
}

// PostponeNotice notes why a notice could not be sent and when to try again.
func (s *Store) PostponeNotice(ctx context.Context, id booking.ID, until time.Time, trouble string) error {
	return s.write(ctx, func(tx *gorm.DB) error {
		return tx.Model(&noticeRow{}).Where("id = ? AND sent = 0", id).Updates(map[string]any{
			"due": millis(until), "tries": gorm.Expr("tries + 1"), "trouble": trouble,
		}).Error
	})
}

// CountUnsent tells how many notices wait, due or not.
func (s *Store) CountUnsent(ctx context.Context) (n int, err error) {
	err = s.db.Read(ctx, func(tx *gorm.DB) error {
		var count int64
		err := tx.Model(&noticeRow{}).Where("sent = 0").Count(&count).Error
		n = int(count)
		return err
	})
	return n, err
}
