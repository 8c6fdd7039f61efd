package view

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"log/slog"
	"net/http"
	"strings"
	"testing"

	"drawbar/booking"
	"drawbar/booking/fault"

	"github.com/gin-gonic/gin"
)

// The statuses are those RFC 9110 (and RFC 6585 for 429) gives these
// meanings.
var kinds = map[fault.Kind]int{
	fault.NotFound: 404, fault.Invalid: 422, fault.Conflict: 409, fault.Forbidden: 403, fault.Expired: 410,
	fault.TooMany: 429, fault.TooLarge: 413, fault.Internal: 500,
}

func failing(err error) func(*gin.Context) error {
	return func(*gin.Context) error { return err }
}

func TestErrorsBecomePages(t *testing.T) {
	for kind, status := range kinds {
		a := get(t, "/farms", failing(fmt.Errorf("store: %w", fault.Wrap(kind, errors.New("SQLSTATE 12345"), "A sentence for the reader."))), nil)
		if a.Code != status {
			t.Errorf("%s answers %d, want %d", kind, a.Code, status)
		}
		if strings.Contains(a.Body.String(), "SQLSTATE") || strings.Contains(a.Body.String(), "store:") {
			t.Errorf("%s shows what is behind it", kind)
		}
		if kind != fault.Internal && !strings.Contains(text(a.doc.Find("main")), "A sentence for the reader.") {
			t.Errorf("%s says %q", kind, text(a.doc.Find("main")))
		}
		if a.doc.Find("main h1").Length() != 1 || a.doc.Find("main a[href]").Length() == 0 {
			t.Errorf("%s has no heading or no way out", kind)
		}
		if got := a.Header().Get("Content-Type"); got != "text/html; charset=utf-8" {
			t.Errorf("%s is %s", kind, got)
		}
	}
}

func TestEveryKindHasAStatusAndAHeading(t *testing.T) {
	for kind, status := range kinds {
		if statuses[kind] != status || headings[kind] == "" {
			t.Errorf("%s: status %d, heading %q", kind, statuses[kind], headings[kind])
		}
	}
	if StatusOf(fault.New("some new kind", "x")) != 500 || StatusOf(&http.MaxBytesError{}) != 413 {
		t.Error("an unknown kind, or a long body, has the wrong status")
	}
}

func TestWaitingIsTold(t *testing.T) {
	if a := get(t, "/", failing(fault.New(fault.TooMany, "Slower.")), nil); a.Header().Get("Retry-After") == "" {
		t.Error("429 without Retry-After")
	}
}

func TestInternalErrorsAreFoundInTheLog(t *testing.T) {
	var log bytes.Buffer
	a := get(t, "/", func(c *gin.Context) error {
		SetLog(c, slog.New(slog.NewTextHandler(&log, nil)), "k3j9")
		return errors.New("disk full")
	}, nil)
	if !strings.Contains(text(a.doc.Find("main code")), "k3j9") {
		t.Error("the page does not name the log's id")
	}
	if !strings.Contains(log.String(), "k3j9") || !strings.Contains(log.String(), "disk full") {
		t.Errorf("the log says %q", log.String())
	}
}

func TestFieldsOfAnErrorPageAreShown(t *testing.T) {
	a := get(t, "/", failing(fault.Fields{"head": "Give a number."}.Err()), nil)
	if !strings.Contains(text(a.doc.Find("main li")), "Give a number.") {
		t.Errorf("the page says %q", text(a.doc.Find("main")))
	}
}

func TestProgramsGetProblemDocuments(t *testing.T) {
	for _, path := range []string{"/api/visits", "/farms"} {
		a := get(t, path, failing(fault.Fields{"head": "Give a number."}.Err()), http.Header{"Accept": {"application/json"}})
		var p Problem
		if err := json.Unmarshal(a.Body.Bytes(), &p); err != nil {
			t.Fatal(err)
		}
		if a.Code != 422 || p.Status != 422 || p.Title == "" || p.Detail == "" || p.Fields["head"] != "Give a number." {
			t.Errorf("%s: %+v", path, p)
		}
		if got := a.Header().Get("Content-Type"); got != "application/problem+json" { // RFC 9457, section 3
			t.Errorf("type is %s", got)
		}
	}
	if a := get(t, "/api/visits", failing(fault.New(fault.Unsigned, "Sign in.")), nil); a.Code != 401 {
		t.Errorf("a program that is not signed in gets %d", a.Code)
	}
}

func TestReadersWhoAreNotSignedInAreLedThere(t *testing.T) {
	unsigned := failing(fault.New(fault.Unsigned, "Please sign in."))
	a := get(t, "/visits/7?tab=a&b=c", unsigned, nil)
	if a.Code != 303 || a.Header().Get("Location") != "/sign-in?next=%2Fvisits%2F7%3Ftab%3Da%26b%3Dc" {
		t.Errorf("%d to %s", a.Code, a.Header().Get("Location"))
	}
	if a := get(t, "/", unsigned, nil); a.Header().Get("Location") != "/sign-in" {
		t.Errorf("from the front page to %s", a.Header().Get("Location"))
	}
	if a := get(t, "/week", unsigned, http.Header{"Hx-Request": {"true"}}); a.Header().Get("HX-Redirect") != "/sign-in" || a.Code != 401 {
		t.Errorf("a script gets %d, %v", a.Code, a.Header())
	}
}

func TestAnAnswerThatHasBegunIsLeftAlone(t *testing.T) {
	a := get(t, "/", func(c *gin.Context) error {
		c.String(http.StatusOK, "half an answer")
		return errors.New("too late")
	}, nil)
	if a.Code != 200 || a.Body.String() != "half an answer" {
		t.Errorf("%d %q", a.Code, a.Body)
	}
}

func TestIDsFromPaths(t *testing.T) {
	id := booking.NewID()
	for path, want := range map[string]int{"/" + string(id): 204, "/7": 404, "/" + strings.ToUpper(string(id)): 404, "/%00": 404, "/{" + string(id) + "}": 404} {
		a := get(t, path, func(c *gin.Context) error {
			c.Params = gin.Params{{Key: "id", Value: strings.TrimPrefix(c.Request.URL.Path, "/")}}
			got, err := ID(c, "id")
			if err == nil && got != id {
				t.Errorf("%s is read as %s", path, got)
			}
			c.Status(204)
			return err
		}, nil)
		if a.Code != want {
			t.Errorf("%s answers %d, want %d", path, a.Code, want)
		}
	}
}
