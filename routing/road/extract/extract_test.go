package extract_test

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"drawbar/booking/fault"
	"drawbar/routing/road/extract"
	"drawbar/routing/road/network"
	"drawbar/routing/road/roadtest"
	"drawbar/routing/road/tag"
)

// kindOf imports a street with the given tags and gives its kind.
func kindOf(t *testing.T, tags string) (network.Kind, bool) {
	t.Helper()
	r := roadtest.Town(t, "n 1 0 0\nn 2 1000 0\nn 3 0 9000\nn 4 0 9100\nw 1 1,2 "+tags+"\nw 2 3,4 highway=trunk")
	for i := range r.Edges {
		if k := r.Kinds[r.Edges[i].Kind]; r.Vertices[r.Edges[i].From].Lat < 51_050_000 {
			return k, true
		}
	}
	return network.Kind{}, false
}

// Meanings of tags: OpenStreetMap wiki, pages Key:highway, Key:access,
// Key:maxspeed, Key:surface, Key:tracktype, Key:smoothness, Key:maxweight,
// Key:width, Key:incline, Conditional restrictions.
func TestTagsBecomeKinds(t *testing.T) {
	both := func(a tag.Access) [2]tag.Access { return [2]tag.Access{a, a} }
	for tags, want := range map[string]network.Kind{
		"highway=secondary": {Class: network.Secondary},
		"highway=primary maxspeed=50~mph maxspeed:trailer=40~mph":              {Class: network.Primary, Limit: [2]uint16{80, 80}, TowLimit: [2]uint16{64, 64}},
		"highway=primary maxspeed=100 maxspeed:conditional=70~@~(trailer)":     {Class: network.Primary, Limit: [2]uint16{100, 100}, TowLimit: [2]uint16{70, 70}},
		"highway=primary maxspeed=100 maxspeed:conditional=70~@~(22:00-06:00)": {Class: network.Primary, Limit: [2]uint16{100, 100}},
		"highway=tertiary maxspeed:forward=60 maxspeed=80":                     {Class: network.Tertiary, Limit: [2]uint16{60, 80}},
		"highway=tertiary maxspeed=GB:urban":                                   {Class: network.Tertiary, Features: network.Urban},
		"highway=track tracktype=grade4 surface=dirt":                          {Class: network.Track, Access: both(tag.LegOnly), Grade: 4, Surface: network.Earth},
		"highway=track motor_vehicle=no":                                       {Class: network.Classes},
		"highway=track access=no motor_vehicle=agricultural":                   {Class: network.Track, Access: both(tag.LegOnly)},
		"highway=unclassified access=private":                                  {Class: network.Unclassified, Access: both(tag.LegOnly)},
		"highway=unclassified motor_vehicle=destination":                       {Class: network.Unclassified, Access: both(tag.LegOnly)},
		"highway=service service=driveway":                                     {Class: network.Driveway, Access: both(tag.LegOnly)},
		"highway=service":                                                      {Class: network.Service},
		"highway=footway":                                                      {Class: network.Classes},
		"highway=path motor_vehicle=yes":                                       {Class: network.Track, Access: both(tag.LegOnly)},
		"highway=construction":                                                 {Class: network.Classes},
		"highway=pedestrian area=yes":                                          {Class: network.Classes},
		"highway=residential oneway=yes":                                       {Class: network.Residential, Features: network.Urban, Access: [2]tag.Access{tag.Through, tag.Closed}},
		"highway=residential oneway=-1":                                        {Class: network.Residential, Features: network.Urban, Access: [2]tag.Access{tag.Closed, tag.Through}},
		"highway=primary oneway=yes":                                           {Class: network.Primary, Features: network.Dual, Access: [2]tag.Access{tag.Through, tag.Closed}},
		"highway=primary_link oneway=yes":                                      {Class: network.Primary, Features: network.Link, Access: [2]tag.Access{tag.Through, tag.Closed}},
		"highway=unclassified maxweight=7.5 maxheight=12'6\" maxwidth=2.1":     {Class: network.Unclassified, MaxKg: 7500, MaxHeight: 381, MaxWidth: 210},
		"highway=unclassified maxaxleload=2":                                   {Class: network.Unclassified, MaxKg: 6000},
		"highway=unclassified width=3 lanes=1":                                 {Class: network.Unclassified, Width: 300, Features: network.Lane},
		"highway=unclassified smoothness=very_bad incline=-12%":                {Class: network.Unclassified, Roughness: 5, Incline: -12},
		"highway=unclassified trailer=no ford=yes bridge=yes toll=yes":         {Class: network.Unclassified, Features: network.NoTow | network.Ford | network.Bridge | network.Toll},
		"highway=unclassified maxspeed=none maxweight=default incline=up":      {Class: network.Unclassified},
		"route=ferry":  {Class: network.Classes},
		"railway=rail": {Class: network.Classes},
		"highway=unclassified vehicle:backward=no": {Class: network.Unclassified, Access: [2]tag.Access{tag.Through, tag.Closed}},
	} {
		got, kept := kindOf(t, tags)
		if kept != (want.Class != network.Classes) {
			t.Errorf("%s: kept %v", tags, kept)
		} else if kept && got != want {
			t.Errorf("%s:\n got %+v\nwant %+v", tags, got, want)
		}
	}
}

