package billing_test

import (
	"encoding/json"
	"testing"
	"time"

	"drawbar/billing"

	"cloud.google.com/go/civil"
)

func TestMonthEnds(t *testing.T) {
	for text, last := range map[string]string{"2026-02": "2026-02-28", "2028-02": "2028-02-29", "2026-12": "2026-12-31", "2000-02": "2000-02-29"} {
		m, err := billing.ParseMonth(text)
		if err != nil {
			t.Fatal(err)
		}
		if m.Last().String() != last || m.String() != text || m.First().String() != text+"-01" {
			t.Errorf("%s runs from %s to %s, want to %s", m, m.First(), m.Last(), last)
		}
	}
	december := billing.Month{Year: 2026, Month: time.December}
	if got := december.Next(2); got.String() != "2027-02" || december.Next(-12).String() != "2025-12" || got.Words() != "February 2027" {
		t.Errorf("two months on is %s (%s)", got, got.Words())
	}
	if !december.Before(december.Next(1)) || december.Before(december) {
		t.Error("months do not sort")
	}
	if billing.MonthOf(civil.Date{Year: 2026, Month: 12, Day: 31}) != december {
		t.Error("31 December is not in December")
	}
}

func TestMonthInJSON(t *testing.T) {
	type box struct{ Month billing.Month }
	text, err := json.Marshal(box{billing.Month{Year: 2026, Month: 3}})
	if err != nil || string(text) != `{"Month":"2026-03"}` {
		t.Fatalf("%s, %v", text, err)
	}
	var back box
	if err := json.Unmarshal(text, &back); err != nil || back.Month.Month != time.March {
		t.Errorf("%v, %v", back, err)
	}
}

func FuzzParseMonth(f *testing.F) {
	for _, s := range []string{"2026-03", "2026-3", "2026-13", "0000-01", "2026-03-01", "", "+026-03"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		m, err := billing.ParseMonth(text)
		if err == nil && m.String() != text {
			t.Errorf("%q reads as %s", text, m)
		}
	})
}
