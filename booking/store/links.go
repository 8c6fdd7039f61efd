package store

import (
	"context"
	"encoding/hex"
	"errors"
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"

	"gorm.io/gorm"
)

type linkRow struct {
	Hash    string `gorm:"primaryKey"`
	Purpose booking.LinkPurpose
	Subject booking.ID
	Expires int64
	Once    bool
	Used    int64
	Created int64
}

func (linkRow) TableName() string { return "links" }

func (r linkRow) domain() booking.Link {
	link := booking.Link{Purpose: r.Purpose, Subject: r.Subject, Expires: instant(r.Expires), Once: r.Once, Used: instant(r.Used), Created: instant(r.Created)}
	_, _ = hex.Decode(link.Hash[:], []byte(r.Hash)) // linkRowOf wrote it
	return link
}

func linkRowOf(l booking.Link) linkRow {
	return linkRow{Hash: hex.EncodeToString(l.Hash[:]), Purpose: l.Purpose, Subject: l.Subject, Expires: millis(l.Expires), Once: l.Once, Used: millis(l.Used), Created: millis(l.Created)}
}

// tell stores links and notices and wakes whoever sends them.
func (s *Store) tell(tx *gorm.DB, links []booking.Link, notices []booking.Notice) error {
	for _, l := range links {
		row := linkRowOf(l)
		row.Created = millis(s.now())
		if err := tx.Create(&row).Error; err != nil {
			return err
		}
	}
	if len(notices) == 0 {
		return nil
	}
	for _, n := range notices {
		row := s.noticeRowOf(n)
		if err := tx.Create(&row).Error; err != nil {
			return err
		}
	}
	return s.wake.Notices(tx)
}

// AddLink stores a link and the notices that carry it.
func (s *Store) AddLink(ctx context.Context, link booking.Link, notices ...booking.Notice) error {
	return s.write(ctx, func(tx *gorm.DB) error {
		if err := s.tell(tx, []booking.Link{link}, notices); err != nil {
			return err
		}
		return s.record(ctx, tx, "made a link to "+string(link.Purpose), "link", link.Subject, "")
	})
}

// OpenLink finds a link that is good at the time.
func (s *Store) OpenLink(ctx context.Context, hash [32]byte, purpose booking.LinkPurpose, now time.Time) (link booking.Link, err error) {
	err = s.db.Read(ctx, func(tx *gorm.DB) (err error) {
		link, err = findLink(tx, hash, purpose, now)
		return err
	})
	return link, err
}

func findLink(tx *gorm.DB, hash [32]byte, purpose booking.LinkPurpose, now time.Time) (booking.Link, error) {
	var row linkRow
	err := tx.Where("hash = ? AND purpose = ?", hex.EncodeToString(hash[:]), purpose).Take(&row).Error
	switch {
	case errors.Is(err, gorm.ErrRecordNotFound):
		return booking.Link{}, notFound("link; it may have been cut short on the way")
	case err != nil:
		return booking.Link{}, err
	case row.Once && row.Used != 0:
		return booking.Link{}, fault.New(fault.Expired, "This link has been used. Ask for a new one; it takes a moment.")
	case !now.Before(instant(row.Expires)):
		return booking.Link{}, fault.New(fault.Expired, "This link has run out. Ask for a new one; it takes a moment.")
	}
	return row.domain(), nil
}

// SpendLink opens a link and uses it up where it is good for one use.
func (s *Store) SpendLink(ctx context.Context, hash [32]byte, purpose booking.LinkPurpose, now time.Time) (link booking.Link, err error) {
	err = s.write(ctx, func(tx *gorm.DB) error {
		if link, err = findLink(tx, hash, purpose, now); err != nil || !link.Once {
			return err
		}
		// Nobody else can have used it since it was found: the transaction is
		// serializable, and is run again where two meet.
		if err := tx.Model(&linkRow{}).Where("hash = ?", hex.EncodeToString(hash[:])).Update("used", millis(now)).Error; err != nil {
			return err
		}
		return s.record(ctx, tx, "used the link to "+string(purpose), "link", link.Subject, "")
	})
	return link, err
}
