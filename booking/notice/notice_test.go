package notice_test

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/booking/notice"

	"pgregory.net/rapid"
)

var ctx = context.Background()

// box keeps notices in memory, as the store promises to.
type box struct {
	now     time.Time
	waiting []*entry
	broken  error // what MarkSent says
}

type entry struct {
	booking.Notice
	due     time.Time
	sent    bool
	trouble string
}

var _ notice.Box = (*box)(nil)

func (b *box) ClaimNotice(_ context.Context, until time.Time) (booking.Notice, bool, error) {
	for _, e := range b.waiting {
		if !e.sent && !e.due.After(b.now) {
			e.due = until
			return e.Notice, true, nil
		}
	}
	return booking.Notice{}, false, nil
}

func (b *box) find(id booking.ID) *entry {
	return b.waiting[slices.IndexFunc(b.waiting, func(e *entry) bool { return e.ID == id })]
}

func (b *box) MarkSent(_ context.Context, id booking.ID) error {
	if b.broken == nil {
		b.find(id).sent = true
	}
	return b.broken
}

func (b *box) PostponeNotice(_ context.Context, id booking.ID, until time.Time, trouble string) error {
	e := b.find(id)
	e.due, e.trouble = until, trouble
	e.Tries++
	return nil
}

func (b *box) add(n int) *box {
	for i := range n {
		b.waiting = append(b.waiting, &entry{Notice: booking.Notice{ID: booking.NewID(), To: fmt.Sprintf("p%d@farm.example", i), Subject: "Your day"}})
	}
	return b
}

func (b *box) unsent() (n int) {
	for _, e := range b.waiting {
		if !e.sent {
			n++
		}
	}
	return n
}

// post counts what is sent to whom and refuses some.
type post struct {
	sent    map[string]int
	refuses func(to string) bool
}

func (p *post) Send(_ context.Context, _ notice.From, n booking.Notice) error {
	if p.refuses != nil && p.refuses(n.To) {
		return errors.New("no such mailbox")
	}
	p.sent[n.To]++
	return nil
}

func deliver(b *box, p *post) error {
	return notice.Deliver(ctx, b, p, notice.From{}, func() time.Time { return b.now })
}

func TestEveryNoticeIsSentOnce(t *testing.T) {
	b, p := (&box{now: time.Unix(1e9, 0)}).add(20), &post{sent: map[string]int{}}
	for range 3 {
		if err := deliver(b, p); err != nil {
			t.Fatal(err)
		}
	}
	if len(p.sent) != 20 || b.unsent() != 0 {
		t.Errorf("%d sent, %d wait", len(p.sent), b.unsent())
	}
	for to, times := range p.sent {
		if times != 1 {
			t.Errorf("%s got it %d times", to, times)
		}
	}
}

func TestOneBadAddressHoldsNobodyUp(t *testing.T) {
	b, p := (&box{now: time.Unix(1e9, 0)}).add(3), &post{sent: map[string]int{}}
	p.refuses = func(to string) bool { return to == "p0@farm.example" }
	if err := deliver(b, p); err == nil || !strings.Contains(err.Error(), "no such mailbox") {
		t.Errorf("the trouble is not told: %v", err)
	}
	if len(p.sent) != 2 || b.unsent() != 1 || !strings.Contains(b.waiting[0].trouble, "no such mailbox") {
		t.Errorf("%d sent, %d wait, trouble %q", len(p.sent), b.unsent(), b.waiting[0].trouble)
	}
}

func TestTriesBecomeRarerButNeverEnd(t *testing.T) {
	b, p := (&box{now: time.Unix(1e9, 0)}).add(1), &post{sent: map[string]int{}}
	p.refuses = func(string) bool { return true }
	for day := range 30 { // every minute for a month
		before := b.waiting[0].Tries
		for range 24 * 60 {
			_ = deliver(b, p)
			b.now = b.now.Add(time.Minute)
		}
		if tries := b.waiting[0].Tries - before; day > 0 && (tries < 3 || tries > 5) {
			t.Errorf("day %d: %d tries", day, tries)
		}
	}
	p.refuses = nil
	b.now = b.now.Add(7 * time.Hour)
	if err := deliver(b, p); err != nil || b.unsent() != 0 {
		t.Errorf("when the post is back: %v, %d wait", err, b.unsent())
	}
}

func TestABrokenBoxEndsTheDelivery(t *testing.T) {
	b, p := (&box{now: time.Unix(1e9, 0), broken: errors.New("disk full")}).add(5), &post{sent: map[string]int{}}
	if err := deliver(b, p); !errors.Is(err, b.broken) || len(p.sent) != 1 {
		t.Errorf("%v after %d", err, len(p.sent))
	}
}

// Whatever the post refuses on the way, in the end everybody has got every
// notice exactly once.
func TestNothingIsLostOrDoubled(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, p := (&box{now: time.Unix(1e9, 0)}).add(rapid.IntRange(0, 12).Draw(t, "notices")), &post{sent: map[string]int{}}
		moods := rapid.SliceOfN(rapid.Bool(), 1, 40).Draw(t, "moods")
		i := 0
		p.refuses = func(string) bool { i++; return moods[i%len(moods)] }
		for range rapid.IntRange(1, 10).Draw(t, "rounds") {
			_ = deliver(b, p)
			b.now = b.now.Add(time.Duration(rapid.IntRange(0, 400).Draw(t, "minutes")) * time.Minute)
		}
		p.refuses = nil
		b.now = b.now.Add(24 * time.Hour)
		if err := deliver(b, p); err != nil {
			t.Fatal(err)
		}
		for _, e := range b.waiting {
			if p.sent[e.To] != 1 {
				t.Fatalf("%s got %d", e.To, p.sent[e.To])
			}
		}
	})
}
