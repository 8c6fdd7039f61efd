package schedule

import (
	"context"
	"errors"
	"math"
	"slices"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/pace"
)

var surfaces = map[booking.Surface]pace.Surface{
	booking.Concrete: pace.Hard,
	booking.Gravel:   pace.Firm,
	booking.Grass:    pace.Firm,
	booking.Soft:     pace.Soft,
	booking.Slope:    pace.Slope,
}

// Job describes work at a yard for the time estimate. people is how many go
// with the rig.
func Job(mobs []booking.Mob, yard booking.Yard, hygiene booking.Hygiene, rig booking.Rig, people int) pace.Job {
	job := pace.Job{
		Setting: pace.Setting{
			Surface: surfaces[yard.Surface], Lights: yard.Lights, Power: yard.Power, Helper: yard.Helper, Hygiene: int(hygiene),
		},
		Rig: pace.Rig{
			Mount: pace.Mount(rig.Mount), SideTilt: rig.SideTilt, LeadUpPlaces: rig.RacePlaces, PoweredGates: rig.SortGates,
		},
		Crew:   pace.Crew{People: max(people, 1), Pusher: yard.Helper},
		FarmID: string(yard.FarmID),
		CrewID: string(rig.ID),
	}
	for _, m := range mobs {
		job.Mobs = append(job.Mobs, mobOf(m))
	}
	return job
}

func mobOf(m booking.Mob) pace.Mob {
	mob := pace.Mob{
		Species: pace.Species(m.Class.Species()), Class: pace.Class(m.Class), Head: m.Head,
		Horned: m.Horned, FullWool: m.FullWool, NewToCrate: m.NewToCrate, LambsAtFoot: m.AtFoot, Services: m.Services,
	}
	switch {
	case len(m.Weights) > 1:
		mob.Lots = weighed(m)
	case m.MixedSizes:
		mob.Lots, mob.AsTheyCome = lots(m.Head), true
	}
	return mob
}

// weighed are the lots of a mob that is drafted into weight classes: the
// heaviest at the usual wall position of its class, the others a position
// narrower for each step of a quarter in weight, which is about 8 % in width
// (width goes with the cube root of weight; the step is common practice, no
// source).
func weighed(m booking.Mob) []pace.Lot {
	usual := pace.UsualSize(pace.Class(m.Class))
	lots := make([]pace.Lot, len(m.Weights))
	for i, w := range m.Weights {
		steps := math.Log(m.Heaviest()/w.Kg) / math.Log(1.25)
		lots[i] = pace.Lot{Head: w.Head, Size: max(usual-int(math.Round(steps)), 1)}
	}
	return lots
}

// lots spreads a mob of mixed sizes over three neighbouring wall positions:
// what the farmer's one tick can tell (common practice, no source).
func lots(head int) []pace.Lot {
	small := head * 3 / 10
	all := []pace.Lot{{Head: small, Size: 3}, {Head: head - 2*small, Size: 4}, {Head: small, Size: 5}}
	if small == 0 {
		return all[1:2]
	}
	return all
}

// Estimate says how long a booking takes with the quickest rig that has what
// it needs; where none has, with the quickest of all.
func (p *Planner) Estimate(ctx context.Context, mobs []booking.Mob, yard booking.Yard, hygiene booking.Hygiene) (pace.Estimate, error) {
	f, err := p.fleet(ctx)
	if err != nil {
		return pace.Estimate{}, err
	}
	return p.estimate(f, mobs, yard, hygiene)
}

// fleet is what an estimate chooses a rig from.
type fleet struct {
	rigs     []booking.Rig
	services map[string]booking.Service
}

func (p *Planner) fleet(ctx context.Context) (fleet, error) {
	rigs, err1 := p.Store.Rigs(ctx)
	services, err2 := p.Store.Services(ctx)
	rigs = slices.DeleteFunc(rigs, func(r booking.Rig) bool { return !r.Active })
	return fleet{rigs, booking.ByCode(services)}, errors.Join(err1, err2)
}

func (p *Planner) estimate(f fleet, mobs []booking.Mob, yard booking.Yard, hygiene booking.Hygiene) (pace.Estimate, error) {
	needs := needsOf(mobs, f.services)
	var fit, others []booking.Rig
	for _, rig := range f.rigs {
		if len(missing(withoutSkills(needs), has(rig))) == 0 {
			fit = append(fit, rig)
		} else {
			others = append(others, rig)
		}
	}
	if len(fit) == 0 {
		fit = others
	}
	return p.quickest(fit, mobs, yard, hygiene)
}

func (p *Planner) quickest(rigs []booking.Rig, mobs []booking.Mob, yard booking.Yard, hygiene booking.Hygiene) (pace.Estimate, error) {
	var best pace.Estimate
	var failed error = fault.New(fault.Invalid, "No rig is in use yet, so we cannot say how long this takes.")
	found := false
	for _, rig := range rigs {
		estimate, err := p.Pace.Estimate(Job(mobs, yard, hygiene, rig, len(rig.Crew)))
		switch {
		case err != nil && !found:
			failed = kind(err)
		case err == nil && (!found || estimate.Total.Median < best.Total.Median):
			best, found = estimate, true
		}
	}
	if found {
		return best, nil
	}
	return best, failed
}

// kind turns an input error of pace into one of the project's vocabulary.
func kind(err error) error {
	var bad *pace.Error
	if errors.As(err, &bad) {
		return &fault.Error{Kind: fault.Invalid, Sentence: bad.Sentence, Fields: fault.Fields{bad.Field: bad.Sentence}}
	}
	return err
}
