package pace

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"
)

func TestParseJobNamesTheField(t *testing.T) {
	for _, c := range []struct{ text, field, word string }{
		{``, "", "empty"},
		{`{`, "", "middle"},
		{`[]`, "", "object in braces"},
		{`7`, "", "object in braces"},
		{`{"mobs": 7}`, "mobs", "list"},
		{`{"mobs": [{"head": "many"}]}`, "mobs.head", "whole number"},
		{`{"mobs": [{"head": 1e9}]}`, "mobs.head", "whole number"},
		{`{"mobs": [{"head": 1000000000, "species": "sheep", "class": "ewe", "services": ["drench"]}], "crew": {"people": 1}}`, "mobs.0.head", "1000000000"},
		{`{"mobs": [{"head": -3, "species": "sheep", "class": "ewe", "services": ["drench"]}], "crew": {"people": 1}}`, "mobs.0.head", "-3"},
		{`{"crew": {"pusher": 1}}`, "crew.pusher", "true or false"},
		{`{"crew": 5}`, "crew", "object"},
		{`{"colour": "red"}`, "colour", "no field"},
		{`{"mobs": []} {}`, "", "goes on"},
		{`{"mobs": [}`, "", "not JSON"},
		{strings.Replace(Example, `"people": 1`, `"people": 0`, 1), "crew.people", "0 people"},
		{strings.Replace(Example, "foot-check", "footcheck", 1), "mobs.0.services.1", "footcheck"},
		{strings.Repeat(" ", maxFile+1), "", "1 MiB"},
	} {
		_, err := ParseJob([]byte(c.text))
		var e *Error
		if !errors.As(err, &e) || e.Field != c.field || !strings.Contains(e.Sentence, c.word) {
			t.Errorf("%.60q: got %v, want field %q and the word %q", c.text, err, c.field, c.word)
		}
	}
}

func TestParseJobReadsWhatItWrites(t *testing.T) {
	first, err := ParseJob([]byte(Example))
	if err != nil {
		t.Fatal(err)
	}
	text, err := json.Marshal(first)
	if err != nil {
		t.Fatal(err)
	}
	second, err := ParseJob(text)
	if again, _ := json.Marshal(second); err != nil || string(again) != string(text) {
		t.Errorf("%v: %s became %s", err, text, again)
	}
}

// Any file is either refused with a field and a sentence or gives an estimate;
// never a panic, a time that is no number, or an error without a sentence.
func FuzzParseJob(f *testing.F) {
	f.Add([]byte(Example))
	f.Add([]byte(`{"mobs":[{"species":"goat","class":"kid","head":20000,"services":["sort"],"gates":3,"new_to_crate":true}],"crew":{"people":6}}`))
	f.Add([]byte(`{"mobs":[{"head":null}],"rig":null}`))
	f.Add([]byte("\xff{"))
	m := DefaultModel()
	f.Fuzz(func(t *testing.T, data []byte) {
		j, err := ParseJob(data)
		var e *Error
		if err != nil {
			if !errors.As(err, &e) || e.Sentence == "" || len(e.Error()) > 2000 {
				t.Fatalf("error without a usable sentence: %v", err)
			}
			return
		}
		got, err := m.Estimate(j)
		if err != nil || got.Total.Median <= 0 || got.Total.P90 < got.Total.Median {
			t.Fatalf("%+v, %v for %+v", got.Total, err, j)
		}
		if _, err := json.Marshal(got); err != nil {
			t.Fatal(err)
		}
	})
}
