package pace

import "math"

// Seconds and factors of the station line that are not priors of a service.
// All are common practice, no source.
const (
	tiltSeconds     = 10.0 // lay the animal over and stand it up again
	walkSeconds     = 40.0 // from the crate to the back of the race and back
	walkCV          = 0.3
	usualPlaces     = 8   // head in the lead-up race, 8-15 common
	secondAtCatch   = 0.6 // catch and release with a second hand at the crate
	secondAtWhole   = 0.7 // a service over the whole animal, shared by two
	hornedFactor    = 1.15
	fullWoolFactor  = 1.1
	lambsFactor     = 1.3  // pushing up ewes that look for their lambs
	looseFactor     = 1.25 // animals smaller than the walls are set for
	newFactor       = 2.0  // the first head of a mob new to the crate take twice as long
	newHead         = 15.0 // after that many head, a third of the slowness is left
	newHeadCalm     = 8.0  // the same with a panel for first-timers
	handGateFactor  = 1.4  // a gate moved by hand instead of by air
	thirdGateFactor = 1.25 // sorting three ways instead of two
)

// crossing is how a mob goes through the line with one way of using the hands.
type crossing struct {
	way   hands
	cycle load    // seconds a head
	fills float64 // times the race is filled on foot
	walk  load    // seconds a fill
	once  float64 // seconds until the first head is in the crate
}

// line works out the crossing of a mob.
type station struct {
	table  *table
	belief *belief
	cv     float64 // head to head
	job    *Job
	mob    *Mob
	places int
}

// hands at the crate and whether one more pushes.
type hands struct {
	crate  int
	pusher bool
}

// ways lists the sensible uses of a crew; the faster one is taken.
func (c Crew) ways() []hands {
	switch {
	case c.Pusher:
		return []hands{{min(c.People, 2), true}}
	case c.People == 1:
		return []hands{{1, false}}
	case c.People == 2:
		return []hands{{1, true}, {2, false}}
	}
	return []hands{{2, true}}
}

// best is the fastest way through the line.
func (s *station) best() crossing {
	var best crossing
	for i, w := range s.job.Crew.ways() {
		c := s.cross(w)
		if i == 0 || c.seconds(s.mob) < best.seconds(s.mob) {
			best = c
		}
	}
	return best
}

func (s *station) cross(w hands) crossing {
	crate, push := s.crate(w.crate), s.push()
	if w.pusher {
		cv2 := crate.head/(crate.mean*crate.mean) + push.head/(push.mean*push.mean)
		cycle := pair(push, crate, &s.belief.cov, line(s.places, cv2))
		return crossing{way: w, cycle: cycle, once: min(push.mean, crate.mean)}
	}
	crate.add(push)
	walk := single(keyPush, walkSeconds*s.belief.factor[keyPush], walkCV)
	return crossing{way: w, cycle: crate, walk: walk, fills: math.Ceil(float64(s.mob.Head) / float64(s.places))}
}

// push is the time per head from forcing pen to race.
func (s *station) push() load {
	l := s.base(keyPush)
	if s.mob.LambsAtFoot {
		l = l.times(lambsFactor)
	}
	return l
}

// crate is the time per head from catch to release.
func (s *station) crate(people int) load {
	total := s.base(keyHandling)
	var front, back, whole load
	tilt := false
	for _, code := range s.mob.Services {
		k, _ := keyOf(code)
		tilt = tilt || services[k].NeedsTilt
		switch services[k].Station {
		case Front:
			front.add(s.service(k))
		case Back:
			back.add(s.service(k))
		default:
			whole.add(s.service(k))
		}
	}
	if people > 1 {
		total = total.times(secondAtCatch)
		whole = whole.times(secondAtWhole)
	}
	if tilt {
		total.add(single(keyHandling, tiltSeconds*s.belief.factor[keyHandling], s.cv))
	}
	total.add(whole)
	total.add(s.ends(front, back, people))
	return total.times(s.animalFactor())
}

// ends puts front and back one after the other, or side by side with two.
func (s *station) ends(front, back load, people int) load {
	if people < 2 || front.mean == 0 || back.mean == 0 {
		front.add(back)
		return front
	}
	return pair(front, back, &s.belief.cov, slowest(front.headVar()+back.headVar()))
}

func (s *station) base(k int) load {
	return single(k, s.table.seconds[k][classIndex[s.mob.Class]]*s.belief.factor[k], s.cv)
}

func (s *station) service(k int) load {
	l := s.base(k)
	if services[k].Code != Sort {
		return l
	}
	if s.mob.Gates == 3 {
		l = l.times(thirdGateFactor)
	}
	if max(s.mob.Gates, 2) > s.job.Rig.PoweredGates+1 {
		l = l.times(handGateFactor)
	}
	return l
}

// animalFactor is how much longer these animals take at the crate.
func (s *station) animalFactor() float64 {
	f := 1.0
	if s.mob.Horned {
		f *= hornedFactor
	}
	if s.mob.FullWool {
		f *= fullWoolFactor
	}
	return f * s.mob.looseShare()
}

// looseShare is the mean factor for animals held by walls set for wider ones.
func (m *Mob) looseShare() float64 {
	if !m.AsTheyCome {
		return 1
	}
	loose, widest := 0, m.widest()
	for _, lot := range m.Lots {
		if lot.Size < widest-1 {
			loose += lot.Head
		}
	}
	return 1 + (looseFactor-1)*float64(loose)/float64(m.Head)
}

// heads is the number of head, counting the slow first ones of a mob new to
// the crate for more than one: the slowness fades by the same share each head.
func (m *Mob) heads(calm bool) float64 {
	n := float64(m.Head)
	if !m.NewToCrate {
		return n
	}
	fade := newFade(calm)
	return n + (newFactor-1)*(1-math.Pow(fade, n))/(1-fade)
}

// newFade is the share of the slowness left after one more head.
func newFade(calm bool) float64 {
	if calm {
		return math.Exp(-1 / newHeadCalm)
	}
	return math.Exp(-1 / newHead)
}

func (c *crossing) seconds(m *Mob) float64 {
	return c.cycle.mean*float64(m.Head) + c.fills*c.walk.mean + c.once
}
