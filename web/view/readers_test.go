package view

import (
	"math"
	"net/url"
	"strings"
	"testing"
	"unicode/utf8"

	"drawbar/booking"
	"drawbar/booking/fault"

	"cloud.google.com/go/civil"
)

func one(t *testing.T, text string) *Form { return read(t, url.Values{"x": {text}}) }

func TestInt(t *testing.T) {
	for text, want := range map[string]int{"240": 240, " 7 ": 7, "-3": -3, "1,650": 1650, "1,234,567": 1234567, "+5": 5} {
		form := one(t, text)
		if got := form.Int("x", fault.Required); got != want || !form.OK() {
			t.Errorf("%q is %d, %v", text, got, form.Errors)
		}
	}
	for _, text := range []string{"many", "2.5", "1,65", "12,34,567", "99999999999", "0x10", "1e3", "١٢", "1 650"} {
		form := one(t, text)
		if got := form.Int("x", fault.Required); got != 0 || !strings.Contains(form.Errors["x"], "whole number") {
			t.Errorf("%q is %d, %v", text, got, form.Errors)
		}
	}
}

func TestFloat(t *testing.T) {
	for text, want := range map[string]float64{"2.4": 2.4, "2,4": 2.4, "-75.55": -75.55, "3": 3, "0.0": 0} {
		form := one(t, text)
		if got := form.Float("x", fault.Required); got != want || !form.OK() {
			t.Errorf("%q is %g, %v", text, got, form.Errors)
		}
	}
	for _, text := range []string{"NaN", "Inf", "1e400", "0x1p4", "1,234.5", ".5", "2.4 m", "1_0", strings.Repeat("9", 400)} {
		form := one(t, text)
		if got := form.Float("x", fault.Required); got != 0 || !strings.Contains(form.Errors["x"], "such as 2.4") {
			t.Errorf("%q is %g, %v", text, got, form.Errors)
		}
	}
}

func TestDate(t *testing.T) {
	form := one(t, "2027-03-08")
	if got := form.Date("x", fault.Required); got != (civil.Date{Year: 2027, Month: 3, Day: 8}) || !form.OK() {
		t.Errorf("got %v, %v", got, form.Errors)
	}
	for _, text := range []string{"8.3.2027", "2027-02-29", "2027-13-01", "0001-01-01", "9999-12-31", "tomorrow", "2027-3-8"} {
		form := one(t, text)
		if got := form.Date("x", fault.Required); got.IsValid() || !strings.Contains(form.Errors["x"], "2027-03-08") {
			t.Errorf("%q is %v, %v", text, got, form.Errors)
		}
	}
}

func TestClock(t *testing.T) {
	for text, want := range map[string]int{"07:30": 450, "7:30": 450, "00:00": 0, "23:59": 1439} {
		form := one(t, text)
		if got := form.Clock("x", fault.Required); got != want || !form.OK() {
			t.Errorf("%q is %d, %v", text, got, form.Errors)
		}
	}
	for _, text := range []string{"24:00", "7.30", "half past", "07:60"} {
		if form := one(t, text); form.Clock("x", fault.Required) != 0 || form.OK() {
			t.Errorf("%q is taken", text)
		}
	}
}

func TestBoolChoiceAndID(t *testing.T) {
	for text, want := range map[string]bool{"on": true, "true": true, "1": true, "yes": true, "": false, "off": false, "no": false} {
		if one(t, text).Bool("x") != want {
			t.Errorf("box %q is not %v", text, want)
		}
	}
	form := one(t, "ewe")
	if got := Choice(form, "x", booking.Classes); got != booking.Ewe || !form.OK() {
		t.Errorf("choice is %q, %v", got, form.Errors)
	}
	if form := one(t, "cow"); Choice(form, "x", booking.Classes) != "" || form.OK() {
		t.Error("a choice that is not on the list is taken")
	}
	id := booking.NewID()
	if form := one(t, string(id)); form.ID("x", fault.Required) != id || !form.OK() {
		t.Error("an id is refused")
	}
	if form := one(t, "1 OR 1=1"); form.ID("x", fault.Required) != "" || form.OK() {
		t.Error("something that is no id is taken")
	}
}

func TestMissingEntries(t *testing.T) {
	reads := map[string]func(*Form, fault.Need){
		"int":   func(f *Form, need fault.Need) { f.Int("x", need) },
		"float": func(f *Form, need fault.Need) { f.Float("x", need) },
		"date":  func(f *Form, need fault.Need) { f.Date("x", need) },
		"clock": func(f *Form, need fault.Need) { f.Clock("x", need) },
		"id":    func(f *Form, need fault.Need) { f.ID("x", need) },
	}
	for name, read := range reads {
		form := one(t, " ")
		if read(form, fault.Optional); !form.OK() {
			t.Errorf("%s: an optional entry is demanded: %v", name, form.Errors)
		}
		if read(form, fault.Required); form.Errors["x"] != "Please fill this in." {
			t.Errorf("%s: a missing entry is not named: %v", name, form.Errors)
		}
	}
}

func TestVersionAndSecret(t *testing.T) {
	form := read(t, url.Values{"version": {"7"}, "password": {" two  spaces "}})
	if form.Version() != 7 || form.Secret("password") != " two  spaces " {
		t.Errorf("version %d, secret %q", form.Version(), form.Secret("password"))
	}
	for _, text := range []string{"", "-1", "x", "99999999999999999999"} {
		if got := read(t, url.Values{"version": {text}}).Version(); got != 0 {
			t.Errorf("version %q is %d", text, got)
		}
	}
}

// Whatever is sent, reading it never fails harder than with a sentence for
// the field, and what is read can be stored.
func FuzzReaders(f *testing.F) {
	for _, body := range []string{"x=240", "x=2,4", "x=2027-03-08", "x=07:30", "x=%00", "x=%ff", "x=&x=2", "=;", "x=1,650"} {
		f.Add(body)
	}
	f.Fuzz(func(t *testing.T, body string) {
		form, err := ReadForm(posted(body))
		if err != nil {
			if status := StatusOf(err); status != 422 && status != 413 {
				t.Fatalf("status %d for %q", status, body)
			}
			return
		}
		form.Int("x", fault.Optional)
		if n := form.Float("x", fault.Optional); math.IsNaN(n) || math.IsInf(n, 0) {
			t.Errorf("%q is %g", body, n)
		}
		form.Date("x", fault.Optional)
		form.Clock("x", fault.Optional)
		if text := form.Text("x"); !utf8.ValidString(text) || strings.ContainsRune(text, 0) {
			t.Errorf("%q is read as %q", body, text)
		}
		for _, wrong := range form.Wrongs() {
			if wrong.Sentence == "" || wrong.ID == "" {
				t.Errorf("nameless fault: %+v", wrong)
			}
		}
	})
}
