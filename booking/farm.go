package booking

import "drawbar/booking/fault"

// Farm is a customer.
type Farm struct {
	ID      ID
	Name    string
	Contact string // the person to ask for
	Email   string
	Phone   string
	Address string
	TaxID   string
	Hygiene Hygiene
	Notes   string
	Version int
}

// Hygiene is the flock's health class: it decides the order within a day and
// the wash-down after. From 0, known clean, to 3, known infected.
type Hygiene int

// The hygiene classes.
const (
	KnownClean Hygiene = iota
	NoSigns
	Unknown
	KnownInfected
)

// HygieneClasses in the order a form lists them.
var HygieneClasses = []Hygiene{KnownClean, NoSigns, Unknown, KnownInfected}

// String is the class in words.
func (h Hygiene) String() string {
	switch h {
	case KnownClean:
		return "known clean"
	case NoSigns:
		return "no signs"
	case Unknown:
		return "not known"
	case KnownInfected:
		return "known infected"
	}
	return "not a class"
}

// Check says what is wrong with the entries, field by field.
func (f Farm) Check() error {
	e := fault.Fields{}
	e.Text("name", f.Name, 120, fault.Required)
	e.Text("contact", f.Contact, 120, fault.Optional)
	e.Email("email", f.Email, fault.Required)
	e.Text("phone", f.Phone, 40, fault.Optional)
	e.Text("address", f.Address, 400, fault.Optional)
	e.Text("tax_id", f.TaxID, 40, fault.Optional)
	e.Text("notes", f.Notes, 2000, fault.Optional)
	if f.Hygiene < KnownClean || f.Hygiene > KnownInfected {
		e.Add("hygiene", "Choose a flock health class from the list.")
	}
	return e.Err()
}
