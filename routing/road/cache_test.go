package road

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"drawbar/routing"
	"drawbar/routing/road/drive"
	"drawbar/routing/road/network"
)

// tableOf is a table of n places.
func tableOf(t interface{ Fatal(...any) }, n int) *routing.Table {
	places := make([]routing.Place, n)
	for i := range places {
		places[i].ID = fmt.Sprint(i)
	}
	table, err := routing.NewTable(places, make([]routing.Leg, n*n))
	if err != nil {
		t.Fatal(err)
	}
	return table
}

func TestTheCacheForgetsTheLeastUsed(t *testing.T) {
	var c cache
	big := tableOf(t, 1000) // a million legs: four fill the cache
	for _, key := range []string{"a", "b", "c", "d"} {
		c.put(key, big)
	}
	if _, ok := c.get("a"); !ok { // now b is the least used
		t.Fatal("a is gone already")
	}
	c.put("e", big)
	for key, want := range map[string]bool{"a": true, "b": false, "c": true, "d": true, "e": true} {
		if _, ok := c.get(key); ok != want {
			t.Errorf("%s is kept: %v, want %v", key, ok, want)
		}
	}
	c.put("huge", tableOf(t, 2001))
	if _, ok := c.get("huge"); ok || c.legs > cacheLegs {
		t.Errorf("%d legs kept, %d at most", c.legs, cacheLegs)
	}
}

func TestTheCacheGivesBackWhatWasPut(t *testing.T) {
	tables := []*routing.Table{tableOf(t, 1), tableOf(t, 900), tableOf(t, 1400), tableOf(t, 1900)}
	rapid.Check(t, func(t *rapid.T) {
		var c cache
		put := map[string]*routing.Table{}
		for range rapid.IntRange(1, 30).Draw(t, "steps") {
			key := rapid.StringOfN(rapid.RuneFrom([]rune("abcde")), 1, 1, 1).Draw(t, "key")
			if rapid.Bool().Draw(t, "put") {
				table := rapid.SampledFrom(tables).Draw(t, "table")
				if _, there := c.get(key); !there {
					put[key] = table
				}
				c.put(key, table)
			}
			if got, ok := c.get(key); ok && got != put[key] {
				t.Fatalf("%s is another table", key)
			}
			legs := 0
			for _, e := range c.byKey {
				n := e.Value.(*cached).table.Len()
				legs += n * n
			}
			if legs != c.legs || legs > cacheLegs || c.recent.Len() != len(c.byKey) {
				t.Fatalf("%d legs, counted %d, at most %d", legs, c.legs, cacheLegs)
			}
		}
	})
}

func TestTableKeysTellTablesApart(t *testing.T) {
	at := func(id string, lon float64) routing.Place { return routing.Place{ID: id, At: [2]float64{lon, 51}} }
	keys := map[string]string{}
	for name, key := range map[string]string{
		"one":        tableKey("m", []routing.Place{at("a", 1)}),
		"moved":      tableKey("m", []routing.Place{at("a", 1.0000001)}),
		"renamed":    tableKey("m", []routing.Place{at("b", 1)}),
		"two":        tableKey("m", []routing.Place{at("a", 1), at("b", 2)}),
		"other way":  tableKey("m", []routing.Place{at("b", 2), at("a", 1)}),
		"other rig":  tableKey("n", []routing.Place{at("a", 1)}),
		"odd id":     tableKey("m", []routing.Place{at("a\" 1 51\x00\"b", 1)}),
		"split name": tableKey("m", []routing.Place{at("a 1", 1)}),
	} {
		if twin, twice := keys[key]; twice {
			t.Errorf("%s and %s have one key", name, twin)
		}
		keys[key] = name
	}
}

func TestManyVehiclesDoNotFillTheMemory(t *testing.T) {
	// A limit for every centimetre of height, so that each vehicle is another.
	r := &network.Roads{Region: "GB", Names: []string{""}, Vertices: []network.Point{{Lat: 51e6}, {Lat: 51e6 + 1000}}, At: make([]network.VertexFlags, 2)}
	for cm := range 100 {
		r.Kinds = append(r.Kinds, network.Kind{Class: network.Tertiary, MaxHeight: uint16(200 + cm)})
	}
	r.Edges = append(r.Edges, network.Edge{To: 1, Length: 1112, Flags: network.ThroughAlong | network.ThroughAgainst})
	r.ShapeEnd, r.Order = []uint32{0}, []int32{0}
	m := New(r)
	site := Site{Found: true, Offset: 500}
	for cm := range 100 {
		v := drive.Vehicle{Towing: true, Height: 150 + cm}
		if got, want := m.Cost(&site, &site, v), drive.Cost(0); got < drive.Inf && got != want {
			t.Fatalf("%d cm: %d", cm, got)
		}
		if len(m.metrics) > mostMetrics {
			t.Fatalf("%d metrics kept", len(m.metrics))
		}
	}
}

func TestTheHeapGivesTheCheapestFirst(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var h heap
		waiting := map[drive.Cost]int{}
		for range rapid.IntRange(1, 60).Draw(t, "steps") {
			if len(h) > 0 && rapid.Bool().Draw(t, "pop") {
				e := h.pop()
				for c, n := range waiting {
					if n > 0 && c < e.cost {
						t.Fatalf("gave %d while %d waited", e.cost, c)
					}
				}
				waiting[e.cost]--
				continue
			}
			c := drive.Cost(rapid.Uint64Range(0, 9).Draw(t, "cost"))
			waiting[c]++
			h.push(entry{cost: c})
		}
	})
}
