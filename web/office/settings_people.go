package office

import (
	"context"
	"net/http"
	"slices"
	"strings"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/web/session"
	"drawbar/web/view"

	"github.com/gin-gonic/gin"
)

func (o *office) people(c *gin.Context) error {
	people, err := o.Store.People(c.Request.Context())
	if err != nil {
		return err
	}
	return view.Render(c, http.StatusOK, pages, "people", people)
}

// personPage edits one person.
type personPage struct {
	Person booking.Person // as stored; zero for a new one
	Form   *view.Form
	Away   *view.Form // days off to add
	Roles  []view.Option
	Skills []view.Option
}

// ID in the address: "new" for a new person.
func (p personPage) ID() string {
	if p.Person.ID == "" {
		return "new"
	}
	return string(p.Person.ID)
}

var roleWords = map[booking.Role]string{
	booking.Owner: "owner: everything", booking.Office: "office: bookings, farms, money", booking.Operator: "operator: rounds and dockets",
}

func (o *office) personPage(c *gin.Context) (page personPage, err error) {
	page.Roles = view.Options(booking.Roles, func(r booking.Role) string { return roleWords[r] })
	page.Skills = view.Options(booking.Skills, skillWords)
	page.Person = booking.Person{Active: true, Role: booking.Operator}
	if c.Param("id") != "new" {
		id, err := view.ID(c, "id")
		if err != nil {
			return page, err
		}
		if page.Person, err = o.Store.Person(c.Request.Context(), id); err != nil {
			return page, err
		}
	}
	page.Form, page.Away = formOfPerson(page.Person), view.NewForm("version", page.Person.Version)
	return page, nil
}

func formOfPerson(p booking.Person) *view.Form {
	f := view.NewForm("name", p.Name, "email", p.Email, "phone", p.Phone, "role", p.Role, "active", p.Active, "version", p.Version)
	f.Set("skills", texts(p.Skills))
	return f
}

func skillWords(s booking.Skill) string {
	return map[booking.Skill]string{booking.SkillScan: "scanning", booking.SkillFootTrim: "foot trimming", booking.SkillCrutch: "crutching"}[s]
}

func texts[T ~string](values []T) []string {
	all := make([]string, len(values))
	for i, v := range values {
		all[i] = string(v)
	}
	return all
}

func (o *office) person(c *gin.Context) error {
	page, err := o.personPage(c)
	if err != nil {
		return err
	}
	return view.Render(c, http.StatusOK, pages, "person", page)
}

func (o *office) savePerson(c *gin.Context) error {
	page, err := o.personPage(c)
	if err != nil {
		return err
	}
	if page.Form, err = view.ReadForm(c); err != nil {
		return err
	}
	p := personOf(page.Form, page.Person)
	err = p.Check()
	if err == nil && page.Form.OK() {
		err = o.keepPerson(c.Request.Context(), &p)
	}
	if err := page.Form.Take(err); err != nil {
		return err
	}
	if !page.Form.OK() {
		page.Form.Meet(formOfPerson(page.Person), map[string][]view.Option{"role": page.Roles, "skills": page.Skills})
		return view.Render(c, page.Form.Status(), pages, "person", page)
	}
	says, err := o.savedPerson(c.Request.Context(), p)
	if err != nil {
		return err
	}
	session.Flash(c, says)
	return view.See(c, "/settings/people")
}

// savedPerson says what was done, and which rigs are now short of somebody.
func (o *office) savedPerson(ctx context.Context, p booking.Person) (string, error) {
	says := "Saved " + p.Name + "."
	if p.Active {
		return says, nil
	}
	rigs, err := o.Store.Rigs(ctx)
	for _, r := range rigs {
		if r.Active && slices.Contains(r.Crew, p.ID) {
			says += " " + r.Name + " still counts on " + p.Name + "; choose who goes with it now."
		}
	}
	return says, err
}

// personOf is the person that a form describes; days away are not in it.
func personOf(f *view.Form, stored booking.Person) booking.Person {
	p := booking.Person{
		ID: stored.ID, Away: stored.Away, Name: f.Text("name"), Email: f.Text("email"), Phone: f.Text("phone"), Role: booking.Role(f.Text("role")),
		Active: f.Bool("active"), Version: f.Version(),
	}
	for _, s := range f.Texts("skills") {
		p.Skills = append(p.Skills, booking.Skill(s))
	}
	return p
}

// keepPerson stores a person whose address is their own.
func (o *office) keepPerson(ctx context.Context, p *booking.Person) error {
	people, err := o.Store.People(ctx)
	if err != nil {
		return err
	}
	f := fault.Fields{}
	for _, other := range people {
		if other.ID != p.ID && strings.EqualFold(other.Email, p.Email) {
			f.Add("email", "%s has this address already; each person needs one of their own.", other.Name)
		}
	}
	if err := f.Err(); err != nil {
		return err
	}
	return o.Store.SavePerson(ctx, p)
}

// mailLink mails a link that signs the person in.
func (o *office) mailLink(c *gin.Context) error {
	id, err := view.ID(c, "id")
	if err != nil {
		return err
	}
	p, err := o.Store.Person(c.Request.Context(), id)
	switch {
	case err != nil:
		return err
	case !p.Active:
		return fault.Newf(fault.Conflict, "%s does not work here now and cannot sign in. Tick “Works here now” first.", p.Name)
	}
	if err := o.Desk.MailSignIn(c.Request.Context(), p.Email); err != nil {
		return err
	}
	session.Flash(c, "A link is on its way to "+p.Email+".")
	return view.See(c, "/settings/people")
}
