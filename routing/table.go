package routing

import "fmt"

// Table holds the leg from every place to every other place.
type Table struct {
	places []Place
	legs   []Leg
	index  map[string]int
}

// NewTable makes a table of n places from n×n legs, row by row: the leg from i
// to j is legs[i*n+j]. The slices belong to the table afterwards. Legs from a
// place to itself are set to zero.
func NewTable(places []Place, legs []Leg) (*Table, error) {
	n := len(places)
	if len(legs) != n*n {
		return nil, fmt.Errorf("routing: %d places need %d legs, not %d", n, n*n, len(legs))
	}
	index, err := indexPlaces(places)
	if err != nil {
		return nil, err
	}
	for i, l := range legs {
		if l.Reachable && (l.Seconds < 0 || l.Metres < 0) {
			return nil, fmt.Errorf("routing: leg from %s to %s is negative", places[i/n].ID, places[i%n].ID)
		}
	}
	for i := range n {
		legs[i*n+i] = Leg{Reachable: true}
	}
	return &Table{places: places, legs: legs, index: index}, nil
}

func indexPlaces(places []Place) (map[string]int, error) {
	index := make(map[string]int, len(places))
	for i, p := range places {
		if p.ID == "" {
			return nil, fmt.Errorf("routing: place %d has no id", i)
		}
		if _, twice := index[p.ID]; twice {
			return nil, fmt.Errorf("routing: place %s is given twice", p.ID)
		}
		index[p.ID] = i
	}
	return index, nil
}

// At is the leg between two places by their positions in Places.
func (t *Table) At(from, to int) Leg { return t.legs[from*len(t.places)+to] }

// Index is the position of a place, and whether the table knows it.
func (t *Table) Index(id string) (int, bool) {
	i, ok := t.index[id]
	return i, ok
}

// Len is the number of places.
func (t *Table) Len() int { return len(t.places) }

// Places are the places in table order. Callers do not change the slice.
func (t *Table) Places() []Place { return t.places }
