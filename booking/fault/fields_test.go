package fault_test

import (
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"drawbar/booking/fault"

	"pgregory.net/rapid"
)

func TestText(t *testing.T) {
	for _, c := range []struct {
		name, value string
		need        fault.Need
		says        string // "" for fine
	}{
		{"plain", "Alder Fold", fault.Required, ""},
		{"empty where it may be", "", fault.Optional, ""},
		{"empty", "", fault.Required, "fill this in"},
		{"only spaces", " \t\n ", fault.Required, "fill this in"},
		{"only wide spaces", "\u2003\u00a0", fault.Required, "fill this in"},
		{"lines and tabs", "one\r\n\ttwo", fault.Required, ""},
		{"as long as may be, in characters", "羊羊羊羊羊羊羊羊羊羊羊羊", fault.Required, ""},
		{"a character too long", "羊羊羊羊羊羊羊羊羊羊羊羊羊", fault.Required, "keep this to 12 characters; it has 13"},
		{"not UTF-8", "caf\xe9", fault.Optional, "cannot read"},
		{"half a character", "\xf0\x9f\x90", fault.Required, "cannot read"},
		{"a NUL", "a\x00b", fault.Required, "cannot read"},
		{"an escape", "a\x1b[31m", fault.Required, "cannot read"},
		{"a C1 control", "a\u0085b", fault.Required, "cannot read"},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := fault.Fields{}
			f.Text("name", c.value, 12, c.need)
			if got := f["name"]; (got == "") != (c.says == "") || !strings.Contains(got, c.says) {
				t.Errorf("%q: %q", c.value, got)
			}
		})
	}
}

// Addresses of RFC 5321 and 5322, one to an entry, with a domain that has a
// dot: mail goes over the internet.
func TestEmail(t *testing.T) {
	long := strings.Repeat("a", 64) + "@" + strings.Repeat("b.", 100) + "example"
	for _, c := range []struct {
		value string
		need  fault.Need
		fine  bool
	}{
		{"ann@example.com", fault.Required, true},
		{"ann.o'neil+sheep@mail.example.com", fault.Required, true},
		{"érica@example.com", fault.Required, true},
		{"", fault.Optional, true},
		{"", fault.Required, false},
		{" ", fault.Required, false},
		{"ann", fault.Required, false},
		{"ann@farm", fault.Required, false},
		{"ann.smith@farm", fault.Required, false},
		{"@example.com", fault.Required, false},
		{"ann@", fault.Required, false},
		{"ann@@example.com", fault.Required, false},
		{"Ann <ann@example.com>", fault.Required, false},
		{"ann@example.com, bob@example.com", fault.Required, false},
		{"ann@example.com\r\nBcc: bob@example.com", fault.Required, false},
		{" ann@example.com", fault.Required, false},
		{long, fault.Required, false},
	} {
		f := fault.Fields{}
		f.Email("email", c.value, c.need)
		if (f["email"] == "") != c.fine {
			t.Errorf("%q: %q", c.value, f["email"])
		}
	}
}

func TestRange(t *testing.T) {
	for _, c := range []struct {
		value float64
		fine  bool
	}{
		{1, true}, {2.5, true}, {5, true},
		{0.999, false}, {5.001, false}, {-3, false},
		{math.NaN(), false}, {math.Inf(1), false}, {math.Inf(-1), false},
	} {
		f := fault.Fields{}
		f.Range("width", c.value, 1, 5, "metres")
		if (f["width"] == "") != c.fine {
			t.Errorf("%g: %q", c.value, f["width"])
		}
		if !c.fine && f["width"] != "Give a number from 1 to 5 (metres)." {
			t.Errorf("%g: %q", c.value, f["width"])
		}
	}
}

// Whatever is typed, there is an answer; and what passes as a mail address
// cannot smuggle a second header line into a letter.
func TestFieldsAnswerAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		value := string(rapid.SliceOf(rapid.Byte()).Draw(t, "value"))
		f := fault.Fields{}
		f.Text("text", value, 100, fault.Required)
		f.Email("email", value, fault.Required)
		if !utf8.ValidString(value) && (f["text"] == "" || f["email"] == "") {
			t.Errorf("takes what is not text: %q", value)
		}
		if f["email"] == "" && strings.ContainsAny(value, "\r\n") {
			t.Errorf("takes %q as an address", value)
		}
		if err := f.Err(); (err != nil) != (len(f) > 0) || (err != nil && !fault.Is(err, fault.Invalid)) {
			t.Errorf("%v of %v", err, f)
		}
	})
}

func FuzzEmail(f *testing.F) {
	for _, seed := range []string{"ann@example.com", "\"a b\"@example.com", "ann@example.com\n", "Ann <ann@example.com>", "ann@[127.0.0.1]"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, value string) {
		fields := fault.Fields{}
		fields.Email("email", value, fault.Required)
		if fields["email"] != "" {
			return
		}
		if strings.ContainsAny(value, "\r\n\x00") || !strings.Contains(value, "@") || len(value) > 4*254 {
			t.Errorf("takes %q as an address", value)
		}
	})
}
