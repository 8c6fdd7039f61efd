package pace

import (
	"encoding/json"
	"strings"
	"testing"
	"time"
)

func TestRangeInWords(t *testing.T) {
	r := Range{Mean: 5 * time.Hour, Median: 190 * time.Minute, P80: 6 * time.Hour, P90: 4 * time.Hour}
	if got := r.Words(); got != "about 3 h 10, could be 4 h" { // the half and the nine of ten
		t.Errorf("%q", got)
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
