package round_test

import (
	"math"
	"testing"

	"drawbar/routing"
	"drawbar/routing/round"
)

// berlin52 are the 52 points of TSPLIB's berlin52 (Reinelt 1991, ORSA Journal
// on Computing 3:376), coordinates from memory.
var berlin52 = [][2]float64{
	{565, 575}, {25, 185}, {345, 750}, {945, 685}, {845, 655}, {880, 660}, {25, 230}, {525, 1000}, {580, 1175}, {650, 1130},
	{1605, 620}, {1220, 580}, {1465, 200}, {1530, 5}, {845, 680}, {725, 370}, {145, 665}, {415, 635}, {510, 875}, {560, 365},
	{300, 465}, {520, 585}, {480, 415}, {835, 625}, {975, 580}, {1215, 245}, {1320, 315}, {1250, 400}, {660, 180}, {410, 250},
	{420, 555}, {575, 665}, {1150, 1160}, {700, 580}, {685, 595}, {685, 610}, {770, 610}, {795, 645}, {720, 635}, {760, 650},
	{475, 960}, {95, 260}, {875, 920}, {700, 500}, {555, 815}, {830, 485}, {1170, 65}, {830, 610}, {605, 625}, {595, 360},
	{1340, 725}, {1740, 245},
}

// tour is a problem of one rig that has to see every point in a day, where
// only kilometres cost.
func tour(points [][2]float64) round.Problem {
	n := len(points)
	places, legs := make([]routing.Place, n), make([]routing.Leg, n*n)
	for i, a := range points {
		places[i] = routing.Place{ID: place(i)}
		for j, b := range points {
			d := int32(math.Round(math.Hypot(a[0]-b[0], a[1]-b[1]))) // EUC_2D of TSPLIB
			legs[i*n+j] = routing.Leg{Seconds: d, Metres: d, Reachable: true}
		}
	}
	table, err := routing.NewTable(places, legs)
	if err != nil {
		panic(err)
	}
	day := round.RigDay{End: round.Day, Latest: round.Day}
	p := round.Problem{
		Days: 1, Towing: table, Solo: table, Daylight: []round.Span{{To: round.Day}}, Costs: round.Costs{Km: 1000},
		Rigs: []round.Rig{{ID: "R", Home: place(0), Days: []round.RigDay{day}}},
	}
	for i := 1; i < n; i++ {
		p.Visits = append(p.Visits, round.Visit{ID: place(i), Place: place(i), Lit: true, Value: round.MaxPrice, Times: map[string]round.Times{"R": {}}})
	}
	return p
}

// The shortest tour of berlin52 is 7542 (TSPLIB's published optimum, from
// memory; two independent facts from memory agreeing is the check on both).
func TestShortestTourOfBerlin52(t *testing.T) {
	plan := solve(t, tour(berlin52), round.Options{Seed: 1, Iterations: 8000})
	if plan.Totals.Metres != 7542 {
		t.Errorf("%d, the optimum is 7542", plan.Totals.Metres)
	}
}

// The best tour of points on a circle goes round it: the regular polygon.
func TestTourOfACircle(t *testing.T) {
	const n = 40
	var points [][2]float64
	for i := range n {
		a := 2 * math.Pi * float64(i*7%n) / n
		points = append(points, [2]float64{100000 * math.Cos(a) / 2, 100000 * math.Sin(a) / 2})
	}
	side := math.Round(100000 * math.Sin(math.Pi/n))
	p := tour(points)
	p.Towing = faster(p.Towing)
	p.Solo = p.Towing
	plan := solve(t, p, round.Options{Seed: 1, Iterations: 3000})
	if math.Abs(float64(plan.Totals.Metres)-n*side) > n {
		t.Errorf("%d, round the circle %.0f", plan.Totals.Metres, n*side)
	}
}

// faster keeps the metres but drives in a tenth of the seconds, to fit a day.
func faster(t *routing.Table) *routing.Table {
	n := t.Len()
	legs := make([]routing.Leg, n*n)
	for i := range legs {
		legs[i] = t.At(i/n, i%n)
		legs[i].Seconds /= 10
	}
	out, err := routing.NewTable(t.Places(), legs)
	if err != nil {
		panic(err)
	}
	return out
}
