package store_test

import (
	"context"
	"fmt"
	"sync"
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/booking/store"
	"drawbar/migrations/db"
	"drawbar/migrations/dbtest"
)

// noticesOf stores n notices and gives the store, on a clock of its own.
func noticesOf(t *testing.T, d *db.DB, n int, now *time.Time) *store.Store {
	t.Helper()
	s := store.New(d, func() time.Time { return *now }, nil)
	for i := range n {
		secret := booking.NewSecret()
		link := booking.Link{Hash: secret.Hash(), Purpose: booking.ToSignIn, Subject: booking.NewID(), Expires: now.Add(time.Hour)}
		note := booking.Notice{To: fmt.Sprintf("p%d@farm.example", i), ToName: "Tamsin", Subject: "Your day", Body: "Hello."}
		if err := s.AddLink(context.Background(), link, note); err != nil {
			t.Fatal(err)
		}
		*now = now.Add(time.Millisecond)
	}
	return s
}

func TestANoticeIsClaimedByOne(t *testing.T) {
	dbtest.Each(t, func(t *testing.T, d *db.DB) {
		now := time.UnixMilli(1_800_000_000_000)
		const notices, claimers = 12, 4
		s := noticesOf(t, d, notices, &now)
		var (
			all    sync.WaitGroup
			mu     sync.Mutex
			claims = map[booking.ID]int{}
		)
		for range claimers {
			all.Go(func() {
				for {
					n, ok, err := s.ClaimNotice(context.Background(), now.Add(time.Minute))
					if err != nil {
						t.Error(err)
					}
					if !ok {
						return
					}
					mu.Lock()
					claims[n.ID]++
					mu.Unlock()
				}
			})
		}
		all.Wait()
		if len(claims) != notices {
			t.Errorf("%d of %d claimed", len(claims), notices)
		}
		for id, times := range claims {
			if times != 1 {
				t.Errorf("%s claimed %d times", id, times)
			}
		}
	})
}

func TestANoticeWaitsUntilItIsSent(t *testing.T) {
	dbtest.Each(t, func(t *testing.T, d *db.DB) {
		ctx, now := context.Background(), time.UnixMilli(1_800_000_000_000)
		s := noticesOf(t, d, 2, &now)
		claim := func() (booking.Notice, bool) {
			t.Helper()
			n, ok, err := s.ClaimNotice(ctx, now.Add(5*time.Minute))
			if err != nil {
				t.Fatal(err)
			}
			return n, ok
		}
		waits := func(want int) {
			t.Helper()
			if n, err := s.CountUnsent(ctx); err != nil || n != want {
				t.Errorf("%d wait, want %d, %v", n, want, err)
			}
		}
		first, _ := claim()
		if first.To != "p0@farm.example" || first.ToName != "Tamsin" || first.Subject != "Your day" || first.Body != "Hello." || first.Tries != 0 {
			t.Errorf("the oldest is %+v", first)
		}
		second, _ := claim()
		if _, ok := claim(); ok || second.ID == first.ID {
			t.Error("claimed twice")
		}
		waits(2)
		if err := s.MarkSent(ctx, first.ID); err != nil {
			t.Fatal(err)
		}
		if err := s.PostponeNotice(ctx, second.ID, now.Add(time.Hour), "no such mailbox"); err != nil {
			t.Fatal(err)
		}
		waits(1)
		now = now.Add(59 * time.Minute)
		if _, ok := claim(); ok {
			t.Error("claimed before it was due")
		}
		now = now.Add(time.Minute)
		if again, ok := claim(); !ok || again.ID != second.ID || again.Tries != 1 {
			t.Errorf("due again: %+v, %v", again, ok)
		}
		now = now.Add(time.Hour) // whoever claimed it is gone
		if again, ok := claim(); !ok || again.ID != second.ID {
			t.Errorf("left behind: %+v, %v", again, ok)
		}
		if err := s.MarkSent(ctx, second.ID); err != nil {
			t.Fatal(err)
		}
		now = now.Add(24 * time.Hour)
		if _, ok := claim(); ok {
			t.Error("claimed after it was sent")
		}
		waits(0)
	})
}
