package store_test

import (
	"errors"
	"fmt"
	"sync"
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/sample"
	"drawbar/booking/store"
	"drawbar/migrations/db"
	"drawbar/migrations/dbtest"

	"gorm.io/gorm"
)

var noon = time.Date(2026, time.April, 10, 12, 0, 0, 0, time.UTC)

func atNoon() time.Time { return noon }

func notices(n int) []booking.Notice {
	all := make([]booking.Notice, n)
	for i := range all {
		all[i] = booking.Notice{To: "tamsin@alderfold.example", Subject: fmt.Sprintf("Booking %d", i), Body: "Ewes & rams: \"ready\"\n"}
	}
	return all
}

// addLink stores a fresh link with n notices.
func addLink(t *testing.T, s *store.Store, n int) error {
	t.Helper()
	link, _ := sample.Link(booking.ToFarm, booking.NewID(), noon)
	return s.AddLink(t.Context(), link, notices(n)...)
}

func TestNoticesWakeTheirSenderInTheSameTransaction(t *testing.T) {
	dbtest.Each(t, func(t *testing.T, d *db.DB) {
		woken := 0
		s := store.New(d, atNoon, func(tx *gorm.DB) error {
			woken++
			var n int64
			if err := tx.Table("notices").Count(&n).Error; err != nil || n != 3 {
				t.Errorf("the sender's transaction sees %d notices, %v", n, err)
			}
			return nil
		})
		if err := addLink(t, s, 0); err != nil || woken != 0 {
			t.Errorf("without notices: woken %d times, %v", woken, err)
		}
		if err := addLink(t, s, 3); err != nil || woken != 1 {
			t.Errorf("with notices: woken %d times, %v", woken, err)
		}
	})
}

// A change whose notice cannot be queued has not happened.
func TestNothingIsStoredWhereNobodyCanBeTold(t *testing.T) {
	dbtest.Each(t, func(t *testing.T, d *db.DB) {
		s := store.New(d, atNoon, func(*gorm.DB) error { return errors.New("the queue is shut") })
		farm := sample.Farm()
		yard := sample.Yard(farm)
		b := sample.Booking(farm, yard)
		if err := s.AddBooking(t.Context(), booking.NewBooking{Farm: &farm, Yard: &yard, Booking: &b, Notices: notices(1)}); err == nil {
			t.Fatal("no error")
		}
		farms, err := s.Farms(t.Context())
		if err != nil || len(farms) != 0 {
			t.Errorf("%d farms, %v", len(farms), err)
		}
		bookings, err := s.Bookings(t.Context(), booking.BookingQuery{})
		if err != nil || len(bookings) != 0 {
			t.Errorf("%d bookings, %v", len(bookings), err)
		}
		changes, err := s.Changes(t.Context(), booking.ChangeQuery{})
		if err != nil || len(changes) != 0 {
			t.Errorf("%d lines in the record, %v", len(changes), err)
		}
		if n, err := s.CountUnsent(t.Context()); err != nil || n != 0 {
			t.Errorf("%d notices, %v", n, err)
		}
	})
}

func TestSixteenSendersClaimEachNoticeOnce(t *testing.T) {
	const many = 24
	dbtest.Each(t, func(t *testing.T, d *db.DB) {
		s := store.New(d, atNoon, nil)
		if err := addLink(t, s, many); err != nil {
			t.Fatal(err)
		}
		var mu sync.Mutex
		claimed := map[string]int{}
		var all sync.WaitGroup
		for range 16 {
			all.Go(func() {
				for {
					n, ok, err := s.ClaimNotice(t.Context(), noon.Add(time.Minute))
					if fault.Is(err, fault.Conflict) { // too many at once: try again, as senders do
						continue
					}
					if err != nil || !ok {
						if err != nil {
							t.Error(err)
						}
						return
					}
					mu.Lock()
					claimed[n.Subject]++
					mu.Unlock()
				}
			})
		}
		all.Wait()
		for subject, times := range claimed {
			if times != 1 {
				t.Errorf("%s was claimed %d times", subject, times)
			}
		}
		if len(claimed) != many {
			t.Errorf("%d of %d notices were claimed", len(claimed), many)
		}
	})
}

func TestNoticesWaitComeBackAndGo(t *testing.T) {
	dbtest.Each(t, func(t *testing.T, d *db.DB) {
		now := noon
		s := store.New(d, func() time.Time { return now }, nil)
		if err := addLink(t, s, 1); err != nil {
			t.Fatal(err)
		}
		claim := func() (booking.Notice, bool) {
			n, ok, err := s.ClaimNotice(t.Context(), now.Add(time.Minute))
			if err != nil {
				t.Fatal(err)
			}
			return n, ok
		}
		first, ok := claim()
		if !ok || first.Body != notices(1)[0].Body || first.To != notices(1)[0].To {
			t.Fatalf("claimed %+v", first)
		}
		if _, again := claim(); again {
			t.Error("claimed while somebody else has it")
		}
		if err := s.PostponeNotice(t.Context(), first.ID, now.Add(time.Hour), "connection refused"); err != nil {
			t.Fatal(err)
		}
		now = now.Add(time.Hour - time.Millisecond)
		if _, early := claim(); early {
			t.Error("claimed before its time")
		}
		now = now.Add(time.Millisecond)
		if second, ok := claim(); !ok || second.ID != first.ID || second.Tries != 1 {
			t.Errorf("came back as %+v", second)
		}
		if err := s.MarkSent(t.Context(), first.ID); err != nil {
			t.Fatal(err)
		}
		now = now.AddDate(1, 0, 0)
		if _, sent := claim(); sent {
			t.Error("claimed after it was sent")
		}
		if n, err := s.CountUnsent(t.Context()); err != nil || n != 0 {
			t.Errorf("%d wait, %v", n, err)
		}
	})
}
