package season

import (
	"fmt"

	"drawbar/booking/fault"
)

// THI is the temperature-humidity index from the air temperature in degrees
// Celsius and the relative humidity in percent.
// Source of the formula: Australian veterinary handbook, chapter 14.2.
func THI(celsius, humidity float64) float64 {
	return 0.8*celsius + humidity/100*(celsius-14.4) + 46.4
}

// HeatBand sorts hot days. The bounds were set for cattle.
type HeatBand string

// The heat bands.
const (
	HeatNormal    HeatBand = "normal"
	HeatAlert     HeatBand = "alert"     // THI from 75
	HeatDanger    HeatBand = "danger"    // from 79
	HeatEmergency HeatBand = "emergency" // from 84
)

// bandOf follows the Livestock Weather Hazard Guide (75, 79, 84).
func bandOf(thi float64) HeatBand {
	switch {
	case thi >= 84:
		return HeatEmergency
	case thi >= 79:
		return HeatDanger
	case thi >= 75:
		return HeatAlert
	}
	return HeatNormal
}

// comfort is the upper edge of the comfort range of sheep in degrees
// Celsius. Source: Department of Primary Industries and Regional
// Development, Western Australia, heat load at saleyards, 2022.
const comfort = 25

// Heat is how a day's heat bears on a mob.
type Heat struct {
	THI  float64
	Band HeatBand
	Advice
}

const heatBasis = "bands of the Livestock Weather Hazard Guide, made for cattle; comfort of sheep to 25 °C, government of Western Australia, 2022"

var heatSays = map[HeatBand]string{
	HeatNormal:    "Start early, have water and shade at the yard.",
	HeatAlert:     "Work in the cool of the morning, keep water and shade at the yard and watch for panting.",
	HeatDanger:    "Work only in the cool of the morning with few animals in the yard at a time; stop at open-mouthed panting.",
	HeatEmergency: "Do not gather or yard animals in this heat; choose another day.",
}

// HeatAdvice says what heat means for work in the yard. The temperature is in
// degrees Celsius, from -60 to 60, the humidity in percent; errors are
// fault.Invalid with the fields "temperature" and "humidity".
func HeatAdvice(celsius, humidity float64) (Heat, error) {
	f := fault.Fields{}
	f.Range("temperature", celsius, -60, 60, "degrees Celsius")
	f.Range("humidity", humidity, 0, 100, "percent")
	if err := f.Err(); err != nil {
		return Heat{}, err
	}
	heat := Heat{THI: THI(celsius, humidity), Advice: Advice{Basis: heatBasis}}
	heat.Band = bandOf(heat.THI)
	if heat.Band == HeatNormal && celsius < comfort {
		heat.Says = "No need for care about heat."
		return heat, nil
	}
	heat.Says = fmt.Sprintf("%g °C at %g %% humidity: heat index %.0f, %s by the bands for cattle; sheep leave their comfort at %d °C, sooner in full wool. %s People feel it too: drink, rest, never alone.",
		celsius, humidity, heat.THI, heat.Band, comfort, heatSays[heat.Band])
	return heat, nil
}
