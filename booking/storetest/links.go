package storetest

import (
	"sync"
	"sync/atomic"
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/sample"
)

var linkChecks = []check{
	{"a link opens what it was made for", opensLinks},
	{"a link for one use is used once", spendsOnce},
	{"of sixteen spenders one wins", spendsOnceAmongMany},
	{"a link runs out", linksRunOut},
	{"a link is made once", refusesTakenLink},
}

// link stores a sample link and gives its hash.
func (s *suite) link(purpose booking.LinkPurpose) (booking.Link, [32]byte) {
	s.Helper()
	link, secret := sample.Link(purpose, booking.NewID(), s.clock.start)
	s.must(s.AddLink(s.ctx, link))
	return link, secret.Hash()
}

func opensLinks(s *suite) {
	purposes := []booking.LinkPurpose{booking.ToSignIn, booking.ToFarm, booking.ToBooking}
	for _, purpose := range purposes {
		link, hash := s.link(purpose)
		for range 2 { // opening uses nothing up
			got := found[booking.Link](s)(s.OpenLink(s.ctx, hash, purpose, s.clock.start))
			if got.Created.Before(s.clock.start) || got.Expires.Location() != time.UTC {
				s.Errorf("made %s, good until %s", got.Created, got.Expires)
			}
			got.Created = link.Created
			s.same(string(purpose), got, link)
		}
		for _, other := range purposes {
			if other == purpose {
				continue
			}
			_, err := s.OpenLink(s.ctx, hash, other, s.clock.start)
			s.wants(fault.NotFound, err)
			_, err = s.SpendLink(s.ctx, hash, other, s.clock.start)
			s.wants(fault.NotFound, err)
		}
	}
	_, err := s.OpenLink(s.ctx, booking.NewSecret().Hash(), booking.ToSignIn, s.clock.start)
	s.wants(fault.NotFound, err)
}

func spendsOnce(s *suite) {
	link, hash := s.link(booking.ToSignIn)
	got := found[booking.Link](s)(s.SpendLink(s.ctx, hash, booking.ToSignIn, s.clock.start))
	s.same("subject", got.Subject, link.Subject)
	_, err := s.SpendLink(s.ctx, hash, booking.ToSignIn, s.clock.start)
	s.wants(fault.Expired, err)
	_, err = s.OpenLink(s.ctx, hash, booking.ToSignIn, s.clock.start)
	s.wants(fault.Expired, err)

	_, hash = s.link(booking.ToBooking) // good until it runs out
	for range 3 {
		found[booking.Link](s)(s.SpendLink(s.ctx, hash, booking.ToBooking, s.clock.start))
	}
}

func spendsOnceAmongMany(s *suite) {
	for range 5 {
		_, hash := s.link(booking.ToFarm)
		var won, expired atomic.Int64
		var all sync.WaitGroup
		for range 16 {
			all.Go(func() {
				switch _, err := s.SpendLink(s.ctx, hash, booking.ToFarm, s.clock.start); {
				case err == nil:
					won.Add(1)
				case fault.Is(err, fault.Expired):
					expired.Add(1)
				default:
					s.Error(err)
				}
			})
		}
		all.Wait()
		if won.Load() != 1 || expired.Load() != 15 {
			s.Errorf("%d won, %d came late", won.Load(), expired.Load())
		}
	}
}

func linksRunOut(s *suite) {
	link, hash := s.link(booking.ToSignIn)
	last := link.Expires.Add(-time.Millisecond)
	found[booking.Link](s)(s.OpenLink(s.ctx, hash, booking.ToSignIn, last))
	for _, now := range []time.Time{link.Expires, link.Expires.AddDate(1, 0, 0)} {
		_, err := s.OpenLink(s.ctx, hash, booking.ToSignIn, now)
		s.wants(fault.Expired, err)
		_, err = s.SpendLink(s.ctx, hash, booking.ToSignIn, now)
		s.wants(fault.Expired, err)
	}
	found[booking.Link](s)(s.SpendLink(s.ctx, hash, booking.ToSignIn, last)) // failing used nothing up
}

func refusesTakenLink(s *suite) {
	link, _ := s.link(booking.ToSignIn)
	s.wants(fault.Conflict, s.AddLink(s.ctx, link))
}
