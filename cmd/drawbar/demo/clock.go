package demo

import "time"

// Clock is the time while the demo is being loaded: the past is entered as if
// it were then.
type Clock struct{ now time.Time }

// NewClock starts at a moment.
func NewClock(now time.Time) *Clock { return &Clock{now} }

// Now is the clock's time.
func (c *Clock) Now() time.Time { return c.now }

// at runs something at another time.
func (c *Clock) at(t time.Time, do func() error) error {
	real := c.now
	c.now = t
	defer func() { c.now = real }()
	return do()
}
