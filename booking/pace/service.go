package pace

import "strings"

// Station is where on the animal a service is done.
type Station string

// The stations. Work at Front and Back can overlap; Whole needs the animal to
// itself.
const (
	Front Station = "front"
	Back  Station = "back"
	Whole Station = "whole"
)

// Service is what is done to each head, as far as it matters for time.
type Service struct {
	Code      string
	Name      string // in a sentence: "Foot trimming"
	Station   Station
	NeedsTilt bool // needs a rig with a side tilt
}

// The service codes, spelled the same everywhere in Drawbar.
const (
	Drench    = "drench"
	Inject    = "inject"
	EarTag    = "ear-tag"
	Weigh     = "weigh"
	Sort      = "sort"
	Condition = "condition"
	FootCheck = "foot-check"
	FootTrim  = "foot-trim"
	Crutch    = "crutch"
	Scan      = "scan"
	LambMark  = "lamb-mark"
	PourOn    = "pour-on"
)

// Two motions that are part of every visit and have priors of their own.
const (
	Handling = "handling" // catch and release at the crate
	PushUp   = "push-up"  // from the forcing pen into the race
)

var services = [...]Service{
	{Drench, "Drenching", Front, false},
	{Inject, "Injecting", Front, false},
	{EarTag, "Ear tagging", Front, false},
	{Weigh, "Weighing", Whole, false},
	{Sort, "Sorting", Whole, false},
	{Condition, "Condition scoring", Back, false},
	{FootCheck, "Foot checking", Whole, true},
	{FootTrim, "Foot trimming", Whole, true},
	{Crutch, "Crutching", Back, false},
	{Scan, "Scanning", Back, false},
	{LambMark, "Lamb marking", Back, false},
	{PourOn, "Pour-on", Back, false},
}

// Keys of what can be learned: the services in order, then the two motions.
const (
	keyHandling = len(services)
	keyPush     = keyHandling + 1
	keyCount    = keyPush + 1
)

// Services lists the twelve services in the order used on screens.
func Services() []Service { return append([]Service(nil), services[:]...) }

// ServiceByCode finds a service.
func ServiceByCode(code string) (Service, bool) {
	if k, ok := keyOf(code); ok && k < keyHandling {
		return services[k], true
	}
	return Service{}, false
}

// keyOf is the index of a service or motion among the things learned.
func keyOf(code string) (int, bool) {
	for i := range services {
		if services[i].Code == code {
			return i, true
		}
	}
	switch code {
	case Handling:
		return keyHandling, true
	case PushUp:
		return keyPush, true
	}
	return 0, false
}

// lower is the name inside a sentence: "foot trimming".
func (s Service) lower() string { return strings.ToLower(s.Name[:1]) + s.Name[1:] }
