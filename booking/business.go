package booking

import (
	"time"

	"drawbar/booking/fault"

	"cloud.google.com/go/civil"
	"github.com/paulmach/orb"
)

// Business is the contractor's own: one to a database.
type Business struct {
	Name     string
	Address  string // lines, as printed on an invoice
	Email    string
	Phone    string
	TaxID    string
	Zone     string // IANA name, such as America/New_York
	Country  string // ISO 3166-1 alpha-2
	Currency string // ISO 4217
	HomeName string
	Home     orb.Point // lon, lat of the home yard
	// FarmersChoose lets farmers that were visited before take a day
	// themselves, where it fits and nothing else has to move.
	FarmersChoose bool
	Running       Running // all zero = usual costs
	Version       int
}

// Location is the business's zone; screens and calendar days use it.
func (b Business) Location() *time.Location {
	loc, err := time.LoadLocation(b.Zone)
	if err != nil || b.Zone == "" {
		return time.UTC
	}
	return loc
}

// Today is the day in the business's zone at a moment.
func (b Business) Today(now time.Time) civil.Date { return civil.DateOf(now.In(b.Location())) }

// Check says what is wrong with the entries, field by field.
func (b Business) Check() error {
	f := fault.Fields{}
	f.Text("name", b.Name, 120, fault.Required)
	f.Text("address", b.Address, 400, fault.Optional)
	f.Text("phone", b.Phone, 40, fault.Optional)
	f.Text("tax_id", b.TaxID, 40, fault.Optional)
	f.Text("home_name", b.HomeName, 120, fault.Required)
	f.Email("email", b.Email, fault.Required)
	checkZone(f, b.Zone)
	checkCode(f, "country", b.Country, 2, "the two capital letters of the country, such as US or IE")
	checkCode(f, "currency", b.Currency, 3, "the three capital letters of the currency, such as USD or EUR")
	checkPosition(f, "home", b.Home)
	return f.Err()
}

func checkZone(f fault.Fields, zone string) {
	if _, err := time.LoadLocation(zone); err != nil || zone == "" || zone == "Local" {
		f.Add("zone", "Give a time zone by its region and city, such as America/New_York or Europe/Dublin.")
	}
}

func checkCode(f fault.Fields, field, code string, length int, want string) {
	ok := len(code) == length
	for _, r := range code {
		ok = ok && r >= 'A' && r <= 'Z'
	}
	if !ok {
		f.Add(field, "Give %s.", want)
	}
}

// checkPosition wants a point on Earth that is not the 0, 0 of an empty form.
func checkPosition(f fault.Fields, field string, p orb.Point) {
	lon, lat := p.Lon(), p.Lat()
	if !(lon >= -180 && lon <= 180 && lat >= -90 && lat <= 90) || p == (orb.Point{}) {
		f.Add(field, "Give the position as latitude and longitude in degrees, such as 38.91 and -75.55.")
	}
}
