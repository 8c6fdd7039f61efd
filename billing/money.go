package billing

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/quagmt/udecimal"
)

// Money is an amount in whole minor units of a currency: 1250 of USD is
// $12.50. Amounts of different currencies are never added.
type Money struct {
	Minor    int64
	Currency Currency
}

// Currency is an ISO 4217 alphabetic code.
type Currency string

// exponents are the numbers of decimal places of the minor unit where it is
// not two. Source: ISO 4217, list one (the currencies in use that have none
// or three; from memory, the code is what the standard publishes).
var exponents = map[Currency]uint8{
	"BIF": 0, "CLP": 0, "DJF": 0, "GNF": 0, "ISK": 0, "JPY": 0, "KMF": 0, "KRW": 0, "PYG": 0,
	"RWF": 0, "UGX": 0, "VND": 0, "VUV": 0, "XAF": 0, "XOF": 0, "XPF": 0,
	"BHD": 3, "IQD": 3, "JOD": 3, "KWD": 3, "LYD": 3, "OMR": 3, "TND": 3,
}

// signs stand before the amount where readers know them; other currencies
// show their code.
var signs = map[Currency]string{"USD": "$", "EUR": "€", "GBP": "£"}

// Exponent is the number of decimal places of the minor unit: 0, 2 or 3.
func (c Currency) Exponent() uint8 {
	if e, ok := exponents[c]; ok {
		return e
	}
	return 2
}

// Sign is what stands before an amount: "$", or the code and a space.
func (c Currency) Sign() string {
	if s, ok := signs[c]; ok {
		return s
	}
	return string(c) + " "
}

// Of is an amount of the currency in minor units.
func (c Currency) Of(minor int64) Money { return Money{Minor: minor, Currency: c} }

// String is the amount for people: "$1,234.50", "CHF 12.00", "-€0.05".
func (m Money) String() string {
	return m.sign() + m.Currency.Sign() + groups(strings.TrimPrefix(m.Plain(), "-"))
}

// Figure is String without the currency, for columns that name it once.
func (m Money) Figure() string { return m.sign() + groups(strings.TrimPrefix(m.Plain(), "-")) }

// Plain is the amount as a bare decimal, as a form field or a file takes it:
// "1234.50".
func (m Money) Plain() string {
	return m.decimal().StringFixed(m.Currency.Exponent())
}

// Add is the sum of two amounts of one currency; it panics for two, which no
// caller may let happen.
func (m Money) Add(n Money) Money {
	if m.Currency != n.Currency {
		panic(fmt.Sprintf("billing: adding %s to %s", n.Currency, m.Currency))
	}
	return m.Currency.Of(m.Minor + n.Minor)
}

// Neg is the amount with the other sign.
func (m Money) Neg() Money { return m.Currency.Of(-m.Minor) }

// Sub is the difference of two amounts of one currency.
func (m Money) Sub(n Money) Money { return m.Add(n.Neg()) }

func (m Money) sign() string {
	if m.Minor < 0 {
		return "-"
	}
	return ""
}

func (m Money) decimal() udecimal.Decimal {
	return udecimal.MustFromInt64(m.Minor, m.Currency.Exponent())
}

// round makes an amount of a decimal, half a minor unit away from zero.
func (c Currency) round(d udecimal.Decimal) Money {
	e := c.Exponent()
	minor, err := d.RoundHAZ(e).Mul(udecimal.MustFromInt64(pow10(e), 0)).Int64()
	if err != nil {
		panic(fmt.Sprintf("billing: %s %s is out of range", c, d)) // the limits of Check keep amounts far below
	}
	return c.Of(minor)
}

func pow10(e uint8) int64 {
	p := int64(1)
	for range e {
		p *= 10
	}
	return p
}

// groups puts commas between thousands of a plain decimal.
func groups(plain string) string {
	whole, part, found := strings.Cut(plain, ".")
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + "," + whole[i:]
	}
	if found {
		return whole + "." + part
	}
	return whole
}

// Number is a count with commas between thousands: "1,240".
func Number(n int64) string { return groups(strconv.FormatInt(n, 10)) }

// MarshalText is the amount with its currency, "12.50 USD", for JSON.
func (m Money) MarshalText() ([]byte, error) {
	return []byte(m.Plain() + " " + string(m.Currency)), nil
}

// UnmarshalText reads the form of MarshalText.
func (m *Money) UnmarshalText(text []byte) error {
	plain, currency, _ := strings.Cut(string(text), " ")
	unsigned := strings.TrimPrefix(plain, "-")
	read, err := ParseMoney(unsigned, Currency(currency))
	if unsigned != plain {
		read = read.Neg()
	}
	*m = read
	return err
}
