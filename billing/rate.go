package billing

import (
	"strings"

	"github.com/quagmt/udecimal"
)

// Rate is a number with up to four decimal places, kept in ten-thousandths:
// an amount of money for each head or kilometre, or a per cent. 4525 is
// 0.4525.
type Rate int64

const ratePlaces = 4

// Whole is the rate of a whole number.
func Whole(n int64) Rate { return Rate(n * pow10(ratePlaces)) }

func (r Rate) decimal() udecimal.Decimal { return udecimal.MustFromInt64(int64(r), ratePlaces) }

// Plain is the rate as a bare decimal without needless zeros: "0.45", "25".
func (r Rate) Plain() string { return r.decimal().String() }

// In is the rate as money for people, with at least the places of the
// currency: "$0.50", "€0.4525".
func (r Rate) In(c Currency) string { return c.Sign() + r.Figure(c) }

// Figure is In without the currency, for columns that name it once.
func (r Rate) Figure(c Currency) string {
	plain := r.Plain()
	_, part, _ := strings.Cut(plain, ".")
	if len(part) < int(c.Exponent()) {
		plain = r.decimal().StringFixed(c.Exponent())
	}
	return groups(plain)
}

// Percent is the rate as a per cent for people: "8.875 %".
func (r Rate) Percent() string { return r.Plain() + " %" }

// Times is the amount for a quantity, half a minor unit away from zero.
func (r Rate) Times(quantity int64, c Currency) Money {
	return c.round(r.decimal().Mul(udecimal.MustFromInt64(quantity, 0)))
}

// PercentOf is that many per cent of an amount, half a minor unit away from
// zero (EN 16931, BR-S-09 and its family: tax = base × rate / 100).
func (r Rate) PercentOf(m Money) Money {
	exact := m.decimal().Mul(udecimal.MustFromInt64(int64(r), ratePlaces+2))
	return m.Currency.round(exact)
}

// MarshalText is Plain, for JSON.
func (r Rate) MarshalText() ([]byte, error) { return []byte(r.Plain()), nil }

// UnmarshalText reads the form of MarshalText.
func (r *Rate) UnmarshalText(text []byte) error {
	read, err := parseScaled(string(text), ratePlaces)
	*r = Rate(read)
	return err
}
