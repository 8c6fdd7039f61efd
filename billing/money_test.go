package billing_test

import (
	"strings"
	"testing"

	"drawbar/billing"
	"drawbar/booking/fault"
)

// Exponents: ISO 4217 list one (JPY 0, EUR 2, KWD 3).
func TestMoneyForPeople(t *testing.T) {
	for want, m := range map[string]billing.Money{
		"$1,234.50":      {Minor: 123450, Currency: "USD"},
		"-€0.05":         {Minor: -5, Currency: "EUR"},
		"£1,000,000.00":  {Minor: 100000000, Currency: "GBP"},
		"JPY 1,250":      {Minor: 1250, Currency: "JPY"},
		"KWD 1.005":      {Minor: 1005, Currency: "KWD"},
		"CHF 0.00":       {Currency: "CHF"},
		"$999.99":        {Minor: 99999, Currency: "USD"},
		"-$1,234,567.89": {Minor: -123456789, Currency: "USD"},
	} {
		if got := m.String(); got != want {
			t.Errorf("%#v reads %q, want %q", m, got, want)
		}
	}
}

func TestRateForPeople(t *testing.T) {
	for want, got := range map[string]string{
		"$0.50":     billing.Rate(5000).In("USD"),
		"$0.4525":   billing.Rate(4525).In("USD"),
		"$0.452":    billing.Rate(4520).In("USD"),
		"JPY 40":    billing.Whole(40).In("JPY"),
		"$1,200.00": billing.Whole(1200).In("USD"),
		"8.875 %":   billing.Rate(88750).Percent(),
		"25 %":      billing.Whole(25).Percent(),
	} {
		if got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

func TestParseMoneyTakesWhatPeopleType(t *testing.T) {
	for text, want := range map[string]int64{
		"12.50": 1250, "12,5": 1250, " 12 ": 1200, "$12.50": 1250, "12.50 USD": 1250, "USD 12.50": 1250, "0": 0, "007.10": 710,
		"12.500": 1250, "999999999": 99999999900,
	} {
		got, err := billing.ParseMoney(text, usd)
		if err != nil || got != usd.Of(want) {
			t.Errorf("%q reads %v (%v), want %d", text, got, err, want)
		}
	}
	if got, err := billing.ParseMoney("1250", "JPY"); err != nil || got.Minor != 1250 {
		t.Errorf("1250 JPY reads %v (%v)", got, err)
	}
}

func TestParseMoneyRefusesWhatIsUnclear(t *testing.T) {
	for text, says := range map[string]string{
		"": "such as 12.50", "-5": "without a sign", "1,250": "Write 1250 or 1.250", "1.005": "at most 2", "1 000": "between thousands",
		"1e3": "such as", "0x10": "such as", "٣": "such as", "1.": "such as", "9999999999": "such as", "NaN": "such as", "1,234.50": "between thousands",
	} {
		_, err := billing.ParseMoney(text, usd)
		if !fault.Is(err, fault.Invalid) || !strings.Contains(fault.Sentence(err), says) {
			t.Errorf("%q: %v, want a sentence with %q", text, err, says)
		}
	}
	if _, err := billing.ParseMoney("12.5", "JPY"); !strings.Contains(fault.Sentence(err), "whole number") {
		t.Errorf("12.5 JPY: %v", err)
	}
	if _, err := billing.ParsePercent("100.5"); !fault.Is(err, fault.Invalid) {
		t.Errorf("100.5 %%: %v", err)
	}
}

// What is read prints as a decimal that reads as the same amount.
func FuzzParseMoney(f *testing.F) {
	currencies := []billing.Currency{"USD", "KWD", "JPY", "EUR", "CHF"}
	for _, s := range []string{"12.50", "1,5", "$3", "1,234", "999999999.99", "", "\xff", "€ 2", "KWD 1.005"} {
		for i := range currencies {
			f.Add(s, uint8(i))
		}
	}
	f.Fuzz(func(t *testing.T, text string, which uint8) {
		c := currencies[int(which)%len(currencies)]
		m, err := billing.ParseMoney(text, c)
		if err != nil {
			return
		}
		again, err := billing.ParseMoney(m.Plain(), c)
		if err != nil || again != m {
			t.Errorf("%q is %v, prints %q, reads %v (%v)", text, m, m.Plain(), again, err)
		}
	})
}

func FuzzParseRate(f *testing.F) {
	for _, s := range []string{"0.4525", "1,5", "25", "0.00001", "1,234", "\x00"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		r, err := billing.ParseRate(text, usd)
		if err != nil {
			return
		}
		if again, err := billing.ParseRate(r.Plain(), usd); err != nil || again != r {
			t.Errorf("%q is %d, prints %q, reads %d (%v)", text, r, r.Plain(), again, err)
		}
	})
}
