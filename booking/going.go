package booking

import (
	"context"
	"errors"

	"cloud.google.com/go/civil"
)

// OnDay is the rig with those of its crew who go with it on a day, and those
// who would but are away. Who has left is in neither.
func (r Rig) OnDay(day civil.Date, people map[ID]Person) (there Rig, away []Person) {
	there, there.Crew = r, nil
	for _, id := range r.Crew {
		p := people[id]
		switch _, is := p.AwayOn(day); {
		case !p.Active:
		case is:
			away = append(away, p)
		default:
			there.Crew = append(there.Crew, id)
		}
	}
	return there, away
}

// Going is the rig with those who go with it on a day, to reckon times with;
// with its usual crew when nobody does, since times want somebody.
func (r Rig) Going(day civil.Date, people map[ID]Person) Rig {
	if there, _ := r.OnDay(day, people); len(there.Crew) > 0 {
		return there
	}
	return r
}

// GoingRig reads a rig with those who go with it on a day, as Going has it.
func GoingRig(ctx context.Context, s Store, rig ID, day civil.Date) (Rig, error) {
	r, err1 := s.Rig(ctx, rig)
	people, err2 := s.People(ctx)
	if err := errors.Join(err1, err2); err != nil {
		return r, err
	}
	return r.Going(day, PeopleByID(people)), nil
}
