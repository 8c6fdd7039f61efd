package booking

import (
	"context"
	"time"

	"drawbar/booking/fault"

	"cloud.google.com/go/civil"
)

// Desk is where bookings are taken, changed and promised. It holds the rules
// that need more than one thing to decide; the Store keeps the results.
type Desk struct {
	Store Store
	Now   func() time.Time
	Site  string // address of the program, without a slash at the end
}

// today in the business's zone.
func (d *Desk) today(b Business) civil.Date { return b.Today(d.Now()) }

// Request is what a farmer sends in: a farm and a yard, which are new while
// their Version is 0, and what is to be done when.
type Request struct {
	Farm    Farm
	Yard    Yard
	Mobs    []Mob
	Windows []Window
	Note    string
}

// linkLife is how long a booking can be opened after its last day.
const linkLife = 60 * 24 * time.Hour

// Ask takes a booking in, mails the farmer a link that changes or withdraws
// it, and gives back the link's secret for the page that follows.
func (d *Desk) Ask(ctx context.Context, r Request) (Booking, Secret, error) {
	business, err := d.Store.Business(ctx)
	if err != nil {
		return Booking{}, "", err
	}
	b := Booking{State: Asked, Mobs: r.Mobs, Windows: r.Windows, Note: r.Note, Created: d.Now()}
	if err := d.checkRequest(ctx, business, r, b); err != nil {
		return Booking{}, "", err
	}
	if b.Attention, err = d.known(ctx, r.Farm); err != nil {
		return Booking{}, "", err
	}
	b.ID = NewID()
	link, secret := d.bookingLink(b)
	err = d.Store.AddBooking(ctx, NewBooking{
		Farm: &r.Farm, Yard: &r.Yard, Booking: &b, Links: []Link{link},
		Notices: []Notice{d.letter(business, r.Farm).asked(b, d.BookingURL(secret))},
	})
	return b, secret, err
}

// Check says what is wrong with a request without taking it in: under "farm.",
// "yard." and the booking's own names.
func (d *Desk) Check(ctx context.Context, r Request) error {
	business, err := d.Store.Business(ctx)
	if err != nil {
		return err
	}
	return d.checkRequest(ctx, business, r, Booking{Mobs: r.Mobs, Windows: r.Windows, Note: r.Note})
}

// checkRequest gathers what is wrong in all parts, under "farm.", "yard." and
// the booking's own names.
func (d *Desk) checkRequest(ctx context.Context, business Business, r Request, b Booking) error {
	services, err := d.Store.Services(ctx)
	if err != nil {
		return err
	}
	f := fault.Fields{}
	if r.Farm.Version == 0 {
		f.Merge("farm.", fault.FieldsOf(r.Farm.Check()))
	}
	if r.Yard.Version == 0 {
		f.Merge("yard.", fault.FieldsOf(r.Yard.Check()))
	} else if r.Yard.FarmID != r.Farm.ID {
		f.Add("yard", "Choose one of the farm's yards, or describe a new one.")
	}
	f.Merge("", fault.FieldsOf(b.Check(ByCode(services), d.today(business))))
	return f.Err()
}

// known is a sentence for the contractor when a new farm gives an address
// that is on file. The farmer is not told: the address may not be theirs.
func (d *Desk) known(ctx context.Context, farm Farm) (string, error) {
	if farm.Version != 0 {
		return "", nil
	}
	farms, err := d.Store.FarmsByEmail(ctx, farm.Email)
	if err != nil || len(farms) == 0 {
		return "", err
	}
	return "Booked as a new farm, but the mail address is on file for " + farms[0].Name + ". Ring to ask whether it is the same one.", nil
}

// bookingLink makes a link that opens the booking until well after its last day.
func (d *Desk) bookingLink(b Booking) (Link, Secret) {
	secret := NewSecret()
	return Link{Hash: secret.Hash(), Purpose: ToBooking, Subject: b.ID, Expires: b.Latest().In(time.UTC).Add(linkLife)}, secret
}

// FindFarm mails a link to every farm with this address. Nothing tells the
// caller whether there was one.
func (d *Desk) FindFarm(ctx context.Context, email string) error {
	f := fault.Fields{}
	if f.Email("email", email, fault.Required); f.Err() != nil {
		return f.Err()
	}
	business, err := d.Store.Business(ctx)
	if err != nil {
		return err
	}
	farms, err := d.Store.FarmsByEmail(ctx, email)
	if err != nil {
		return err
	}
	for _, farm := range farms {
		secret := NewSecret()
		link := Link{Hash: secret.Hash(), Purpose: ToFarm, Subject: farm.ID, Expires: d.Now().Add(time.Hour), Once: true}
		if err := d.Store.AddLink(ctx, link, d.letter(business, farm).found(d.FarmURL(secret))); err != nil {
			return err
		}
	}
	return nil
}

// BookingURL opens a booking.
func (d *Desk) BookingURL(s Secret) string { return d.Site + "/b/" + string(s) }

// FarmURL opens the booking form for a farm on file, once.
func (d *Desk) FarmURL(s Secret) string { return d.Site + "/f/" + string(s) }

// SignInURL signs a person in, once.
func (d *Desk) SignInURL(s Secret) string { return d.Site + "/sign-in/" + string(s) }

// MailSignIn mails a link to the person with this address, if there is one
// who still works here. Nothing tells the caller whether there was.
func (d *Desk) MailSignIn(ctx context.Context, email string) error {
	f := fault.Fields{}
	if f.Email("email", email, fault.Required); f.Err() != nil {
		return f.Err()
	}
	p, err := d.Store.PersonByEmail(ctx, email)
	if fault.Is(err, fault.NotFound) || err == nil && !p.Active {
		return nil
	}
	if err != nil {
		return err
	}
	link, secret := d.signInLink(p)
	return d.Store.AddLink(ctx, link, Notice{
		To: p.Email, ToName: p.Name, Subject: "Your link to sign in",
		Body: "Hello " + p.Name + ",\n\nthis signs you in. It works once, for an hour.\n\n" + d.SignInURL(secret) + "\n\nIf you did not ask for it, nothing needs doing.\n",
	})
}

// SignInLink makes a link that signs a person in, to be handed over by hand.
func (d *Desk) SignInLink(ctx context.Context, p Person) (url string, err error) {
	link, secret := d.signInLink(p)
	return d.SignInURL(secret), d.Store.AddLink(ctx, link)
}

func (d *Desk) signInLink(p Person) (Link, Secret) {
	secret := NewSecret()
	return Link{Hash: secret.Hash(), Purpose: ToSignIn, Subject: p.ID, Expires: d.Now().Add(time.Hour), Once: true}, secret
}

// OpenBookingLink makes another link to a booking, to be handed over by hand.
func (d *Desk) OpenBookingLink(ctx context.Context, b Booking) (url string, err error) {
	link, secret := d.bookingLink(b)
	return d.BookingURL(secret), d.Store.AddLink(ctx, link)
}
