package billing_test

import (
	"math/big"
	"testing"

	"drawbar/billing"

	"pgregory.net/rapid"
)

// Source: the tax subtotals of the official UBL examples of EN 16931 (CEN/TC
// 434, example invoices and credit notes): base, per cent, tax in EUR, in
// minor units and hundredths of a per cent. 1460.50, 625743.54 and its
// negative tell half away from zero from half to even.
var examples = []struct{ base, percent, tax int64 }{
	{-62574354, 2500, -15643589}, {-132500, 2500, -33125}, {-2500, 0, 0}, {0, 0, 0}, {100, 1500, 15},
	{1212, 2500, 303}, {4637, 2100, 974}, {10000, 600, 600}, {10011, 0, 0}, {14700, 2100, 3087},
	{18323, 600, 1099}, {20000, 1200, 2400}, {40000, 2500, 10000}, {80000, 1000, 8000}, {90000, 2500, 22500},
	{90891, 2100, 19087}, {100000, 0, 0}, {120000, 0, 0}, {124600, 2200, 27412}, {132500, 2500, 33125},
	{146050, 2500, 36513}, {150000, 2500, 37500}, {200000, 1500, 30000}, {250000, 1200, 30000},
	{490000, 2500, 122500}, {500000, 2500, 125000}, {62574354, 2500, 15643589},
}

func TestTaxOfTheOfficialExamples(t *testing.T) {
	for _, e := range examples {
		percent := billing.Rate(e.percent * 100)
		if got := percent.PercentOf(billing.Currency("EUR").Of(e.base)); got.Minor != e.tax {
			t.Errorf("%s of %d is %d, want %d", percent.Percent(), e.base, got.Minor, e.tax)
		}
	}
}

// round is the test's own rounding: half away from zero in exact fractions.
func round(x *big.Rat) int64 {
	doubled := new(big.Int).Mul(x.Num(), big.NewInt(2))
	half := x.Denom()
	if x.Sign() < 0 {
		half = new(big.Int).Neg(half)
	}
	doubled.Add(doubled, half)
	return new(big.Int).Quo(doubled, new(big.Int).Mul(x.Denom(), big.NewInt(2))).Int64()
}

func TestRoundingOfTheOracle(t *testing.T) {
	for _, c := range []struct{ num, den, want int64 }{{1, 2, 1}, {-1, 2, -1}, {3, 2, 2}, {5, 2, 3}, {-5, 2, -3}, {49, 100, 0}, {-49, 100, 0}, {7, 1, 7}} {
		if got := round(big.NewRat(c.num, c.den)); got != c.want {
			t.Errorf("%d/%d rounds to %d, want %d", c.num, c.den, got, c.want)
		}
	}
}

func TestPercentAgainstExactFractions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		base := rapid.Int64Range(-1e12, 1e12).Draw(t, "base")
		percent := rapid.Int64Range(0, 1_000_000).Draw(t, "percent")
		c := rapid.SampledFrom([]billing.Currency{"USD", "JPY", "KWD"}).Draw(t, "currency")
		want := round(new(big.Rat).SetFrac(new(big.Int).Mul(big.NewInt(base), big.NewInt(percent)), big.NewInt(1_000_000)))
		if got := billing.Rate(percent).PercentOf(c.Of(base)); got.Minor != want {
			t.Errorf("got %d, want %d", got.Minor, want)
		}
	})
}

// EN 16931: BR-CO-10 (net = Σ lines), BR-S-08 (base = Σ of its lines),
// BR-CO-14 (tax = Σ of categories), BR-CO-15 (gross = net + tax).
func TestSumKeepsTheRulesOfTotals(t *testing.T) {
	taxes := []billing.Tax{
		{Category: billing.Standard, Percent: billing.Whole(25)}, {Category: billing.Standard, Percent: billing.Rate(88750)},
		{Category: billing.ZeroRate}, {Category: billing.Exempt},
	}
	rapid.Check(t, func(t *rapid.T) {
		var lines []billing.Line
		net, base := int64(0), map[billing.Tax]int64{}
		for _, minor := range rapid.SliceOfN(rapid.Int64Range(-1e9, 1e9), 0, 30).Draw(t, "nets") {
			tax := rapid.SampledFrom(taxes).Draw(t, "tax")
			lines = append(lines, billing.Line{Net: usd.Of(minor), Tax: tax})
			net += minor
			base[tax] += minor
		}
		tax := int64(0)
		for how, sum := range base {
			tax += round(new(big.Rat).SetFrac(new(big.Int).Mul(big.NewInt(sum), big.NewInt(int64(how.Percent))), big.NewInt(1_000_000)))
		}
		got := billing.Sum(usd, lines)
		if got.Net.Minor != net || got.Tax.Minor != tax || got.Gross.Minor != net+tax || len(got.Taxes) != len(base) {
			t.Errorf("got %+v, want net %d, tax %d in %d categories", got, net, tax, len(base))
		}
	})
}

// Two lines of 0.02 at 25 % are taxed 0.01 together; line by line it would be
// 0.02 (by hand from BR-S-09).
func TestTaxIsOnTheSumOfItsCategory(t *testing.T) {
	tax := billing.Tax{Category: billing.Standard, Percent: billing.Whole(25)}
	got := billing.Sum(usd, []billing.Line{{Net: usd.Of(2), Tax: tax}, {Net: usd.Of(2), Tax: tax}})
	if got.Tax.Minor != 1 || len(got.Taxes) != 1 {
		t.Errorf("got %+v", got)
	}
}
