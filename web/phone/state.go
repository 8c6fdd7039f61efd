package phone

import (
	"slices"

	"drawbar/booking"
	"drawbar/booking/pace"
	"drawbar/jobs"
)

// state is where a visit has got to, for the page and for its script.
type state struct {
	Visit  booking.ID   `json:"visit"`
	Name   string       `json:"name"`
	Zone   string       `json:"zone"` // the business's, for times of day
	Step   string       `json:"step"`
	Mobs   []mob        `json:"mobs"`
	Docket jobs.Docket  `json:"docket"`
	Known  []booking.ID `json:"known"` // events that are in the docket
	Head   int          `json:"head"`  // expected on this visit
	Parts  int          `json:"parts"` // visits of the booking
	Rate   pace.Rate    `json:"rate"`  // what the estimate says of the pace; zero where there is none
	Signed booking.ID   `json:"signed,omitempty"`
	Doubts []string     `json:"doubts"`
}

// mob is one mob with what is counted so far.
type mob struct {
	ID       booking.ID `json:"id"`
	Class    string     `json:"class"`
	Booked   int        `json:"booked"`
	Services []done     `json:"services"` // booked or done
	Others   []done     `json:"-"`        // on offer besides
	Gates    []through  `json:"gates"`    // none where nothing is sorted
	Worked   int        `json:"worked"`
	Weight   float64    `json:"weight"` // time a head takes, against the mean of the visit
}

// done is a service with the head it was done to.
type done struct {
	Code string `json:"code"`
	Name string `json:"name"`
	Head int    `json:"head"`
}

// through is a gate with the head that left by it.
type through struct {
	Gate jobs.Gate `json:"gate"`
	Head int       `json:"head"`
}

// around is what a state is made from besides the docket.
type around struct {
	booking  booking.Booking
	yard     booking.Yard
	estimate pace.Estimate // zero where there is none
	farm     booking.Farm
	rig      booking.Rig
	business booking.Business
}

func stateOf(open jobs.OpenDocket, a around) state {
	v := open.Sheet.Visit
	s := state{
		Visit: v.ID, Name: a.farm.Name, Zone: a.business.Location().String(), Docket: open.Docket, Known: open.Known,
		Head: v.Head, Parts: v.Parts, Rate: rateOf(a.estimate), Signed: open.Signed,
		Step: stepOf(open.Docket, open.Signed != ""), Doubts: jobs.Reconcile(open.Docket, open.Sheet),
	}
	for _, m := range open.Sheet.AllMobs(open.Docket) {
		line := mobOf(m, open, a.rig)
		line.Weight = a.weight(m.ID)
		s.Mobs = append(s.Mobs, line)
	}
	return s
}

// mobOf lists the booked services first, then others that were done; a mob
// that was added on site may have any service of the visit.
func mobOf(m booking.Mob, open jobs.OpenDocket, rig booking.Rig) mob {
	line := mob{ID: m.ID, Class: pluralOf(m.Class), Booked: m.Head, Worked: open.Docket.MobHead(m.ID), Services: []done{}, Gates: []through{}}
	booked := m.Services
	if m.Head == 0 {
		booked = allServices(open.Sheet.Mobs)
	}
	for _, service := range inOrder(open.Sheet) {
		d := done{service.Code, service.Name, open.Docket.Done(m.ID, service.Code)}
		switch {
		case slices.Contains(booked, service.Code) || d.Head > 0:
			line.Services = append(line.Services, d)
		case service.Offered:
			line.Others = append(line.Others, d)
		}
	}
	if rig.SortGates > 0 || slices.Contains(booked, "sort") {
		for _, g := range jobs.Gates {
			line.Gates = append(line.Gates, through{g, open.Docket.ThroughGate(m.ID, g)})
		}
	}
	return line
}

func inOrder(s jobs.Sheet) []booking.Service {
	var all []booking.Service
	for _, service := range s.Services {
		all = append(all, service)
	}
	slices.SortFunc(all, func(a, b booking.Service) int { return a.Position - b.Position })
	return all
}

func allServices(mobs []booking.Mob) []string {
	var all []string
	for _, m := range mobs {
		all = append(all, m.Services...)
	}
	return all
}

func pluralOf(c booking.Class) string { return string(c) + "s" }

// stepOf is what comes next on a visit.
func stepOf(d jobs.Docket, signed bool) string {
	switch {
	case signed && !d.Left.IsZero():
		return "gone"
	case signed:
		return "pack"
	case d.Arrived.IsZero() && d.Started.IsZero():
		return "arrive"
	case d.SetUp.IsZero() && d.Started.IsZero():
		return "set up"
	case d.Started.IsZero():
		return "start"
	case d.Running():
		return "work"
	case d.Finished.IsZero():
		return "pause"
	}
	return "sign"
}
