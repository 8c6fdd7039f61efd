package routing_test

import (
	"testing"

	"drawbar/routing"
)

func TestTableKeepsRowOrder(t *testing.T) {
	places := []routing.Place{{ID: "a"}, {ID: "b"}}
	legs := []routing.Leg{{}, {Seconds: 60, Metres: 900, Reachable: true}, {Seconds: 70, Metres: 950, Reachable: true}, {}}
	table, err := routing.NewTable(places, legs)
	if err != nil {
		t.Fatal(err)
	}
	if table.At(0, 1).Seconds != 60 || table.At(1, 0).Seconds != 70 || !table.At(1, 1).Reachable {
		t.Errorf("legs %+v", legs)
	}
	if i, ok := table.Index("b"); !ok || i != 1 || table.Len() != 2 || table.Places()[i].ID != "b" {
		t.Errorf("b is at %d, %v", i, ok)
	}
	if _, ok := table.Index("c"); ok {
		t.Error("an unknown place has an index")
	}
}

func TestTableRefusesBadInput(t *testing.T) {
	far := routing.Leg{Seconds: -1, Reachable: true}
	for name, c := range map[string]struct {
		places []routing.Place
		legs   []routing.Leg
	}{
		"too few legs":  {[]routing.Place{{ID: "a"}, {ID: "b"}}, make([]routing.Leg, 3)},
		"no id":         {[]routing.Place{{}}, make([]routing.Leg, 1)},
		"twice":         {[]routing.Place{{ID: "a"}, {ID: "a"}}, make([]routing.Leg, 4)},
		"negative time": {[]routing.Place{{ID: "a"}, {ID: "b"}}, []routing.Leg{{}, far, {}, {}}},
	} {
		if _, err := routing.NewTable(c.places, c.legs); err == nil {
			t.Errorf("%s: accepted", name)
		}
	}
}

func TestProfileWords(t *testing.T) {
	if routing.Towing.String() != "towing" || routing.Solo.String() != "solo" {
		t.Error("the words for the profiles changed")
	}
}
