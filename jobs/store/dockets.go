package store

import (
	"context"
	"errors"
	"maps"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/store"
	"drawbar/jobs"

	"cloud.google.com/go/civil"
	"gorm.io/gorm"
)

type docketRow struct {
	ID         booking.ID `gorm:"primaryKey"`
	VisitID    booking.ID
	FarmID     booking.ID
	Day        string
	Signed     int64
	Sealed     string
	Hash       string
	Superseded booking.ID
}

func (docketRow) TableName() string { return "dockets" }

func (r docketRow) domain() (jobs.SignedDocket, error) {
	d, err := jobs.Unseal([]byte(r.Sealed), r.Hash)
	d.Superseded = r.Superseded
	return d, err
}

// standing is the visit's signed docket that nothing supersedes; nil for none.
func standing(tx *gorm.DB, visit booking.ID) (*docketRow, error) {
	var row docketRow
	err := tx.Where("visit_id = ? AND superseded = ''", visit).Take(&row).Error
	if errors.Is(err, gorm.ErrRecordNotFound) {
		return nil, nil
	}
	return &row, err
}

// standingDocket is the docket of standing; the zero docket for none.
func standingDocket(tx *gorm.DB, visit booking.ID) (jobs.SignedDocket, error) {
	row, err := standing(tx, visit)
	if err != nil || row == nil {
		return jobs.SignedDocket{}, err
	}
	return row.domain()
}

// keep seals a docket and stores it.
func keep(tx *gorm.DB, d *jobs.SignedDocket) error {
	sealed, err := d.Seal()
	if err != nil {
		return err
	}
	return tx.Create(&docketRow{
		ID: d.ID, VisitID: d.VisitID, FarmID: d.FarmID, Day: d.Day.String(), Signed: d.Signed.UnixMilli(), Sealed: string(sealed), Hash: d.Hash,
	}).Error
}

// Sign freezes the docket of a visit, see jobs.Store.
func (s *Store) Sign(ctx context.Context, visit booking.ID) (signed jobs.SignedDocket, err error) {
	err = s.write(ctx, func(tx *gorm.DB) error {
		signed, err = standingDocket(tx, visit)
		if err != nil || signed.ID != "" {
			return err
		}
		open, around, err := openDocket(tx, visit)
		if err != nil {
			return err
		}
		if open.Docket.Signature == nil {
			return errNotSigned
		}
		names, err := namesOf(tx, around, open.Docket)
		if err != nil {
			return err
		}
		signed = jobs.Freeze(open.Docket, open.Sheet, names, s.stamp())
		signed.ID = booking.NewID()
		if err := keep(tx, &signed); err != nil {
			return err
		}
		return s.signOff(ctx, tx, signed)
	})
	return signed, err
}

// signOff moves the visit, and with its last visit the booking, on.
func (s *Store) signOff(ctx context.Context, tx *gorm.DB, d jobs.SignedDocket) error {
	if err := store.SetVisitState(tx, d.VisitID, booking.SignedOff); err != nil {
		return err
	}
	if err := store.FinishBooking(tx, d.BookingID); err != nil {
		return err
	}
	return store.Record(ctx, tx, s.now(), "signed off", "visit", d.VisitID, d.Names.Farm)
}

func namesOf(tx *gorm.DB, a store.Around, d jobs.Docket) (jobs.Names, error) {
	people, err := store.NamesOf(tx, d.People)
	names := jobs.Names{Farm: a.Farm.Name, Yard: a.Yard.Name, Rig: a.Rig.Name, Address: a.Farm.Address, People: people, Service: map[string]string{}}
	for code, service := range a.Services {
		names.Service[code] = service.Name
	}
	return names, err
}

// Correct stores a docket that supersedes a signed one, see jobs.Store.
func (s *Store) Correct(ctx context.Context, c jobs.Correction) (next jobs.SignedDocket, err error) {
	err = s.write(ctx, func(tx *gorm.DB) error {
		old, err := docketByID(tx, c.Docket)
		if err != nil {
			return err
		}
		if old.Superseded != "" {
			return fault.New(fault.Conflict, "This docket has been corrected already; correct the one that stands.")
		}
		around, err := store.ReadAround(tx, old.VisitID)
		if err != nil {
			return err
		}
		events, err := eventsOf(tx, old.VisitID)
		if err != nil {
			return err
		}
		next, err = c.Correct(old, sheetOf(around), events, booking.ActorOf(ctx).ID, s.stamp())
		if err != nil {
			return err
		}
		if next.Names.People, err = peopleOf(tx, old, next); err != nil {
			return err
		}
		return s.supersede(ctx, tx, old, &next)
	})
	return next, err
}

