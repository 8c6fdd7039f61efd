package session

import (
	"context"
	"errors"
	"time"

	"drawbar/migrations/db"

	"gorm.io/gorm"
	"gorm.io/gorm/clause"
)

type row struct {
	Token   string `gorm:"primaryKey"`
	Data    []byte
	Expires int64 // milliseconds since 1970 UTC
}

func (row) TableName() string { return "sessions" }

// rows keeps sessions in the database, for scs.
type rows struct {
	db  *db.DB
	now func() time.Time
}

// FindCtx gives a session that has not run out.
func (s rows) FindCtx(ctx context.Context, token string) (data []byte, found bool, err error) {
	err = s.db.Read(ctx, func(tx *gorm.DB) error {
		var r row
		err := tx.Where("token = ? AND expires > ?", token, s.now().UnixMilli()).Take(&r).Error
		if errors.Is(err, gorm.ErrRecordNotFound) {
			return nil
		}
		data, found = r.Data, err == nil
		return err
	})
	return data, found, err
}

// CommitCtx stores a session.
func (s rows) CommitCtx(ctx context.Context, token string, data []byte, expires time.Time) error {
	return s.db.InTx(ctx, func(tx *gorm.DB) error {
		return tx.Clauses(clause.OnConflict{UpdateAll: true}).Create(&row{token, data, expires.UnixMilli()}).Error
	})
}

// DeleteCtx forgets a session.
func (s rows) DeleteCtx(ctx context.Context, token string) error {
	return s.db.InTx(ctx, func(tx *gorm.DB) error { return tx.Where("token = ?", token).Delete(&row{}).Error })
}

// Find, Commit and Delete are for callers without a context; scs has one.
func (s rows) Find(token string) ([]byte, bool, error) { return s.FindCtx(context.Background(), token) }

// Commit stores a session.
func (s rows) Commit(token string, data []byte, expires time.Time) error {
	return s.CommitCtx(context.Background(), token, data, expires)
}

// Delete forgets a session.
func (s rows) Delete(token string) error { return s.DeleteCtx(context.Background(), token) }

// Sweep forgets the sessions that have run out.
func Sweep(ctx context.Context, d *db.DB, now time.Time) error {
	return d.InTx(ctx, func(tx *gorm.DB) error {
		return tx.Where("expires <= ?", now.UnixMilli()).Delete(&row{}).Error
	})
}
