package pace

import "time"

// Minutes of the work around the work. All are common practice, no source: a
// towed rig itself is ready minutes after it stands on the ground; pens and
// hoses take the rest. Together 30-60 min alone, 20-35 for two.
const (
	rigTrailerMinutes = 10.0
	rigSkidMinutes    = 18.0 // lifted down with forks
	pensMinutes       = 28.0 // pens, race, hoses, reader
	ownLightsMinutes  = 5.0
	ownPowerMinutes   = 6.0 // compressor and generator to place and bleed
	standingMinutes   = 6.0 // look over a rig that stands ready
	packMinutes       = 28.0
	siteCV            = 0.3 // doubt about set-up, pack-down and wash-down
)

// washMinutes by hygiene class, for one person.
var washMinutes = [4]float64{15, 20, 35, 55}

var surfaceFactor = map[Surface]float64{"": 1, Firm: 1, Hard: 0.95, Soft: 1.3, Slope: 1.25}

// crewFactor is how far minutes shrink with hands: two halve about a third of
// the work, a helper who does not know the rig counts half.
func crewFactor(people int, helper bool) float64 {
	hands := float64(people)
	if helper {
		hands += 0.5
	}
	return 0.25 + 0.75/min(hands, 4)
}

// setUpMinutes is the mean set-up before anything is learned.
func setUpMinutes(j *Job) float64 {
	hands := crewFactor(j.Crew.People, j.Setting.Helper)
	if j.Setting.RigStanding {
		return standingMinutes
	}
	rig := rigTrailerMinutes
	if j.Rig.Mount == OnSkid {
		rig = rigSkidMinutes
	}
	minutes := rig + pensMinutes*hands
	if !j.Setting.Lights {
		minutes += ownLightsMinutes * hands
	}
	if !j.Setting.Power {
		minutes += ownPowerMinutes
	}
	return minutes * surfaceFactor[j.Setting.Surface]
}

// packDownMinutes is the mean pack-down before anything is learned.
func packDownMinutes(j *Job) float64 {
	if j.Setting.LeaveStanding {
		return 0
	}
	minutes := packMinutes * crewFactor(j.Crew.People, j.Setting.Helper)
	if j.Rig.Mount == OnSkid {
		minutes += rigSkidMinutes - rigTrailerMinutes
	}
	return minutes * surfaceFactor[j.Setting.Surface]
}

// WashDown is how long one person usually takes to wash down after a flock of
// a hygiene class, 0 known clean to 3 known infected. Common practice, no
// source; contact times on the disinfectant's label come first.
func WashDown(hygiene int) time.Duration {
	return time.Duration(washMinutes[hygiene] * float64(time.Minute))
}

// washDownMinutes is the mean wash-down. The farm's helper takes no part in it.
func washDownMinutes(j *Job) float64 {
	if j.Setting.LeaveStanding {
		return 0
	}
	return washMinutes[j.Setting.Hygiene] * crewFactor(j.Crew.People, false)
}