func TestFerryDrivesAtTheSpeedOfItsTimetable(t *testing.T) {
	// 10 km in 30 minutes are 20 km/h.
	r := roadtest.Town(t, `
n 1 0 0
n 2 10000 0
n 3 0 500
w 1 1,2 route=ferry motor_vehicle=yes duration=00:30
w 2 1,3 highway=primary`)
	for i := range r.Edges {
		if k := r.Kinds[r.Edges[i].Kind]; k.Class == network.Ferry && (k.Limit != [2]uint16{20, 20} || k.Delay[0] == 0) {
			t.Errorf("ferry %+v", k)
		}
	}
}

// village has a gate half way along a lane, a bollard, a ford, and lanes that
// cross without meeting a node.
const village = `
n 1 0 0
n 2 200 0 barrier=gate
n 3 400 0
n 4 400 200 barrier=bollard
n 5 400 400
n 6 0 400
n 7 200 400 ford=yes
n 8 600 0 highway=turning_circle
w 10 1,2,3 highway=unclassified
w 11 3,4,5 highway=residential
w 12 5,7,6 highway=unclassified
w 13 6,1 highway=tertiary
w 14 3,8 highway=residential`

func TestWhatStandsInTheRoadBecomesAnEdgeOfNoLength(t *testing.T) {
	r := roadtest.Town(t, village)
	var gates, fords, closed, circles int
	for i := range r.Edges {
		e, k := &r.Edges[i], &r.Kinds[r.Edges[i].Kind]
		if e.Length > 0 && k.Features&(network.Gate|network.Ford) != 0 {
			t.Errorf("edge of %d dm has %v", e.Length, k.Features)
		}
		if e.Length > 0 {
			continue
		}
		if r.Vertices[e.From] != r.Vertices[e.To] {
			t.Errorf("edge of no length from %v to %v", r.Vertices[e.From], r.Vertices[e.To])
		}
		switch {
		case k.Has(network.Gate):
			gates++
		case k.Has(network.Ford):
			fords++
		case !k.Open(0) && !k.Open(1):
			closed++
		}
	}
	for _, f := range r.At {
		if f&network.TurningPlace != 0 {
			circles++
		}
	}
	if gates != 1 || fords != 1 || closed != 1 || circles != 1 {
		t.Errorf("%d gates, %d fords, %d bollards, %d turning circles; want one of each", gates, fords, closed, circles)
	}
}

func TestAGateAtAJunctionBelongsToTheSmallestRoad(t *testing.T) {
	r := roadtest.Town(t, `
n 1 0 0
n 2 100 0 barrier=gate
n 3 200 0
n 4 100 100
w 1 1,2,3 highway=primary
w 2 2,4 highway=track`)
	gates := 0
	for i := range r.Edges {
		if k := &r.Kinds[r.Edges[i].Kind]; k.Has(network.Gate) {
			gates++
			if k.Class != network.Track {
				t.Errorf("a gate across a road of class %d", k.Class)
			}
		}
	}
	if gates != 1 {
		t.Errorf("%d gates", gates)
	}
}

func TestPrivatePocketsAreNotForDrivingThrough(t *testing.T) {
	r, report := roadtest.TownReport(t, village+`
n 20 0 -100
n 21 0 -300
n 22 100 -300
n 23 0 -400
w 20 1,20 highway=service access=private
w 21 20,21,23 highway=unclassified
w 22 21,22 highway=residential`)
	for i := range r.Edges {
		south := r.Vertices[r.Edges[i].From].Lat < 51e6 || r.Vertices[r.Edges[i].To].Lat < 51e6
		flags := r.Edges[i].Flags
		if through := flags&(network.ThroughAlong|network.ThroughAgainst) != 0; south && through {
			t.Errorf("edge %d behind the private road counts as through", i)
		}
		if r.Edges[i].Length > 0 && flags&(network.Leaves|network.Arrives) != network.Leaves|network.Arrives {
			t.Errorf("edge %d is not joined: %b", i, flags)
		}
	}
	if report.Pockets == 0 || report.Through != len(r.Order) {
		t.Errorf("report %+v, %d ordered", report, len(r.Order))
	}
}

