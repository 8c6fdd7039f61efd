package view

import (
	"net/http"
	"net/url"
	"testing"

	"drawbar/booking/fault"
)

// met is what a stale save of the typed values has at its fields.
func met(t *testing.T, now *Form, options map[string][]Option, body string, stale error) *Form {
	t.Helper()
	values, err := url.ParseQuery(body)
	if err != nil {
		t.Fatal(err)
	}
	f := read(t, values)
	f.Text("name")
	f.Text("notes")
	f.Text("hygiene")
	f.Bool("lights")
	f.Bool("power")
	f.Texts("crew")
	if left := f.Take(stale); left != nil {
		t.Fatal(left)
	}
	f.Meet(now, options)
	return f
}

func TestMeetShowsWhatIsOnFile(t *testing.T) {
	now := NewForm("name", "Osier Farm", "notes", "", "hygiene", 2, "lights", false, "power", true, "version", 7)
	now.Set("crew", []string{"a", "b"})
	options := map[string][]Option{
		"hygiene": {{Value: "2", Label: "not known"}}, "crew": {{Value: "a", Label: "Ann"}, {Value: "b", Label: "Bob"}},
	}
	stale := fault.New(fault.Conflict, "Somebody else changed this farm.")
	f := met(t, now, options, "name=Osier&notes=ring&hygiene=0&lights=on&crew=a&version=5", stale)
	for name, want := range map[string]string{
		"name": "On file now: “Osier Farm”.", "notes": "On file now: nothing.", "hygiene": "On file now: not known.",
		"lights": "On file now: not ticked.", "power": "On file now: ticked.", "crew": "On file now: Ann, Bob.",
	} {
		if f.Errors[name] != want {
			t.Errorf("%s: %q, want %q", name, f.Errors[name], want)
		}
	}
	if f.Typed("version") != "7" || f.Typed("name") != "Osier" || f.Status() != http.StatusConflict {
		t.Errorf("version %s, name %q, status %d", f.Typed("version"), f.Typed("name"), f.Status())
	}
}

// What a browser does to a value on its way is no difference.
func TestMeetKeepsQuietAboutTheSame(t *testing.T) {
	now := NewForm("name", "Osier", "notes", "one\ntwo", "hygiene", 2, "power", true, "version", 7)
	now.Set("crew", []string{"b", "a"})
	stale := fault.New(fault.Conflict, "Somebody else changed this farm.")
	if f := met(t, now, nil, "name=+Osier+&notes=one%0D%0Atwo&hygiene=2&power=on&crew=a&crew=b&version=5", stale); len(f.Errors) != 0 || f.Typed("version") != "7" {
		t.Errorf("version %s, %v", f.Typed("version"), f.Errors)
	}
}

// A form that is only wrong keeps the version it was made from.
func TestMeetIsForConflictsAlone(t *testing.T) {
	now := NewForm("name", "Osier Farm", "version", 7)
	wrong := fault.Fields{"name": "Please fill this in."}.Err()
	if f := met(t, now, nil, "name=&version=5", wrong); f.Typed("version") != "5" || len(f.Errors) != 1 {
		t.Errorf("version %s, %v", f.Typed("version"), f.Errors)
	}
}
