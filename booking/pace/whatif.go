package pace

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"drawbar/booking/say"
)

// Alternative is the job with one thing changed.
type Alternative struct {
	Words    string // "With somebody to push up"
	Job      Job
	Estimate Estimate
	Saves    time.Duration // less mean time from arrival to departure; below zero costs time
}

// Sentence says what the alternative changes: "With somebody to push up: about
// 40 min less."
func (a Alternative) Sentence() string {
	d, word := a.Saves, "less"
	if d < 0 {
		d, word = -d, "more"
	}
	if d = d.Round(time.Minute); d == 0 {
		return a.Words + ": no difference."
	}
	return fmt.Sprintf("%s: about %s %s.", a.Words, say.Length(d), word)
}

// WhatIf tries what a planner can change: somebody to push up, one more in the
// crew, each mixed mob drafted by size or worked as it comes, each service left
// out. The largest saving comes first.
func (m *Model) WhatIf(j Job) ([]Alternative, error) {
	now, err := m.Estimate(j)
	if err != nil {
		return nil, err
	}
	all := append(handsAlternatives(j), append(draftAlternatives(j), serviceAlternatives(j)...)...)
	for i := range all {
		if all[i].Estimate, err = m.Estimate(all[i].Job); err != nil {
			return nil, err
		}
		all[i].Saves = now.Total.Mean - all[i].Estimate.Total.Mean
	}
	slices.SortStableFunc(all, func(a, b Alternative) int { return cmp.Compare(b.Saves, a.Saves) })
	return all, nil
}

// handsAlternatives change who is there. A crew of three has one to push up
// anyway.
func handsAlternatives(j Job) []Alternative {
	if j.Crew.People >= 3 {
		return nil
	}
	pusher, more := j, j
	pusher.Crew.Pusher = !j.Crew.Pusher
	words := "With somebody to push up"
	if j.Crew.Pusher {
		words = "Without anybody to push up"
	}
	more.Crew.People++
	return []Alternative{{Words: words, Job: pusher}, {Words: fmt.Sprintf("With a crew of %d", more.Crew.People), Job: more}}
}

// copied gives the job mobs of its own, so that changing one leaves j alone.
func copied(j Job) Job {
	j.Mobs = slices.Clone(j.Mobs)
	return j
}

func draftAlternatives(j Job) []Alternative {
	var all []Alternative
	for i := range j.Mobs {
		mob := &j.Mobs[i]
		if len(mob.Lots) < 2 {
			continue
		}
		with := copied(j)
		with.Mobs[i].AsTheyCome = !mob.AsTheyCome
		words := fmt.Sprintf("With the %s drafted by size beforehand", mob.named())
		if !mob.AsTheyCome {
			words = fmt.Sprintf("With the %s left mixed", mob.named())
		}
		all = append(all, Alternative{Words: words, Job: with})
	}
	return all
}

// serviceAlternatives leaves each service out of all mobs, as long as every mob
// keeps one.
func serviceAlternatives(j Job) []Alternative {
	var all []Alternative
	for _, s := range services {
		with, ok := without(j, s.Code)
		if ok {
			all = append(all, Alternative{Words: fmt.Sprintf("Without %s", s.lower()), Job: with})
		}
	}
	return all
}

func without(j Job, code string) (Job, bool) {
	out, found := copied(j), false
	for i := range out.Mobs {
		mob := &out.Mobs[i]
		at := slices.Index(mob.Services, code)
		if at < 0 {
			continue
		}
		if len(mob.Services) == 1 {
			return Job{}, false
		}
		found = true
		mob.Services = slices.Delete(slices.Clone(mob.Services), at, at+1)
	}
	return out, found
}