// peopleOf adds the people whom a correction brings in; those who were on the
// docket keep the names they had.
func peopleOf(tx *gorm.DB, old, next jobs.SignedDocket) (map[booking.ID]string, error) {
	people, err := store.NamesOf(tx, next.Docket.People)
	maps.Copy(people, old.Names.People)
	return people, err
}

// supersede marks the old docket before the new one takes its place.
func (s *Store) supersede(ctx context.Context, tx *gorm.DB, old jobs.SignedDocket, next *jobs.SignedDocket) error {
	next.ID = booking.NewID()
	marked := tx.Model(&docketRow{}).Where("id = ? AND superseded = ''", old.ID).Update("superseded", next.ID)
	if marked.Error != nil {
		return marked.Error
	}
	if marked.RowsAffected == 0 {
		return fault.New(fault.Conflict, "This docket has been corrected already; correct the one that stands.")
	}
	if err := keep(tx, next); err != nil {
		return err
	}
	return store.Record(ctx, tx, s.now(), "corrected", "docket", next.ID, next.Reason)
}

// SignedDocket by its id.
func (s *Store) SignedDocket(ctx context.Context, id booking.ID) (d jobs.SignedDocket, err error) {
	err = s.db.Read(ctx, func(tx *gorm.DB) error {
		d, err = docketByID(tx, id)
		return err
	})
	return d, err
}

func docketByID(tx *gorm.DB, id booking.ID) (jobs.SignedDocket, error) {
	var row docketRow
	err := tx.Where("id = ?", id).Take(&row).Error
	if errors.Is(err, gorm.ErrRecordNotFound) {
		return jobs.SignedDocket{}, fault.New(fault.NotFound, "There is no such docket.")
	}
	if err != nil {
		return jobs.SignedDocket{}, err
	}
	return row.domain()
}

const (
	usualDockets = 1000
	mostDockets  = 100_000
)

// SignedDockets picks signed dockets in order of day and id.
func (s *Store) SignedDockets(ctx context.Context, q jobs.DocketQuery) (found []jobs.SignedDocket, err error) {
	err = s.db.Read(ctx, func(tx *gorm.DB) error {
		var rows []docketRow
		if err := pick(tx, q).Find(&rows).Error; err != nil {
			return err
		}
		found = make([]jobs.SignedDocket, len(rows))
		for i, r := range rows {
			if found[i], err = r.domain(); err != nil {
				return err
			}
		}
		return nil
	})
	return found, err
}

func pick(tx *gorm.DB, q jobs.DocketQuery) *gorm.DB {
	for _, by := range []struct {
		wanted bool
		where  string
		value  any
	}{
		{q.From.IsValid(), "day >= ?", q.From.String()}, {q.To.IsValid(), "day <= ?", q.To.String()},
		{q.FarmID != "", "farm_id = ?", q.FarmID}, {q.VisitID != "", "visit_id = ?", q.VisitID}, {q.Standing, "superseded = ?", ""},
	} {
		if by.wanted {
			tx = tx.Where(by.where, by.value)
		}
	}
	limit := usualDockets
	if q.Limit > 0 {
		limit = min(q.Limit, mostDockets)
	}
	return tx.Order("day, id").Limit(limit)
}

// Unsigned are live visits that have begun or are over without a signed
// docket, see jobs.Store.
func (s *Store) Unsigned(ctx context.Context, until civil.Date) (visits []booking.Visit, err error) {
	err = s.db.Read(ctx, func(tx *gorm.DB) error {
		var ids []booking.ID
		err := tx.Table("visits").Where("state NOT IN ?", []booking.VisitState{booking.SignedOff, booking.CalledOff}).
			Where("day < ? OR id IN (SELECT visit_id FROM events)", until.String()).
			Order("starts_at, id").Limit(usualDockets).Pluck("id", &ids).Error
		if err != nil {
			return err
		}
		visits = nil
		for _, id := range ids {
			around, err := store.ReadAround(tx, id)
			if err != nil {
				return err
			}
			visits = append(visits, around.Visit)
		}
		return nil
	})
	return visits, err
}

// Late are the signed-off visits with events that no correction has taken in.
func (s *Store) Late(ctx context.Context) (visits []booking.ID, err error) {
	err = s.db.Read(ctx, func(tx *gorm.DB) error {
		var all []booking.ID
		if err := tx.Model(&eventRow{}).Where("late").Distinct().Order("visit_id").Pluck("visit_id", &all).Error; err != nil {
			return err
		}
		visits = nil
		for _, id := range all {
			open, _, err := openDocket(tx, id)
			if err != nil {
				return err
			}
			if len(open.Late) > 0 {
				visits = append(visits, id)
			}
		}
		return nil
	})
	return visits, err
}
