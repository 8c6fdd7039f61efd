// Package notice sends what was written to people. A notice is stored with
// the change it tells of; Deliver sends those that wait and notes each one as
// sent, so a stop between the two can at worst send one mail twice, and none
// is ever lost.
package notice

import (
	"context"
	"errors"
	"fmt"

	"drawbar/booking"
)

// Sender brings one notice to its reader.
type Sender interface {
	Send(ctx context.Context, n booking.Notice) error
}

// Box holds the notices that wait.
type Box interface {
	Unsent(ctx context.Context, most int) ([]booking.Notice, error)
	MarkSent(ctx context.Context, id booking.ID) error
}

const atOnce = 100

// Deliver sends the notices that wait, oldest first. One that cannot be sent
// does not hold up the others; the error names them all.
func Deliver(ctx context.Context, box Box, sender Sender) error {
	waiting, err := box.Unsent(ctx, atOnce)
	if err != nil {
		return err
	}
	var failed error
	for _, n := range waiting {
		if err := sender.Send(ctx, n); err != nil {
			failed = errors.Join(failed, fmt.Errorf("notice %s: %w", n.ID, err))
			continue
		}
		if err := box.MarkSent(ctx, n.ID); err != nil {
			return errors.Join(failed, err)
		}
	}
	return failed
}
