package pace

import (
	"encoding/json"
	"strings"
	"testing"
	"time"
)

func TestRangeInWords(t *testing.T) {
	for _, c := range []struct {
		median, p90 time.Duration
		want        string
	}{
		{190 * time.Minute, 236 * time.Minute, "about 3 h 10, could be 4 h"},
		{187 * time.Minute, 240 * time.Minute, "about 3 h 10, could be 4 h"},
		{63 * time.Minute, 91 * time.Minute, "about 1 h 05, could be 1 h 45"},
		{44 * time.Minute, 45 * time.Minute, "about 45 min"},
		{30 * time.Second, time.Minute, "about 5 min, could be 15 min"},
		{8 * time.Hour, 10*time.Hour + time.Second, "about 8 h, could be 10 h 15"},
	} {
		if got := (Range{Median: c.median, P90: c.p90}).Words(); got != c.want {
			t.Errorf("%v, %v: %q, want %q", c.median, c.p90, got, c.want)
		}
	}
}

func TestEstimateAsJSON(t *testing.T) {
	text, err := json.Marshal(estimate(t, plain()))
	if err != nil {
		t.Fatal(err)
	}
	for _, key := range []string{`"median_minutes":`, `"p80_minutes":`, `"p90_minutes":`, `"set_up":{"minutes":`, `"head_per_hour":`, `"drivers":["`, `"order":[{"mob":0,"head":240,"front":`} {
		if !strings.Contains(string(text), key) {
			t.Errorf("no %s in %s", key, text)
		}
	}
}
