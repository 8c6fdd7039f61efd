package main

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"drawbar/routing"
	"drawbar/routing/round"
)

// customer is a line of an instance; the first is the depot.
type customer struct {
	x, y, demand, ready, due, service float64
}

// instance is a vehicle-routing problem with time windows.
type instance struct {
	name      string
	vehicles  int
	capacity  int64
	customers []customer
}

// maxVehicles and maxCustomers keep a damaged file from asking for the world.
const (
	maxVehicles  = 1000
	maxCustomers = 2000
)

// read reads Solomon's format: a name, a line with vehicles and capacity, then
// lines of seven numbers.
func read(r io.Reader) (*instance, error) {
	in := &instance{}
	scan := bufio.NewScanner(r)
	for n := 1; scan.Scan(); n++ {
		fields := strings.Fields(scan.Text())
		numbers, ok := parse(fields)
		switch {
		case in.name == "" && len(fields) > 0:
			in.name = fields[0]
		case ok && len(numbers) == 2:
			in.vehicles, in.capacity = int(numbers[0]), int64(numbers[1])
		case ok && len(numbers) == 7:
			in.customers = append(in.customers, customer{numbers[1], numbers[2], numbers[3], numbers[4], numbers[5], numbers[6]})
		case ok && len(numbers) > 0:
			return nil, fmt.Errorf("line %d has %d numbers, not 7", n, len(numbers))
		}
		if len(in.customers) > maxCustomers {
			return nil, fmt.Errorf("more than %d customers", maxCustomers)
		}
	}
	if err := scan.Err(); err != nil {
		return nil, err
	}
	return in, in.check()
}

func parse(fields []string) ([]float64, bool) {
	var out []float64
	for _, f := range fields {
		x, err := strconv.ParseFloat(f, 64)
		if err != nil || math.IsNaN(x) || math.Abs(x) > 1e6 {
			return nil, false
		}
		out = append(out, x)
	}
	return out, true
}

func (in *instance) check() error {
	switch {
	case in.vehicles < 1 || in.vehicles > maxVehicles || in.capacity < 1:
		return fmt.Errorf("%d vehicles of capacity %d: the line with both is missing or wrong", in.vehicles, in.capacity)
	case len(in.customers) < 2:
		return fmt.Errorf("%d lines of customers: at least a depot and one more", len(in.customers))
	case in.customers[0].due*10 > round.Day:
		return fmt.Errorf("the depot closes at %g: at most %g fits a day", in.customers[0].due, round.Day/10.0)
	}
	for i, c := range in.customers {
		if c.demand < 0 || c.ready < 0 || c.due < c.ready || c.service < 0 {
			return fmt.Errorf("customer %d: demand, window and service have to be sensible", i)
		}
	}
	return nil
}

// tenths is the distance in tenths, cut.
func (in *instance) tenths(i, j int) int32 {
	a, b := in.customers[i], in.customers[j]
	return int32(math.Floor(10 * math.Hypot(a.x-b.x, a.y-b.y)))
}

func id(i int) string { return strconv.Itoa(i) }

func (in *instance) table() (*routing.Table, error) {
	n := len(in.customers)
	places := make([]routing.Place, n)
	legs := make([]routing.Leg, n*n)
	for i, c := range in.customers {
		places[i] = routing.Place{ID: id(i), At: orb.Point{c.x, c.y}}
		for j := range n {
			d := in.tenths(i, j)
			legs[i*n+j] = routing.Leg{Seconds: d, Metres: d, Reachable: true}
		}
	}
	return routing.NewTable(places, legs)
}

// problem is the instance as a day of rigs. A kilometre costs 1000, so that a
// tenth of distance costs one minor unit.
func (in *instance) problem() (round.Problem, error) {
	table, err := in.table()
	if err != nil {
		return round.Problem{}, err
	}
	p := round.Problem{
		Days: 1, Towing: table, Solo: table,
		Daylight: []round.Span{{To: round.Day}},
		Costs:    round.Costs{Km: 1000},
	}
	depot := in.customers[0]
	day := round.RigDay{Start: int32(10 * depot.ready), End: int32(10 * depot.due), Latest: int32(10 * depot.due), MaxLoad: in.capacity}
	for k := range in.vehicles {
		p.Rigs = append(p.Rigs, round.Rig{ID: id(k), Home: "0", Days: []round.RigDay{day}})
	}
	for i, c := range in.customers[1:] {
		p.Visits = append(p.Visits, in.visit(i+1, c))
	}
	return p, nil
}

func (in *instance) visit(i int, c customer) round.Visit {
	v := round.Visit{
		ID: id(i), Place: id(i), Lit: true, Load: int64(c.demand), Value: round.MaxPrice,
		Windows: []round.Window{{From: int32(10 * c.ready), To: int32(min(10*c.due, round.Day))}},
		Times:   map[string]round.Times{},
	}
	for k := range in.vehicles {
		v.Times[id(k)] = round.Times{Work: int32(10 * c.service)}
	}
	return v
}

// distance adds a plan up from the coordinates, in units of the instance, and
// counts its vehicles. It fails unless every customer is visited once.
func (in *instance) distance(plan round.Plan) (float64, int, error) {
	seen := make([]bool, len(in.customers))
	var sum int64
	for _, r := range plan.Rounds {
		at := 0
		for _, s := range r.Stops {
			to, err := strconv.Atoi(s.Visit)
			if err != nil || to < 1 || to >= len(seen) || seen[to] {
				return 0, 0, fmt.Errorf("visit %q is unknown or comes twice", s.Visit)
			}
			seen[to] = true
			sum += int64(in.tenths(at, to))
			at = to
		}
		sum += int64(in.tenths(at, 0))
	}
	for i := 1; i < len(seen); i++ {
		if !seen[i] {
			return 0, 0, fmt.Errorf("customer %d is not visited", i)
		}
	}
	return float64(sum) / 10, len(plan.Rounds), nil
}
