package pace

import (
	"encoding/json"
	"math"

	"drawbar/booking/say"
)

// Words is the range as people say it: "about 3 h 10, could be 4 h".
func (r Range) Words() string { return say.Estimate(r.Median, r.P90) }

// MarshalJSON writes the range in minutes.
func (r Range) MarshalJSON() ([]byte, error) {
	return json.Marshal(struct {
		Mean   float64 `json:"mean_minutes"`
		Median float64 `json:"median_minutes"`
		P80    float64 `json:"p80_minutes"`
		P90    float64 `json:"p90_minutes"`
		Words  string  `json:"words"`
	}{tenth(r.Mean.Minutes()), tenth(r.Median.Minutes()), tenth(r.P80.Minutes()), tenth(r.P90.Minutes()), r.Words()})
}

// MarshalJSON writes the part with a tenth of a minute.
func (p Part) MarshalJSON() ([]byte, error) {
	return json.Marshal(struct {
		Minutes float64 `json:"minutes"`
		CV      float64 `json:"cv"`
	}{tenth(p.Minutes), math.Round(p.CV*1000) / 1000})
}

// MarshalJSON writes the pace with a tenth of its units.
func (p MobPace) MarshalJSON() ([]byte, error) {
	return json.Marshal(struct {
		Minutes        float64 `json:"minutes"`
		SecondsPerHead float64 `json:"seconds_per_head"`
		HeadPerHour    float64 `json:"head_per_hour"`
	}{tenth(p.Minutes), tenth(p.SecondsPerHead), tenth(p.HeadPerHour)})
}

func tenth(x float64) float64 { return math.Round(x*10) / 10 }
