package booking

import (
	"context"
	"fmt"
	"slices"

	"drawbar/booking/fault"
)

// Offer names the booking's planned day to the farmer and waits for an answer.
func (d *Desk) Offer(ctx context.Context, visit ID, version int) error {
	return d.promise(ctx, visit, version, Offered, Pencilled, "offered the day of", letter.offered)
}

// Fix promises the booking's planned day: the visit no longer moves and the
// farmer is told.
func (d *Desk) Fix(ctx context.Context, visit ID, version int) error {
	return d.promise(ctx, visit, version, Agreed, Fixed, "fixed", letter.agreed)
}

// promise moves a booking and all its waiting visits to a new state and tells
// the farmer the days.
func (d *Desk) promise(ctx context.Context, visit ID, version int, state State, to VisitState, verb string, write func(letter, Booking, []Visit, string) Notice) error {
	v, b, visits, err := d.visitOf(ctx, visit, version)
	if err != nil {
		return err
	}
	if v.State != Pencilled {
		return fault.Newf(fault.Conflict, "This visit is %s already.", v.State)
	}
	b.State, b.Attention = state, ""
	return d.store(ctx, b, inState(visits, to), verb, func(l letter, b Booking, url string) Notice {
		return write(l, b, visits, url)
	})
}

// Unfix lets a promised visit move again. Nobody is written to: the day only
// changes when it is moved and fixed anew, and the board says so.
func (d *Desk) Unfix(ctx context.Context, visit ID, version int) error {
	v, b, visits, err := d.visitOf(ctx, visit, version)
	if err != nil {
		return err
	}
	if v.State != Fixed {
		return fault.Newf(fault.Conflict, "This visit is %s, not fixed.", v.State)
	}
	b.State = Asked
	b.Attention = "The day was promised and has been unfixed; the farmer does not know yet."
	return d.store(ctx, b, inState(visits, Pencilled), "unfixed", nil)
}

// CallOff frees the time of a booking's waiting visits and puts the booking
// back in the tray, with the reason for whoever plans it anew. A promised day
// is taken back by letter.
func (d *Desk) CallOff(ctx context.Context, visit ID, version int, reason string) error {
	f := fault.Fields{}
	if f.Text("reason", reason, 300, fault.Required); f.Err() != nil {
		return f.Err()
	}
	v, b, visits, err := d.visitOf(ctx, visit, version)
	if err != nil {
		return err
	}
	var tell func(letter, Booking, string) Notice
	if v.State == Fixed || b.State == Offered {
		tell = func(l letter, b Booking, url string) Notice { return l.calledOff(b, visits, reason, url) }
	}
	b.State, b.Attention = Asked, "Called off: "+reason
	return d.store(ctx, b, inState(visits, CalledOff), "called off", tell)
}

// visitOf is a visit that has not begun, as the reader saw it, with its
// booking and all of the booking's waiting visits.
func (d *Desk) visitOf(ctx context.Context, id ID, version int) (Visit, Booking, []Visit, error) {
	v, err := d.Store.Visit(ctx, id)
	if err != nil {
		return v, Booking{}, nil, err
	}
	if v.Version != version {
		return v, Booking{}, nil, fault.New(fault.Conflict, "This visit has changed since you looked at it. Nothing was done; here is how it stands now.")
	}
	if v.State != Pencilled && v.State != Fixed {
		return v, Booking{}, nil, fault.Newf(fault.Conflict, "This visit is %s and cannot be changed any more.", v.State)
	}
	b, err := d.Store.Booking(ctx, v.BookingID)
	if err != nil {
		return v, b, nil, err
	}
	visits, err := d.waiting(ctx, b.ID)
	return v, b, visits, err
}

// Weigh records the weight classes of a booking's mobs, in the order of the
// mobs; an empty list forgets them. Visits keep their length until they are
// planned again. The error names the mob: "mob.0.weights".
func (d *Desk) Weigh(ctx context.Context, id ID, version int, classes [][]WeightClass) error {
	b, err := d.openBooking(ctx, id)
	if err != nil {
		return err
	}
	f := fault.Fields{}
	for i := range min(len(b.Mobs), len(classes)) {
		b.Mobs[i].Weights = classes[i]
		if text := b.Mobs[i].weightsFault(); text != "" {
			f.Add(fmt.Sprintf("mob.%d.weights", i), "%s", text)
		}
	}
	if err := f.Err(); err != nil {
		return err
	}
	b.Version = version
	return d.store(ctx, b, nil, "weighed the animals of", nil)
}

// Prioritise says how much it matters that a booking gets a day.
func (d *Desk) Prioritise(ctx context.Context, id ID, version int, p Priority) error {
	if !slices.Contains(Priorities, p) {
		return fault.New(fault.Invalid, "Choose from the list how much it matters that this booking gets a day.")
	}
	b, err := d.Store.Booking(ctx, id)
	if err != nil {
		return err
	}
	b.Version, b.Priority = version, p
	return d.Store.ChangeBooking(ctx, BookingChange{Booking: &b, Verb: "weighed", Detail: p.InWords()})
}

// Dismiss takes note of what a booking asked to be looked at.
func (d *Desk) Dismiss(ctx context.Context, id ID, version int) error {
	b, err := d.Store.Booking(ctx, id)
	if err != nil || b.Attention == "" {
		return err
	}
	seen := b.Attention
	b.Version, b.Attention = version, ""
	return d.Store.ChangeBooking(ctx, BookingChange{Booking: &b, Verb: "took note of", Detail: seen})
}

// AgreedLetter tells a farmer that a day is promised. It is sent with the
// change it tells of.
func (d *Desk) AgreedLetter(ctx context.Context, b Booking, visits []Visit) (Link, Notice, error) {
	return d.letterWith(ctx, b, func(l letter, b Booking, url string) Notice { return l.agreed(b, visits, url) })
}

// MovedLetter tells a farmer that a promised day moves, or, for no next
// visits, that it is taken back. It is sent with the change it tells of.
func (d *Desk) MovedLetter(ctx context.Context, b Booking, old, next []Visit) (Link, Notice, error) {
	return d.letterWith(ctx, b, func(l letter, b Booking, url string) Notice { return l.moved(b, old, next, url) })
}

// letterWith writes a letter with a fresh link to its booking.
func (d *Desk) letterWith(ctx context.Context, b Booking, write func(letter, Booking, string) Notice) (Link, Notice, error) {
	business, err := d.Store.Business(ctx)
	if err != nil {
		return Link{}, Notice{}, err
	}
	farm, err := d.Store.Farm(ctx, b.FarmID)
	if err != nil {
		return Link{}, Notice{}, err
	}
	link, secret := d.bookingLink(b)
	return link, write(d.letter(business, farm), b, d.BookingURL(secret)), nil
}
