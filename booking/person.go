package booking

import (
	"slices"

	"drawbar/booking/fault"

	"cloud.google.com/go/civil"
)

// Role decides what a signed-in person may do.
type Role string

// The roles. Farmers have none: they come through their link.
const (
	Owner    Role = "owner"    // everything
	Office   Role = "office"   // bookings, farms, money; not people or the business
	Operator Role = "operator" // the phone: rounds and dockets
)

// Roles in the order a form lists them.
var Roles = []Role{Owner, Office, Operator}

// Person works for the business: signs in, goes with a rig, or both.
type Person struct {
	ID      ID
	Name    string
	Email   string
	Phone   string
	Role    Role
	Skills  []Skill
	Away    []Away // in order
	Active  bool
	Version int
}

// Away is a run of days on which somebody does not work.
type Away struct {
	From, To civil.Date // both included
	Reason   string
}

// PeopleByID indexes people by id.
func PeopleByID(people []Person) map[ID]Person {
	byID := make(map[ID]Person, len(people))
	for _, p := range people {
		byID[p.ID] = p
	}
	return byID
}

// AwayOn tells whether the person is away on a day, and why.
func (p Person) AwayOn(day civil.Date) (Away, bool) {
	for _, a := range p.Away {
		if !day.Before(a.From) && !day.After(a.To) {
			return a, true
		}
	}
	return Away{}, false
}

const (
	longestAway = 400 // days
	mostAway    = 50  // runs of days
)

// Check says what is wrong with the entries, field by field.
func (a Away) Check() error {
	f := fault.Fields{}
	switch {
	case !a.From.IsValid():
		f.Add("from", "Give the first day away.")
	case !a.To.IsValid() || a.To.Before(a.From) || a.To.DaysSince(a.From) > longestAway:
		f.Add("to", "Give the last day away, from the first one to %d days later.", longestAway)
	}
	f.Text("reason", a.Reason, 60, fault.Optional)
	return f.Err()
}

// NoteAway adds days away, in order. The error says what is wrong with them.
func (p *Person) NoteAway(a Away) error {
	if err := a.Check(); err != nil {
		return err
	}
	p.Away = append(slices.Clone(p.Away), a)
	slices.SortFunc(p.Away, func(a, b Away) int { return a.From.Compare(b.From) })
	return p.Check()
}

// Skill is something a visit may need a person for.
type Skill string

// The skills services ask for.
const (
	SkillScan     Skill = "scan"
	SkillFootTrim Skill = "foot-trim"
	SkillCrutch   Skill = "crutch"
)

// Skills in the order a form lists them.
var Skills = []Skill{SkillScan, SkillFootTrim, SkillCrutch}

// Can tells whether the person has the skill.
func (p Person) Can(s Skill) bool { return slices.Contains(p.Skills, s) }

// Check says what is wrong with the entries, field by field.
func (p Person) Check() error {
	f := fault.Fields{}
	f.Text("name", p.Name, 120, fault.Required)
	f.Email("email", p.Email, fault.Required)
	f.Text("phone", p.Phone, 40, fault.Optional)
	if !slices.Contains(Roles, p.Role) {
		f.Add("role", "Choose what the person does: owner, office or operator.")
	}
	for _, s := range p.Skills {
		if !slices.Contains(Skills, s) {
			f.Add("skills", "Choose skills from the list.")
		}
	}
	if len(p.Away) > mostAway {
		f.Add("away", "Only %d runs of days away can be kept; take out old ones.", mostAway)
	}
	for _, a := range p.Away {
		f.Merge("away_", fault.FieldsOf(a.Check()))
	}
	return f.Err()
}
