package pace

import (
	"encoding/json"
	"fmt"
	"math"
	"time"
)

// Words is the range as people say it: "about 3 h 10, could be 4 h". The
// median is rounded to five minutes (ten from two hours on), the 90 % time up to
// the next quarter of an hour.
func (r Range) Words() string {
	step := 5 * time.Minute
	if r.Median >= 2*time.Hour {
		step = 10 * time.Minute
	}
	about := max(r.Median.Round(step), 5*time.Minute)
	could := (r.P90 + 15*time.Minute - 1).Truncate(15 * time.Minute)
	if could <= about {
		return "about " + HoursMinutes(about)
	}
	return "about " + HoursMinutes(about) + ", could be " + HoursMinutes(could)
}

// HoursMinutes writes a time as "45 min", "3 h" or "3 h 10".
func HoursMinutes(d time.Duration) string {
	m := int(d.Round(time.Minute) / time.Minute)
	switch h := m / 60; {
	case h == 0:
		return fmt.Sprintf("%d min", m)
	case m%60 == 0:
		return fmt.Sprintf("%d h", h)
	default:
		return fmt.Sprintf("%d h %02d", h, m%60)
	}
}

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