// crossing is a crossroads 2 with arms 1 west, 3 east, 4 north, 5 south, and a
// side road at 3.
const crossing = `
n 1 -100 0
n 2 0 0
n 3 100 0
n 4 0 100
n 5 0 -100
n 6 200 0
n 7 100 100
w 1 1,2 highway=primary
w 2 2,3 highway=primary
w 3 2,4 highway=secondary
w 4 2,5 highway=secondary
w 5 3,6 highway=primary
w 6 3,7 highway=residential
`

func TestRestrictionsBecomeBans(t *testing.T) {
	for _, c := range []struct {
		name, line string
		bans       int
		tow        bool
		arcs       int
	}{
		{"no left turn", "r no_left_turn 1 2 3", 1, false, 2},
		{"only straight on bans the two others and the way back", "r only_straight_on 1 2 2", 3, false, 2},
		{"no U-turn", "r no_u_turn 2 3 2", 1, false, 2},
		{"over a way", "r no_left_turn 1 w2 6", 1, false, 3},
		{"only, over a way", "r only_straight_on 1 w2 5", 2, false, 3},
		{"not for cars", "r no_left_turn 1 2 3 except=psv;motorcar", 0, false, 0},
		{"for trailers", "r - 1 2 3 restriction:trailer=no_left_turn", 1, true, 2},
		{"for lorries", "r - 1 2 3 restriction:hgv=no_left_turn", 0, false, 0},
		{"by day", "r - 1 2 3 restriction:conditional=no_left_turn~@~(Mo-Fr~07:00-19:00)", 1, false, 2},
		{"on a road the file lacks", "r no_left_turn 1 2 99", 0, false, 0},
		{"over ways that do not join", "r no_left_turn 1 w5 6", 0, false, 0},
		{"not a restriction", "r maybe_left_turn 1 2 3", 0, false, 0},
	} {
		r := roadtest.Town(t, crossing+c.line)
		if len(r.Bans) != c.bans {
			t.Errorf("%s: bans %v, want %d", c.name, r.Bans, c.bans)
			continue
		}
		for _, b := range r.Bans {
			if b.Tow != c.tow || len(b.Arcs) != c.arcs {
				t.Errorf("%s: ban %+v", c.name, b)
			}
			for i := 1; i < len(b.Arcs); i++ {
				if r.Head(b.Arcs[i-1]) != r.Tail(b.Arcs[i]) {
					t.Errorf("%s: ban %v does not join up", c.name, b.Arcs)
				}
			}
		}
	}
}

func TestARoadIsCutShortWhereTheFileLacksItsNodes(t *testing.T) {
	r, report := roadtest.TownReport(t, "n 1 0 0\nn 2 100 0\nn 3 200 0\nw 1 1,2,3,404,405 highway=primary\nn 7 0 50\nw 2 1,7 highway=primary")
	total := int32(0)
	for _, e := range r.Edges {
		total += e.Length
	}
	if report.Missing != 2 || total < 2490 || total > 2510 {
		t.Errorf("%d nodes missing, %d dm of road left; want 2 and 250 m", report.Missing, total)
	}
}

func TestANodeWithAWrongPositionCutsTheRoad(t *testing.T) {
	// A node at 0° 0° is a common slip of data; no road leaps there and back.
	text := strings.Replace(roadtest.TownXML("n 1 0 0\nn 2 100 0\nn 3 200 0\nn 4 300 0\nn 5 400 0\nw 1 1,2,3,4,5 highway=primary"),
		`<node id="3" version="1" visible="true" lat="51.0000000" lon="-0.9971419">`, `<node id="3" version="1" visible="true" lat="0" lon="0">`, 1)
	r, report, err := importText(text, extract.Options{Format: extract.XML})
	if err != nil {
		t.Fatal(err)
	}
	total := int32(0)
	for _, e := range r.Edges {
		total += e.Length
	}
	if report.Missing == 0 || total > 2100 {
		t.Errorf("%d nodes missing, %d dm of road", report.Missing, total)
	}
}

