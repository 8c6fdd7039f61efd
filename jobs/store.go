package jobs

import (
	"context"
	"time"

	"drawbar/booking"
	"drawbar/booking/pace/learn"

	"cloud.google.com/go/civil"
)

// Store keeps events and signed dockets. Each method is one transaction.
// Something unknown is fault.NotFound.
type Store interface {
	// Append stores the sound events of a batch and answers for each event.
	// However often and from however many senders at once an event comes, it
	// is stored once. The first arrival or work puts the visit under way.
	Append(ctx context.Context, visit, person booking.ID, batch Batch) ([]Answer, error)
	// Events of a visit in order of time.
	Events(ctx context.Context, visit booking.ID) ([]Event, error)
	// Docket is what the events before signing add up to, with what it is
	// held against.
	Docket(ctx context.Context, visit booking.ID) (OpenDocket, error)
	// Sign freezes the docket of a visit whose farmer has signed, signs the
	// visit off, and marks its booking done when all its live visits are. For
	// a visit that is signed off already it gives the docket that stands.
	Sign(ctx context.Context, visit booking.ID) (SignedDocket, error)
	// Correct stores a docket that supersedes a signed one; of two at once
	// one gets fault.Conflict.
	Correct(ctx context.Context, c Correction) (SignedDocket, error)
	// SignedDocket by its id.
	SignedDocket(ctx context.Context, id booking.ID) (SignedDocket, error)
	// SignedDockets picks signed dockets in order of day and id.
	SignedDockets(ctx context.Context, q DocketQuery) ([]SignedDocket, error)
	// Unsigned are live visits until a day that have events or are over, and
	// no signed docket.
	Unsigned(ctx context.Context, until civil.Date) ([]booking.Visit, error)
	// Late are the signed-off visits for which something arrived after
	// signing that a correction has not taken in.
	Late(ctx context.Context) ([]booking.ID, error)

	// Untimed are standing dockets without a timing, or signed before a moment
	// and without a settled one, in order of signing; at most so many.
	Untimed(ctx context.Context, before time.Time, limit int) ([]SignedDocket, error)
	// KeepTimings stores timings in place of earlier ones of the same dockets.
	KeepTimings(ctx context.Context, timings []Timing) error
	// Timings of standing dockets, in order of signing.
	Timings(ctx context.Context) ([]learn.Docket, error)
	// TimingMark is a text that differs whenever Timings does.
	TimingMark(ctx context.Context) (string, error)
}

// OpenDocket is what the events of a visit add up to so far.
type OpenDocket struct {
	Sheet  Sheet
	Docket Docket
	Known  []booking.ID // events it was folded from, struck ones included
	Late   []Event      // arrived after signing; see Kind.FollowsSigning
	Signed booking.ID   // the docket that stands; "" before signing
}

// DocketQuery picks signed dockets. Zero fields do not restrict.
type DocketQuery struct {
	From, To civil.Date // days of the visits, both included
	FarmID   booking.ID
	VisitID  booking.ID
	Standing bool // leave out those that are superseded
	Limit    int  // 0 means 1000
}
