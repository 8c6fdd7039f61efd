package store_test

import (
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/sample"
	bookings "drawbar/booking/store"
	"drawbar/jobs"
	"drawbar/jobs/store"
	"drawbar/migrations/db"
	"drawbar/migrations/dbtest"

	"gorm.io/gorm"
)

// signed stores a visit with a signed docket.
func signed(t *testing.T, d *db.DB) (*store.Store, jobs.SignedDocket) {
	t.Helper()
	now := func() time.Time { return sample.Morning.Add(3 * time.Hour) }
	visits, work := bookings.New(d, now, nil), store.New(d, now)
	farm, rig := sample.Farm(), sample.Rig()
	yard := sample.Yard(farm)
	b := sample.Booking(farm, yard)
	v := sample.Visit(b, rig, sample.Morning)
	events := jobs.NewBatch(jobs.Event{ID: booking.NewID(), VisitID: v.ID, Device: "phone", At: sample.Morning, Kind: jobs.SignedFor, What: jobs.Signature{Name: farm.Contact}})
	for _, step := range []func() error{
		func() error { return visits.SaveRig(t.Context(), &rig) },
		func() error {
			return visits.AddBooking(t.Context(), booking.NewBooking{Farm: &farm, Yard: &yard, Booking: &b})
		},
		func() error {
			return visits.ApplyPlan(t.Context(), booking.PlanChange{Save: []*booking.Visit{&v}, Verb: "placed"})
		},
		func() error { _, err := work.Append(t.Context(), v.ID, "", events); return err },
	} {
		if err := step(); err != nil {
			t.Fatal(err)
		}
	}
	docket, err := work.Sign(t.Context(), v.ID)
	if err != nil {
		t.Fatal(err)
	}
	return work, docket
}

func TestTheDatabaseKeepsSignedDocketsUnchanged(t *testing.T) {
	dbtest.Each(t, func(t *testing.T, d *db.DB) {
		work, docket := signed(t, d)
		for _, statement := range []string{
			"UPDATE dockets SET sealed = '{}'", "UPDATE dockets SET hash = 'x'", "DELETE FROM dockets",
		} {
			err := d.InTx(t.Context(), func(tx *gorm.DB) error { return tx.Exec(statement).Error })
			if !fault.Is(err, fault.Conflict) {
				t.Errorf("%s: want a refusal, got: %v", statement, err)
			}
		}
		if again, err := work.SignedDocket(t.Context(), docket.ID); err != nil || again.Hash != docket.Hash {
			t.Errorf("the docket changed: %v", err)
		}
	})
}

// Somebody with the database in hand can get around triggers, not around the
// hash.
func TestATamperedDocketIsNoticed(t *testing.T) {
	d := dbtest.SQLite(t)
	work, docket := signed(t, d)
	err := d.InTx(t.Context(), func(tx *gorm.DB) error {
		if err := tx.Exec("DROP TRIGGER dockets_no_update").Error; err != nil {
			return err
		}
		return tx.Exec("UPDATE dockets SET sealed = replace(sealed, 'Tamsin', 'Somebody')").Error
	})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := work.SignedDocket(t.Context(), docket.ID); !fault.Is(err, fault.Internal) {
		t.Errorf("want an internal error, got: %v", err)
	}
}
