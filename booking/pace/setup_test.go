package pace

import "testing"

// Setting up a towed crate with race, pens, compressor and reader: 30-60 min
// alone, 20-35 for two; take-down 20-40. Common practice, no source.
func TestSiteMinutesStayInsideCommonPractice(t *testing.T) {
	for _, surface := range []Surface{Hard, Firm} {
		for people, span := range map[int][2]float64{1: {30, 60}, 2: {20, 35}} {
			j := changed(func(j *Job) { j.Setting.Surface, j.Crew.People = surface, people })
			if got := setUpMinutes(&j); got < span[0] || got > span[1] {
				t.Errorf("%s, %d people: set-up %.0f min, want %.0f to %.0f", surface, people, got, span[0], span[1])
			}
			if got := packDownMinutes(&j); people == 1 && (got < 20 || got > 40) {
				t.Errorf("%s: pack-down %.0f min", surface, got)
			}
		}
	}
}

func TestPoorYardsTakeLongerToSetUp(t *testing.T) {
	good := plain()
	for name, change := range map[string]func(*Job){
		"skid":      func(j *Job) { j.Rig.Mount = OnSkid },
		"soft":      func(j *Job) { j.Setting.Surface = Soft },
		"slope":     func(j *Job) { j.Setting.Surface = Slope },
		"no lights": func(j *Job) { j.Setting.Lights = false },
		"no power":  func(j *Job) { j.Setting.Power = false },
	} {
		if j := changed(change); setUpMinutes(&j) <= setUpMinutes(&good) {
			t.Errorf("%s costs no time", name)
		}
	}
	if j := changed(func(j *Job) { j.Setting.Helper = true }); setUpMinutes(&j) >= setUpMinutes(&good) {
		t.Error("a helper saves no time")
	}
}

func TestWashDownGrowsWithHygieneClass(t *testing.T) {
	last := 0.0
	for class := range 4 {
		j := changed(func(j *Job) { j.Setting.Hygiene = class })
		got := washDownMinutes(&j)
		if got <= last || class > 0 && (got < 20 || got > 60) {
			t.Errorf("class %d: %.0f min after %.0f", class, got, last)
		}
		last = got
	}
}

func TestStandingRigSavesSetUpAndPackDown(t *testing.T) {
	arrive := changed(func(j *Job) { j.Setting.LeaveStanding = true })
	again := changed(func(j *Job) { j.Setting.RigStanding = true })
	if packDownMinutes(&arrive) != 0 || washDownMinutes(&arrive) != 0 {
		t.Error("a rig that stays is packed or washed")
	}
	if s, full := setUpMinutes(&again), setUpMinutes(&arrive); s <= 0 || s > full/3 {
		t.Errorf("a standing rig takes %.0f min to set up, a fresh one %.0f", s, full)
	}
}
