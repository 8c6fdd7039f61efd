package billing

import (
	"cmp"
	"slices"
)

// TaxCategory is a code of UN/CEFACT code list 5305 as EN 16931 uses it.
type TaxCategory string

// The categories the price list offers.
const (
	Standard TaxCategory = "S" // a rate above zero
	ZeroRate TaxCategory = "Z" // taxed at zero
	Exempt   TaxCategory = "E" // not taxed by a rule that has to be named
	Outside  TaxCategory = "O" // outside the scope of the tax
)

// TaxCategories in the order a form lists them.
var TaxCategories = []TaxCategory{Standard, ZeroRate, Exempt, Outside}

// Words is the category for people.
func (c TaxCategory) Words() string {
	switch c {
	case Standard:
		return "taxed"
	case ZeroRate:
		return "taxed at zero"
	case Exempt:
		return "exempt from tax"
	case Outside:
		return "outside the scope of tax"
	}
	return "not a category"
}

// NeedsReason tells whether an invoice has to say why there is no tax
// (EN 16931, BR-E-10 and BR-O-10; Directive 2006/112/EC, Art. 226 (11)).
func (c TaxCategory) NeedsReason() bool { return c == Exempt || c == Outside }

// Tax is how a line is taxed.
type Tax struct {
	Category TaxCategory
	Percent  Rate // 0 unless Standard
}

// Words is the tax for people: "25 %", "exempt from tax".
func (t Tax) Words() string {
	if t.Category == Standard {
		return t.Percent.Percent()
	}
	return t.Category.Words()
}

// TaxSum is one line of the tax summary.
type TaxSum struct {
	Tax
	Base Money // Σ net of the lines of this category and per cent
	Due  Money // Base × per cent, rounded once
}

// Totals are the sums of a document.
type Totals struct {
	Net   Money    // Σ net of the lines (EN 16931, BR-CO-10)
	Taxes []TaxSum // by category and per cent, the highest per cent first
	Tax   Money    // Σ of Taxes (BR-CO-14)
	Gross Money    // Net + Tax (BR-CO-15)
}

// Sum adds up lines of one currency. Tax is worked out for each category and
// per cent on the sum of its lines, not line by line (BR-S-08, BR-S-09).
func Sum(c Currency, lines []Line) Totals {
	bases := map[Tax]Money{}
	t := Totals{Net: c.Of(0), Tax: c.Of(0)}
	for _, l := range lines {
		t.Net = t.Net.Add(l.Net)
		bases[l.Tax] = c.Of(bases[l.Tax].Minor).Add(l.Net)
	}
	for tax, base := range bases {
		sum := TaxSum{Tax: tax, Base: base, Due: tax.Percent.PercentOf(base)}
		t.Taxes = append(t.Taxes, sum)
		t.Tax = t.Tax.Add(sum.Due)
	}
	slices.SortFunc(t.Taxes, func(a, b TaxSum) int {
		return cmp.Or(cmp.Compare(b.Percent, a.Percent), cmp.Compare(a.Category, b.Category))
	})
	t.Gross = t.Net.Add(t.Tax)
	return t
}

// Less is what t has more than u: the totals of what is taken back when an
// invoice that was t becomes u. Categories with nothing left to say fall away.
func (t Totals) Less(u Totals) Totals {
	less := Totals{Net: t.Net.Sub(u.Net), Tax: t.Tax.Sub(u.Tax), Gross: t.Gross.Sub(u.Gross)}
	rest := map[Tax]TaxSum{}
	for _, sum := range u.Taxes {
		rest[sum.Tax] = sum
	}
	for _, sum := range t.Taxes {
		if other, ok := rest[sum.Tax]; ok {
			if other == sum {
				continue
			}
			sum.Base, sum.Due = sum.Base.Sub(other.Base), sum.Due.Sub(other.Due)
		}
		less.Taxes = append(less.Taxes, sum)
	}
	return less
}
