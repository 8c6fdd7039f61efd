package tag

import (
	"math"
	"strconv"
	"strings"
)

// quantity splits "3.5 t" into 3.5 and "t". Negative, endless and absurd
// numbers are refused.
func quantity(v string) (number float64, unit string, ok bool) {
	if v = strings.TrimSpace(v); v == "" {
		return 0, "", false
	}
	i := 0
	for i < len(v) && (v[i] >= '0' && v[i] <= '9' || v[i] == '.') {
		i++
	}
	number, err := strconv.ParseFloat(v[:i], 64)
	if err != nil || number > 1e6 {
		return 0, "", false
	}
	return number, strings.ToLower(strings.TrimSpace(v[i:])), true
}

// scaled reads a quantity in one of the given units, "" being the default.
func scaled(v string, units map[string]float64) (float64, bool) {
	number, unit, ok := quantity(v)
	factor, known := units[unit]
	if !ok || !known {
		return 0, false
	}
	return number * factor, true
}

// Exact by definition: the international mile, foot, inch and pound (1959),
// the nautical mile (1929). "st" is the short ton of 2000 lb, "lt" the long
// ton of 2240 lb (wiki: Key:maxweight).
var (
	speedUnits  = map[string]float64{"": 1, "km/h": 1, "kmh": 1, "kph": 1, "mph": 1.609344, "knots": 1.852}
	lengthUnits = map[string]float64{"": 1, "m": 1, "metres": 1, "meters": 1, "cm": 0.01, "km": 1000, "ft": 0.3048, "feet": 0.3048, "'": 0.3048, "in": 0.0254, "\"": 0.0254, "mi": 1609.344}
	massUnits   = map[string]float64{"": 1000, "t": 1000, "kg": 1, "st": 907.18474, "lt": 1016.0469088, "cwt": 50.80234544, "lb": 0.45359237, "lbs": 0.45359237}
)

// Speed reads a limit in km/h (wiki: Key:maxspeed): "80", "50 mph", "walk".
// "none" and zone codes such as "GB:rural" are not numbers and are not ok.
func Speed(v string) (kmh float64, ok bool) {
	if strings.TrimSpace(v) == "walk" {
		return 7, true
	}
	kmh, ok = scaled(v, speedUnits)
	return kmh, ok && kmh > 0 && kmh < 500
}

// Length reads metres (wiki: Map features/Units): "2.5", "2.5 m", "8 ft",
// "12'6\"", "7'".
func Length(v string) (metres float64, ok bool) {
	v = strings.TrimSpace(v)
	if feet, inches, found := strings.Cut(v, "'"); found && inches != "" {
		f, okFeet := scaled(feet+"'", lengthUnits)
		in, okInches := scaled(strings.TrimSuffix(strings.TrimSpace(inches), "\"")+"\"", lengthUnits)
		return f + in, okFeet && okInches && f+in > 0
	}
	metres, ok = scaled(v, lengthUnits)
	return metres, ok && metres > 0
}

// Mass reads kilograms (wiki: Key:maxweight): "7.5", "3.5 t", "16000 lbs",
// "10 st".
func Mass(v string) (kg float64, ok bool) {
	kg, ok = scaled(v, massUnits)
	return kg, ok && kg > 0
}

// Incline reads the slope in percent, positive uphill along the way (wiki:
// Key:incline): "10%", "-8 %", "5°". "up" and "down" have no size.
func Incline(v string) (percent float64, ok bool) {
	v, down := strings.CutPrefix(strings.TrimSpace(v), "-")
	number, unit, ok := quantity(v)
	switch {
	case !ok:
		return 0, false
	case unit == "°" && number < 45:
		number = 100 * math.Tan(number*math.Pi/180)
	case unit != "%" && unit != "":
		return 0, false
	}
	if down {
		number = -number
	}
	return number, math.Abs(number) <= 100
}

// Minutes reads a duration (wiki: Key:duration): "20", "1:25", "01:25:30".
func Minutes(v string) (minutes float64, ok bool) {
	parts := strings.Split(strings.TrimSpace(v), ":")
	if len(parts) == 1 {
		minutes, ok = scaled(parts[0], map[string]float64{"": 1, "min": 1, "minutes": 1})
		return minutes, ok && minutes > 0
	}
	if len(parts) > 3 {
		return 0, false
	}
	weight := 60.0
	for _, p := range parts {
		n, unit, ok := quantity(p)
		if !ok || unit != "" {
			return 0, false
		}
		minutes += n * weight
		weight /= 60
	}
	return minutes, minutes > 0
}
