package booking

import (
	"slices"

	"drawbar/booking/fault"
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
	Active  bool
	Version int
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
	return f.Err()
}