func TestNumbersFollowPositions(t *testing.T) {
	// Neighbours get close numbers: on a long road the numbers of the ends of
	// each piece differ by little, in whatever order the file has them.
	var b strings.Builder
	const pieces = 64
	for i := range pieces + 1 {
		fmt.Fprintf(&b, "n %d %d 0\n", 1000-i*7%997, i*100)
	}
	for i := range pieces {
		k := i * 29 % pieces
		fmt.Fprintf(&b, "w %d %d,%d highway=tertiary\n", i+1, 1000-k*7%997, 1000-(k+1)*7%997)
	}
	r := roadtest.Town(t, b.String())
	far := 0
	for i := range r.Edges {
		if d := r.Edges[i].From - r.Edges[i].To; d > 1 || d < -1 {
			far++
		}
		if i > 0 && r.Edges[i].From < r.Edges[i-1].From {
			t.Errorf("edge %d begins before edge %d", i, i-1)
		}
	}
	if far > pieces/4 || len(r.Edges) != pieces {
		t.Errorf("%d of %d edges join vertices with far numbers", far, len(r.Edges))
	}
}

func TestEveryThroughEdgeIsOrderedOnce(t *testing.T) {
	r := roadtest.Town(t, village)
	seen := map[int32]bool{}
	for _, e := range r.Order {
		if seen[e] {
			t.Errorf("edge %d is ordered twice", e)
		}
		seen[e] = true
	}
	for e := range r.Edges {
		through := r.Edges[e].Flags&(network.ThroughAlong|network.ThroughAgainst) != 0
		if through != seen[int32(e)] {
			t.Errorf("edge %d: through %v, ordered %v", e, through, seen[int32(e)])
		}
	}
}

func TestDateAndCreditAreKept(t *testing.T) {
	day := time.Date(2026, 3, 8, 0, 0, 0, 0, time.UTC)
	r, _, err := importText(roadtest.TownXML(village), extract.Options{Format: extract.XML, Region: "GB", Source: "drawn by hand", Date: day})
	if err != nil || r.Source != "drawn by hand" || !r.Date.Equal(day) || r.Region != "GB" {
		t.Errorf("%q %v %q %v", r.Source, r.Date, r.Region, err)
	}
	if r, _, _ := importText(roadtest.TownXML(village), extract.Options{Format: extract.XML}); r.Source != "© OpenStreetMap contributors" {
		t.Errorf("credit %q", r.Source)
	}
}

func importText(text string, opts extract.Options) (*network.Roads, *extract.Report, error) {
	return extract.Import(context.Background(), strings.NewReader(text), opts)
}

func TestBadExtractsSayWhatIsWrong(t *testing.T) {
	whole := roadtest.TownXML(village)
	for name, c := range map[string]struct {
		text   string
		format extract.Format
		want   string
	}{
		"not XML":        {"<osm><node", extract.XML, "damaged"},
		"not packed":     {whole, extract.BZ2, "damaged"},
		"not protobuf":   {whole, extract.PBF, "damaged"},
		"cut off":        {whole[:len(whole)/2], extract.XML, "damaged"},
		"no roads":       {"<osm></osm>", extract.XML, "no roads"},
		"nothing at all": {"", extract.XML, "no roads"},
	} {
		_, _, err := importText(c.text, extract.Options{Format: c.format})
		if !fault.Is(err, fault.Invalid) || !strings.Contains(fault.Sentence(err), c.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := extract.FormatOf("roads.zip"); !fault.Is(err, fault.Invalid) {
		t.Errorf("roads.zip: %v", err)
	}
}

func TestImportStopsWhenTold(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	opts := extract.Options{Format: extract.XML, Progress: func(string, int64, int64) { cancel() }}
	if _, _, err := extract.Import(ctx, strings.NewReader(roadtest.TownXML(village)), opts); !errors.Is(err, context.Canceled) {
		t.Errorf("error %v", err)
	}
}

func TestProgressGoesForward(t *testing.T) {
	var stages []string
	last := int64(0)
	_, _, err := importText(roadtest.TownXML(village), extract.Options{Format: extract.XML, Progress: func(stage string, done, total int64) {
		if len(stages) == 0 || stages[len(stages)-1] != stage {
			stages, last = append(stages, stage), 0
		}
		if done < last || done > total {
			t.Errorf("%s: %d of %d after %d", stage, done, total, last)
		}
		last = done
	}})
	if got := strings.Join(stages, " "); err != nil || got != "roads nodes cutting connecting ordering" {
		t.Errorf("stages %q, error %v", got, err)
	}
}

func ExampleFormatOf() {
	f, err := extract.FormatOf("/maps/Delaware.OSM.PBF")
	fmt.Println(f, err)
	// Output: osm.pbf <nil>
}
