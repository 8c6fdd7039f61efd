package drive

import (
	"fmt"

	"drawbar/routing/road/network"
)

// Vehicle is what is driven. Sizes are of the whole train, in kilograms and
// centimetres; 0 is not known and meets no limit.
type Vehicle struct {
	Towing bool
	Kg     int
	Length int
	Width  int
	Height int
}

// Stopped tells why the vehicle may not or cannot use roads of a kind, in a
// sentence, or "" when it can.
func (v Vehicle) Stopped(k *network.Kind) string {
	switch {
	case v.Towing && k.Has(network.NoTow):
		return "trailers are not allowed"
	case v.Kg > int(k.MaxKg) && k.MaxKg > 0:
		return fmt.Sprintf("limit %.1f t, the train weighs %.1f t", float64(k.MaxKg)/1000, float64(v.Kg)/1000)
	case v.Height > int(k.MaxHeight) && k.MaxHeight > 0:
		return fmt.Sprintf("%s high, the train needs %s", metres(int(k.MaxHeight)), metres(v.Height))
	case v.Width > int(k.MaxWidth) && k.MaxWidth > 0:
		return fmt.Sprintf("%s wide, the train needs %s", metres(int(k.MaxWidth)), metres(v.Width))
	case v.Width > int(k.Width) && k.Width > 0:
		return fmt.Sprintf("the road is %s wide, the train %s", metres(int(k.Width)), metres(v.Width))
	case v.Length > int(k.MaxLength) && k.MaxLength > 0:
		return fmt.Sprintf("limit %s long, the train is %s", metres(int(k.MaxLength)), metres(v.Length))
	case k.Roughness >= impassable || v.Towing && k.Roughness >= impassable-1:
		return "too rough to drive"
	}
	return ""
}

// impassable is the roughness no wheel gets over (Key:smoothness).
const impassable = 8

func metres(cm int) string { return fmt.Sprintf("%.1f m", float64(cm)/100) }
