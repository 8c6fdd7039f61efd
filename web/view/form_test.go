package view

import (
	"bytes"
	"errors"
	"io"
	"log/slog"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strconv"
	"strings"
	"testing"

	"drawbar/booking/fault"

	"github.com/gin-gonic/gin"
	"github.com/google/go-cmp/cmp"
)

func TestMain(m *testing.M) {
	gin.SetMode(gin.TestMode)
	slog.SetDefault(slog.New(slog.DiscardHandler)) // errors are made on purpose here
	m.Run()
}

// posted is a request with a form in its body.
func posted(body string) *gin.Context {
	c, _ := gin.CreateTestContext(httptest.NewRecorder())
	c.Request = httptest.NewRequest(http.MethodPost, "/?q=address", strings.NewReader(body))
	c.Request.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	return c
}

func read(t *testing.T, values url.Values) *Form {
	t.Helper()
	form, err := ReadForm(posted(values.Encode()))
	if err != nil {
		t.Fatal(err)
	}
	return form
}

func TestFormComesFromTheBody(t *testing.T) {
	form := read(t, url.Values{"name": {"  Marsh Gate\r\nupper yard "}, "services": {"drench", "weigh"}, "q": {"body"}})
	if got := form.Text("name"); got != "Marsh Gate\nupper yard" {
		t.Errorf("text is %q", got)
	}
	if got := form.Typed("name"); got != "  Marsh Gate\r\nupper yard " {
		t.Errorf("what was typed became %q", got)
	}
	if got := form.Texts("services"); !cmp.Equal(got, []string{"drench", "weigh"}) {
		t.Errorf("texts are %q", got)
	}
	if form.Text("q") != "body" {
		t.Error("the address got into a posted form")
	}
	if !form.Has("name") || form.Has("nothing") || !form.Picked("services", "weigh") || form.Picked("services", "scan") {
		t.Error("Has or Picked are wrong")
	}
	if !form.OK() || form.Status() != http.StatusOK {
		t.Errorf("a good form has errors: %v", form.Errors)
	}
}

func TestSearchComesFromTheAddress(t *testing.T) {
	c, _ := gin.CreateTestContext(httptest.NewRecorder())
	c.Request = httptest.NewRequest(http.MethodGet, "/?q=address", nil)
	form, err := ReadForm(c)
	if err != nil || form.Text("q") != "address" {
		t.Errorf("got %q, %v", form.Text("q"), err)
	}
}

func TestFormWithFiles(t *testing.T) {
	var body bytes.Buffer
	w := multipart.NewWriter(&body)
	if err := errors.Join(w.WriteField("name", "Marsh Gate"), w.Close()); err != nil {
		t.Fatal(err)
	}
	c := posted(body.String())
	c.Request.Header.Set("Content-Type", w.FormDataContentType())
	form, err := ReadForm(c)
	if err != nil || form.Text("name") != "Marsh Gate" {
		t.Errorf("got %q, %v", form.Text("name"), err)
	}
}

func TestUnreadableEntriesAreNamedAndMended(t *testing.T) {
	form := read(t, url.Values{"a": {"caf\xe9"}, "b": {"nul\x00byte"}, "c": {"tab\tand\nlines are fine"}, "d": {strings.Repeat("ö", maxValue)}})
	for _, name := range []string{"a", "b"} {
		if !strings.Contains(form.Errors[name], "type it again") {
			t.Errorf("field %s: %q", name, form.Errors[name])
		}
	}
	if form.Typed("a") != "caf" || form.Typed("b") != "nulbyte" {
		t.Errorf("mended to %q and %q", form.Typed("a"), form.Typed("b"))
	}
	if form.Errors["c"] != "" {
		t.Errorf("tabs and line breaks are refused: %q", form.Errors["c"])
	}
	if !strings.Contains(form.Errors["d"], strconv.Itoa(maxValue)) {
		t.Errorf("overlong: %q", form.Errors["d"])
	}
	if form.Status() != http.StatusUnprocessableEntity {
		t.Errorf("status %d", form.Status())
	}
}

func TestBodiesThatCannotBeRead(t *testing.T) {
	cut := posted("name=%zz")
	if _, err := ReadForm(cut); !fault.Is(err, fault.Invalid) {
		t.Errorf("broken escape: %v", err)
	}
	boundary := posted("nonsense")
	boundary.Request.Header.Set("Content-Type", "multipart/form-data")
	if _, err := ReadForm(boundary); !fault.Is(err, fault.Invalid) {
		t.Errorf("no boundary: %v", err)
	}
	many := url.Values{}
	for i := range maxFields + 1 {
		many.Set("f"+strconv.Itoa(i), "")
	}
	if _, err := ReadForm(posted(many.Encode())); !fault.Is(err, fault.TooLarge) {
		t.Errorf("too many fields: %v", err)
	}
	if _, err := ReadForm(posted(strings.Repeat("a=&", maxFields+1))); !fault.Is(err, fault.TooLarge) {
		t.Errorf("one field too often: %v", err)
	}
	long := posted("name=" + strings.Repeat("x", 100))
	long.Request.Body = http.MaxBytesReader(nil, io.NopCloser(long.Request.Body), 50)
	if _, err := ReadForm(long); StatusOf(err) != http.StatusRequestEntityTooLarge {
		t.Errorf("overlong body: %v", err)
	}
}

func TestTakeKeepsWhatIsAboutTheEntries(t *testing.T) {
	form := NewForm()
	other := errors.New("disk full")
	if form.Take(nil) != nil || form.Take(other) != other || !form.OK() {
		t.Fatal("an error that is not about the entries was kept")
	}
	if missing := fault.New(fault.NotFound, "No such farm."); form.Take(missing) == nil {
		t.Error("NotFound was kept")
	}
	if err := form.Take(fault.Fields{"head": "Give a number."}.Err()); err != nil || form.Errors["head"] != "Give a number." || form.Status() != 422 {
		t.Errorf("%v, %v, %d", err, form.Errors, form.Status())
	}
	stale := NewForm()
	if err := stale.Take(fault.New(fault.Conflict, "Somebody was faster.")); err != nil || stale.Says != "Somebody was faster." || stale.Status() != 409 || stale.OK() {
		t.Errorf("%v, %q, %d", err, stale.Says, stale.Status())
	}
}

func TestWrongsStandInTheOrderOfTheForm(t *testing.T) {
	form := read(t, url.Values{})
	form.Int("mob.1.head", fault.Required)
	form.Date("window.0.from", fault.Required)
	form.Errors.Add("zone", "Choose a zone.")
	form.Errors.Add("gate_width", "Give a width.")
	got := form.Wrongs()
	want := []Wrong{
		{"f-mob.1.head", "Mob 2, head", "Please fill this in."},
		{"f-window.0.from", "Window 1, from", "Please fill this in."},
		{"f-gate_width", "Gate width", "Give a width."},
		{"f-zone", "Zone", "Choose a zone."},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

func TestNewFormShowsWhatIsStored(t *testing.T) {
	form := NewForm("name", "Marsh Gate", "head", 240, "lights", true, "power", false, "skills", []string{"scan"})
	if form.Typed("name") != "Marsh Gate" || form.Typed("head") != "240" || !form.Bool("lights") || form.Bool("power") || !form.Picked("skills", "scan") {
		t.Errorf("values are %v", form.values)
	}
	form.Set("lights", false)
	if form.Bool("lights") {
		t.Error("a box cannot be emptied")
	}
}
