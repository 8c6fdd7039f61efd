package session_test

import (
	"fmt"
	"net/http/httptest"
	"testing"
	"time"

	"drawbar/booking/fault"
	"drawbar/web/session"

	"github.com/gin-gonic/gin"
	"pgregory.net/rapid"
)

func TestLimiterLetsABurstThroughAndThenWaits(t *testing.T) {
	now := time.Date(2027, 3, 8, 7, 0, 0, 0, time.UTC)
	l := session.NewLimiter(time.Minute, 3, func() time.Time { return now })
	for i := range 3 {
		if err := l.Allow("ann"); err != nil {
			t.Errorf("try %d: %v", i, err)
		}
	}
	if err := l.Allow("ann"); !fault.Is(err, fault.TooMany) {
		t.Errorf("the fourth try: %v", err)
	}
	if err := l.Allow("ben"); err != nil {
		t.Errorf("somebody else has to wait: %v", err)
	}
	now = now.Add(time.Minute)
	if err := l.Allow("ann"); err != nil {
		t.Errorf("a minute later: %v", err)
	}
	if err := l.Allow("ann"); !fault.Is(err, fault.TooMany) {
		t.Errorf("twice a minute later: %v", err)
	}
}

// Many other senders do not give somebody new tries.
func TestLimiterRemembersUnderAFlood(t *testing.T) {
	now := time.Date(2027, 3, 8, 7, 0, 0, 0, time.UTC)
	l := session.NewLimiter(time.Minute, 2, func() time.Time { return now })
	for range 2 {
		_ = l.Allow("ann")
	}
	for i := range 9_000 {
		_ = l.Allow(fmt.Sprint("flood ", i))
	}
	if err := l.Allow("ann"); err == nil {
		t.Error("a flood of others emptied the account")
	}
}

// However the tries fall, no more pass in a span than the burst and what has
// grown back.
func TestLimiterKeepsItsRate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		now := time.Date(2027, 3, 8, 7, 0, 0, 0, time.UTC)
		began, burst := now, rapid.IntRange(1, 10).Draw(t, "burst")
		l := session.NewLimiter(time.Second, burst, func() time.Time { return now })
		passed := 0
		for _, wait := range rapid.SliceOfN(rapid.IntRange(0, 3000), 1, 60).Draw(t, "waits") {
			now = now.Add(time.Duration(wait) * time.Millisecond)
			if l.Allow("ann") == nil {
				passed++
			}
			if most := burst + int(now.Sub(began)/time.Second); passed > most {
				t.Fatalf("%d passed, at most %d may", passed, most)
			}
		}
	})
}

// RFC 4291, section 2.5.4: a sender is given 64 bits of an address to itself.
func TestAddressesOfOneSenderAreOneKey(t *testing.T) {
	for remote, want := range map[string]string{
		"192.0.2.7:1234":             "192.0.2.7",
		"[::ffff:192.0.2.7]:1234":    "192.0.2.7",
		"[2001:db8:1:2:3:4:5:6]:443": "2001:db8:1:2::/64",
		"[2001:db8:1:2::1]:443":      "2001:db8:1:2::/64",
		"nonsense":                   "",
	} {
		c, _ := gin.CreateTestContext(httptest.NewRecorder())
		c.Request = httptest.NewRequest("GET", "/", nil)
		c.Request.RemoteAddr = remote
		if got := session.Address(c); got != want {
			t.Errorf("%s is %q, want %q", remote, got, want)
		}
	}
}
