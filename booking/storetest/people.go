package storetest

import (
	"sync"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/sample"
)

var peopleChecks = []check{
	{"the last owner stays", keepsLastOwner},
	{"of two owners who leave at once one stays", keepsOneOfTwo},
	{"people can be added before there is an owner", addsPeopleFirst},
}

// person stores somebody of the role.
func (s *suite) person(role booking.Role) booking.Person {
	s.Helper()
	p := sample.Person(role)
	s.must(s.SavePerson(s.ctx, &p))
	return p
}

// leaving is the person as an operator, and as one who left.
func leaving(p booking.Person) []booking.Person {
	operator, gone := p, p
	operator.Role, gone.Active = booking.Operator, false
	return []booking.Person{operator, gone}
}

func keepsLastOwner(s *suite) {
	owner := s.person(booking.Owner)
	s.person(booking.Office)
	for i, field := range []string{"role", "active"} {
		p := leaving(owner)[i]
		err := s.SavePerson(s.ctx, &p)
		s.wants(fault.Invalid, err)
		if fault.FieldsOf(err)[field] == "" {
			s.Errorf("no sentence at %q: %v", field, err)
		}
	}
	s.same("owner", found[booking.Person](s)(s.Person(s.ctx, owner.ID)), owner)

	s.person(booking.Owner)
	s.must(s.SavePerson(s.ctx, &leaving(owner)[0]))
}

func keepsOneOfTwo(s *suite) {
	stays := s.person(booking.Owner)
	for range 20 {
		owners := []booking.Person{stays, s.person(booking.Owner)}
		var wg sync.WaitGroup
		for i := range owners {
			wg.Go(func() {
				if err := s.SavePerson(s.ctx, &leaving(owners[i])[i]); err != nil && fault.KindOf(err) == fault.Internal {
					s.Errorf("leaving at once: %v", err)
				}
			})
		}
		wg.Wait()
		var left []booking.Person
		for _, p := range found[[]booking.Person](s)(s.People(s.ctx)) {
			if p.Active && p.Role == booking.Owner {
				left = append(left, p)
			}
		}
		if len(left) != 1 {
			s.Fatalf("%d owners are left, want 1", len(left))
		}
		stays = left[0]
	}
}

func addsPeopleFirst(s *suite) {
	p := s.person(booking.Operator)
	p.Active = false
	s.must(s.SavePerson(s.ctx, &p))
}
