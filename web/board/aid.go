package board

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"time"

	"drawbar/booking"
	"drawbar/booking/pace"
	"drawbar/booking/schedule"
	"drawbar/web/view"

	"github.com/gin-gonic/gin"
)

// aidLine is one way to do the visit, set against how it is planned.
type aidLine struct {
	Words   string // "With somebody to push up"
	Takes   string // "about 3 h 10, could be 4 h"
	Saves   string // "40 min less"
	PerHour int    // head
}

func aidLineOf(words string, e pace.Estimate, saves time.Duration) aidLine {
	return aidLine{Words: words, Takes: e.Total.Words(), Saves: difference(saves), PerHour: int(math.Round(e.HeadPerHour))}
}

// difference is a saving in words: "40 min less", "10 min more".
func difference(saves time.Duration) string {
	saves = saves.Round(time.Minute)
	switch {
	case saves > 0:
		return view.Duration(saves) + " less"
	case saves < 0:
		return view.Duration(-saves) + " more"
	}
	return "no difference"
}

// aid tries one change at a time; nothing where the visit has no estimate.
func (b *board) aid(page *visitPage) error {
	if page.Detail.Problem != "" {
		return nil
	}
	others, err := b.Planner.WhatIf(schedule.JobOf(page.Booking, page.Farm, page.Yard, page.Rig))
	if err != nil {
		return err
	}
	page.Aid = []aidLine{aidLineOf("As it is planned", page.Detail.Estimate, 0)}
	page.Aid[0].Saves = ""
	for _, a := range others {
		page.Aid = append(page.Aid, aidLineOf(a.Words, a.Estimate, a.Saves))
	}
	return nil
}

// tryPage tries several changes of a visit together. Nothing is stored.
type tryPage struct {
	visitPage
	Crew  []view.Option
	Mobs  []tryMob
	Tried *view.Length // nil where something is wrong
	Lines []aidLine
}

// tryMob is what can be changed about one mob.
type tryMob struct {
	booking.Mob
	Index    int
	Services []view.Option
}

// Name of an entry of the mob.
func (m tryMob) Name(entry string) string { return fmt.Sprintf("mob.%d.%s", m.Index, entry) }

func (b *board) visitTry(c *gin.Context) error {
	visit, err := b.visitPage(c)
	if err != nil {
		return err
	}
	page := tryPage{visitPage: visit}
	job := schedule.JobOf(page.Booking, page.Farm, page.Yard, page.Rig)
	page.choices(job)
	planned := job
	if page.Form, err = view.ReadForm(c); err != nil {
		return err
	}
	if page.Form.Has("people") {
		job = page.changed(job)
	} else {
		page.fill(job)
	}
	if err := page.Form.Take(b.try(&page, planned, job)); err != nil {
		return err
	}
	return view.Render(c, page.Form.Status(), pages, "visit_try", page)
}

// choices are what the form offers.
func (p *tryPage) choices(job pace.Job) {
	for n := 1; n <= pace.MaxPeople; n++ {
		p.Crew = append(p.Crew, view.Option{Value: fmt.Sprint(n), Label: view.Plural(n, "person", "people")})
	}
	for i, m := range p.Booking.Mobs {
		mob := tryMob{Mob: m, Index: i}
		for _, code := range job.Mobs[i].Services {
			mob.Services = append(mob.Services, view.Option{Value: code, Label: p.Services[code].Name})
		}
		p.Mobs = append(p.Mobs, mob)
	}
}

// fill puts the visit as it is planned into the form.
func (p *tryPage) fill(job pace.Job) {
	p.Form.Set("people", job.Crew.People)
	p.Form.Set("pusher", job.Crew.Pusher)
	for _, m := range p.Mobs {
		p.Form.Set(m.Name("services"), job.Mobs[m.Index].Services)
	}
}

// changed is the job with what the form says.
func (p *tryPage) changed(job pace.Job) pace.Job {
	var numbers []string
	for _, o := range p.Crew {
		numbers = append(numbers, o.Value)
	}
	people, _ := strconv.Atoi(view.Choice(p.Form, "people", numbers)) // anything else is told in the form
	job.Crew = pace.Crew{People: people, Pusher: p.Form.Bool("pusher")}
	job.Mobs = slices.Clone(job.Mobs)
	for _, m := range p.Mobs {
		mob, kept := &job.Mobs[m.Index], p.Form.Texts(m.Name("services"))
		mob.Services = slices.DeleteFunc(slices.Clone(mob.Services), func(code string) bool { return !slices.Contains(kept, code) })
		if len(mob.Services) == 0 {
			p.Form.Errors.Add(m.Name("services"), "Leave at least one thing to be done to each mob.")
		}
		mob.AsTheyCome = mob.AsTheyCome && !p.Form.Bool(m.Name("drafted"))
	}
	return job
}

// try estimates both jobs and sets one against the other.
func (b *board) try(page *tryPage, planned, job pace.Job) error {
	if page.Detail.Problem != "" || !page.Form.OK() {
		return nil
	}
	now, err := b.Planner.Try(planned)
	if err != nil {
		return err
	}
	tried, err := b.Planner.Try(job)
	if err != nil {
		return err
	}
	length := view.NewLength(tried)
	page.Tried = &length
	page.Lines = []aidLine{aidLineOf("As it is planned", now, 0), aidLineOf("With these changes", tried, now.Total.Mean-tried.Total.Mean)}
	page.Lines[0].Saves = ""
	return nil
}
