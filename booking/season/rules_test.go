package season_test

import (
	"fmt"
	"strings"
	"testing"

	"drawbar/booking"
	"drawbar/booking/season"

	"cloud.google.com/go/civil"
)

func ExampleRules() {
	for _, rule := range season.Rules("GB-ENG", "lamb-mark") {
		fmt.Println(rule.Task, "at most", rule.MostDays, "days old")
	}
	// Output:
	// castration with a ring at most 7 days old
	// tail docking with a ring at most 7 days old
}

func TestRulesOfTheLaw(t *testing.T) {
	for _, c := range []struct {
		region, task string
		days         int
	}{
		// AssureWel: after the first week of life a ring needs an anaesthetic;
		// National Farmers' Union: rings up to 7 days, tails and castration.
		{"GB-ENG", "castration with a ring", 7},
		{"GB-ENG", "tail docking with a ring", 7},
		// legislation.gov.uk/wsi/2007/1029/schedule/5/paragraph/1.
		{"GB-WLS", "castration with a ring", 7},
		// legislation.gov.uk/nisr/2012/153/schedule/3/paragraph/7.
		{"GB-NIR", "tail docking with a ring", 7},
	} {
		found := false
		for _, r := range season.Rules(c.region, "lamb-mark") {
			if r.Task == c.task {
				found = true
				if r.MostDays != c.days {
					t.Errorf("%s, %s: at most %d days", c.region, c.task, r.MostDays)
				}
			}
		}
		if !found {
			t.Errorf("%s: no rule for %s", c.region, c.task)
		}
	}
}

func TestRulesByRegion(t *testing.T) {
	all := season.Rules("GB", "lamb-mark")
	if len(all) != 4 {
		t.Errorf("the United Kingdom has %d rules", len(all))
	}
	for _, none := range [][2]string{{"US", "lamb-mark"}, {"G", "lamb-mark"}, {"GB", "weigh"}, {"", "lamb-mark"}} {
		if got := season.Rules(none[0], none[1]); len(got) != 0 {
			t.Errorf("%v has rules %v", none, got)
		}
	}
	for _, r := range all {
		advice := r.Advice()
		if !r.Read.IsValid() || advice.Basis == "" || !strings.HasSuffix(advice.Says, season.Defer) {
			t.Errorf("%q, read %s, on %q", advice.Says, r.Read, advice.Basis)
		}
		if strings.Contains(advice.Says, "In  ") {
			t.Errorf("%s has no name", r.Region)
		}
	}
}

// University of Maryland Extension: 3 to 4 weeks before lambing. Press in the
// United Kingdom: 4 to 6 weeks.
func TestBoosterDays(t *testing.T) {
	in := date("2025-11-05") // due 1 April 2026
	for _, c := range []struct{ country, from, to string }{
		{"US", "2026-03-04", "2026-03-11"},
		{"GB", "2026-02-18", "2026-03-04"},
	} {
		days, advice, ok := season.BoosterDays(in, booking.Sheep, c.country)
		if want := (season.Days{From: date(c.from), To: date(c.to)}); !ok || days != want {
			t.Errorf("%s: %s, want %s", c.country, days, want)
		}
		if !strings.Contains(advice.Says, "label") || advice.Basis == "" {
			t.Errorf("%s: %q", c.country, advice.Says)
		}
	}
	if _, _, ok := season.BoosterDays(in, booking.Sheep, "NZ"); ok {
		t.Error("advises where we know of nothing")
	}
	if _, _, ok := season.BoosterDays(civil.Date{}, booking.Sheep, "US"); ok {
		t.Error("advises without a day")
	}
}
