package booking_test

import (
	"fmt"
	"strings"
	"testing"

	"drawbar/booking"

	"github.com/google/uuid"
)

func ExampleParseID() {
	_, ok := booking.ParseID("019a2b3c-4d5e-7f60-8123-456789abcdef")
	fmt.Println(ok)
	_, ok = booking.ParseID("{019A2B3C-4D5E-7F60-8123-456789ABCDEF}") // another spelling
	fmt.Println(ok)
	// Output:
	// true
	// false
}

// RFC 9562: version 7 in bits 48 to 51, variant 10, time first; so ids made
// one after the other sort in that order as text.
func TestNewID(t *testing.T) {
	last := booking.ID("")
	for range 1000 {
		id := booking.NewID()
		u, err := uuid.Parse(string(id))
		if err != nil || u.Version() != 7 || u.Variant() != uuid.RFC4122 {
			t.Fatalf("%s: version %d, %v", id, u.Version(), err)
		}
		if back, ok := booking.ParseID(string(id)); !ok || back != id {
			t.Fatalf("%s does not read back", id)
		}
		if id <= last {
			t.Fatalf("%s after %s", id, last)
		}
		last = id
	}
}

func TestParseIDTakesOneSpelling(t *testing.T) {
	// The example of RFC 9562, appendix A.6, as printed there and in small letters.
	const printed = "017F22E2-79B0-7CC3-98C4-DC0C0C07398F"
	if _, ok := booking.ParseID(strings.ToLower(printed)); !ok {
		t.Error("refuses the example of RFC 9562 in small letters")
	}
	small := strings.ToLower(printed)
	for _, other := range []string{
		"", "7", printed, "urn:uuid:" + small, "{" + small + "}", strings.ReplaceAll(small, "-", ""),
		small + " ", " " + small, small[:35], small + "0", strings.Replace(small, "f", "g", 1), small[:8] + "_" + small[9:],
		"../../etc/passwd", "'; DROP TABLE farms; --",
	} {
		if id, ok := booking.ParseID(other); ok || id != "" {
			t.Errorf("takes %q as %q", other, id)
		}
	}
}

func FuzzParseID(f *testing.F) {
	for _, seed := range []string{"017f22e2-79b0-7cc3-98c4-dc0c0c07398f", "017F22E2-79B0-7CC3-98C4-DC0C0C07398F", "urn:uuid:x", "{}", "", "\x00"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, s string) {
		id, ok := booking.ParseID(s)
		switch {
		case !ok && id != "":
			t.Errorf("refuses %q and gives %q", s, id)
		case ok && (string(id) != s || len(s) != 36 || strings.Trim(s, "0123456789abcdef-") != ""):
			t.Errorf("takes %q as %q", s, id)
		}
	})
}
