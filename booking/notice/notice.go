package notice

import (
	"context"
	"errors"
	"fmt"
	"time"

	"drawbar/booking"
)

// Sender brings one notice to its reader.
type Sender interface {
	Send(ctx context.Context, from From, n booking.Notice) error
}

// From is who the mails are from.
type From struct {
	Name    string
	Address string // the machine's, which its mail server lets it use
	ReplyTo string // the business's own; "" for none
}

// Box holds the notices that wait.
type Box interface {
	// ClaimNotice takes one that is due and keeps it from others until then.
	ClaimNotice(ctx context.Context, until time.Time) (n booking.Notice, ok bool, err error)
	MarkSent(ctx context.Context, id booking.ID) error
	PostponeNotice(ctx context.Context, id booking.ID, until time.Time, trouble string) error
}

const (
	claimed  = 5 * time.Minute // longer than any sending takes
	atOnce   = 500
	longest  = 6 * time.Hour
	shortest = time.Minute
)

// Deliver sends the notices that are due, at most 500 in one go. One that
// cannot be sent does not hold up the others; the error names them all, and
// ends early only where the box itself fails.
func Deliver(ctx context.Context, box Box, sender Sender, from From, now func() time.Time) error {
	var troubles error
	for range atOnce {
		n, ok, err := box.ClaimNotice(ctx, now().Add(claimed))
		if err != nil || !ok {
			return errors.Join(troubles, err)
		}
		trouble, err := deliver(ctx, box, sender, from, n, now)
		troubles = errors.Join(troubles, trouble)
		if err != nil {
			return errors.Join(troubles, err)
		}
	}
	return troubles
}

// deliver tells trouble with the one notice from an error of the box.
func deliver(ctx context.Context, box Box, sender Sender, from From, n booking.Notice, now func() time.Time) (trouble, err error) {
	if trouble = sender.Send(ctx, from, n); trouble == nil {
		return nil, box.MarkSent(context.WithoutCancel(ctx), n.ID)
	}
	trouble = fmt.Errorf("notice %s, try %d: %w", n.ID, n.Tries+1, trouble)
	return trouble, box.PostponeNotice(context.WithoutCancel(ctx), n.ID, now().Add(pause(n.Tries)), trouble.Error())
}

// pause doubles from a minute to six hours.
func pause(tries int) time.Duration {
	if tries > 10 {
		return longest
	}
	return min(shortest<<tries, longest)
}
