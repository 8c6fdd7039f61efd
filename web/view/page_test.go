package view

import (
	"embed"
	"errors"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"

	"github.com/PuerkitoBio/goquery"
	"github.com/gin-gonic/gin"
)

//go:embed testdata/*.html
var trialFiles embed.FS

var trialPages = MustParse(trialFiles, "testdata/*.html")

type trial struct {
	Form                     *Form
	At                       time.Time
	Classes, Parts, Services []Option
}

func newTrial(form *Form) trial {
	return trial{
		Form: form, At: time.Date(2026, 10, 24, 7, 0, 0, 0, time.UTC),
		Classes:  Options(booking.Classes, func(c booking.Class) string { return c.Count(2)[2:] }),
		Parts:    Options(booking.DayParts, func(p booking.DayPart) string { return string(p) }),
		Services: []Option{{"drench", "Drench"}, {"weigh", "Weigh"}},
	}
}

// show renders the trial page for somebody and reads it back.
func show(t *testing.T, frame Frame, form *Form) *goquery.Document {
	t.Helper()
	return get(t, "/farms/1", func(c *gin.Context) error {
		SetFrame(c, func(*gin.Context) (Frame, error) { return frame, nil })
		return Render(c, form.Status(), trialPages, "page", newTrial(form))
	}, nil).doc
}

type answer struct {
	*httptest.ResponseRecorder
	doc *goquery.Document
}

// get asks a handler for a path.
func get(t *testing.T, path string, handler func(*gin.Context) error, header http.Header) answer {
	t.Helper()
	engine := gin.New()
	engine.Any("/*path", Handle(handler))
	w := httptest.NewRecorder()
	r := httptest.NewRequest(http.MethodGet, path, nil)
	for name, values := range header {
		r.Header[name] = values
	}
	engine.ServeHTTP(w, r)
	doc, err := goquery.NewDocumentFromReader(strings.NewReader(w.Body.String()))
	if err != nil {
		t.Fatal(err)
	}
	return answer{w, doc}
}

func text(s *goquery.Selection) string { return strings.Join(strings.Fields(s.Text()), " ") }

func TestPageHasItsFrame(t *testing.T) {
	frame := Frame{
		Business: booking.Business{Name: "Heron Reach <Stock>", Zone: "Europe/Dublin", Currency: "EUR"},
		Person:   booking.Person{ID: booking.NewID(), Name: "Ann Pell", Role: booking.Owner},
		Flash:    "The farm is saved.",
	}
	doc := show(t, frame, NewForm())
	for selector, want := range map[string]string{
		"title":                     "Try <out> · Heron Reach <Stock>",
		"header .brand":             "Heron Reach <Stock>",
		"header nav":                "WeekTodayBookingsFarmsDocketsMoneySettings",
		"header nav [aria-current]": "Farms",
		".flash[role=status]":       "The farm is saved.",
		"main em":                   "shared part",
		"#when":                     "Sat 24 October, 8:00",
		"#money":                    "€402.50",
	} {
		if got := text(doc.Find(selector)); got != want {
			t.Errorf("%s is %q, want %q", selector, got, want)
		}
	}
	if class, _ := doc.Find("body").Attr("class"); class != "trial" {
		t.Errorf("class of the body is %q", class)
	}
	if home, _ := doc.Find(".brand").Attr("href"); home != "/week" {
		t.Errorf("the name leads to %q", home)
	}
	if doc.Find("[style], style, script:not([src]), [onclick]").Length() != 0 {
		t.Error("the page has inline style or script")
	}
}

func TestNavigationFollowsTheRole(t *testing.T) {
	for role, want := range map[booking.Role]string{
		booking.Owner:    "WeekTodayBookingsFarmsDocketsMoneySettings",
		booking.Office:   "WeekBookingsFarmsDocketsMoney",
		booking.Operator: "Today",
		"":               "",
	} {
		doc := show(t, Frame{Person: booking.Person{ID: "x", Role: role}}, NewForm())
		if got := text(doc.Find("header nav")); got != want {
			t.Errorf("%s sees %q, want %q", role, got, want)
		}
	}
	if Home("") != "/" || Home(booking.Operator) != "/today" {
		t.Error("the first pages are wrong")
	}
}

func TestRefusedFormShowsWhatWasTypedAndWhatIsWrong(t *testing.T) {
	form := read(t, url.Values{
		"head": {"lots"}, "password": {"secret words"}, "note": {"<b>gate & lane"}, "lights": {"on"},
		"class": {"doe"}, "part": {"morning"}, "services": {"weigh"}, "version": {"3"},
	})
	form.Int("head", fault.Required)
	form.Errors.Add("services", "Choose each service once.")
	form.Errors.Add("note", "Please keep this shorter.")
	doc := show(t, Frame{}, form)

	if got := text(doc.Find(".errors[role=alert][tabindex='-1']")); !strings.Contains(got, "Head: Give a whole number, such as 240.") {
		t.Errorf("the summary says %q", got)
	}
	doc.Find(".errors a").Each(func(_ int, link *goquery.Selection) {
		id := strings.TrimPrefix(link.AttrOr("href", ""), "#")
		if doc.Find("[id='"+id+"']").Length() != 1 {
			t.Errorf("the summary leads to %q, which is not there", id)
		}
	})
	head := doc.Find("input[name=head]")
	if head.AttrOr("value", "") != "lots" || head.AttrOr("aria-invalid", "") != "true" || head.AttrOr("min", "") != "1" {
		t.Errorf("the field became %v", head.Nodes[0].Attr)
	}
	describedBy(t, doc, head, "As near as you know. Give a whole number, such as 240.")
	describedBy(t, doc, doc.Find("fieldset[id='f-services']"), "Choose each service once.")
	if doc.Find("label[for='f-head']").Length() != 1 || text(doc.Find(".measure span")) != "animals" {
		t.Error("label or unit is missing")
	}
	if got := doc.Find("input[name=password]").AttrOr("value", ""); got != "" {
		t.Errorf("the password came back: %q", got)
	}
	if got := doc.Find("textarea").Text(); got != "<b>gate & lane" {
		t.Errorf("the note became %q", got)
	}
	for _, kept := range []string{"[name=lights][checked]", "option[value=doe][selected]", "[name=part][value=morning][checked]", "[name=services][value=weigh][checked]", "[name=version][value='3']"} {
		if doc.Find(kept).Length() != 1 {
			t.Errorf("%s is lost", kept)
		}
	}
	if doc.Find("[name=services][value=drench][checked]").Length() != 0 {
		t.Error("a box is ticked that was not")
	}
}

func describedBy(t *testing.T, doc *goquery.Document, field *goquery.Selection, want string) {
	t.Helper()
	var said []string
	for _, id := range strings.Fields(field.AttrOr("aria-describedby", "")) {
		said = append(said, text(doc.Find("[id='"+id+"']")))
	}
	if got := strings.Join(said, " "); got != want {
		t.Errorf("described by %q, want %q", got, want)
	}
}

func TestGoodFormIsQuiet(t *testing.T) {
	doc := show(t, Frame{}, NewForm("head", 240))
	if doc.Find(".errors, .wrong, [aria-invalid]").Length() != 0 {
		t.Error("a good form complains")
	}
}

func TestTemplatesCannotSmuggleScripts(t *testing.T) {
	a := get(t, "/", func(c *gin.Context) error {
		return Render(c, 200, trialPages, "wrong", newTrial(NewForm()))
	}, nil)
	if a.Code != http.StatusInternalServerError || strings.Contains(a.Body.String(), "alert") {
		t.Errorf("status %d: %s", a.Code, a.Body)
	}
}

func TestUnknownPageAndBrokenFrame(t *testing.T) {
	if a := get(t, "/", func(c *gin.Context) error { return Render(c, 200, trialPages, "nowhere", nil) }, nil); a.Code != 500 {
		t.Errorf("unknown page: %d", a.Code)
	}
	a := get(t, "/", func(c *gin.Context) error {
		SetFrame(c, func(*gin.Context) (Frame, error) { return Frame{}, errors.New("no database at 10.1.2.3") })
		return Render(c, 200, trialPages, "page", newTrial(NewForm()))
	}, nil)
	if a.Code != 500 || text(a.doc.Find("h1")) == "" || strings.Contains(a.Body.String(), "10.1.2.3") {
		t.Errorf("without its frame: %d %s", a.Code, a.Body)
	}
}

func TestFragmentIsOnlyItsPart(t *testing.T) {
	a := get(t, "/", func(c *gin.Context) error { return Fragment(c, 200, trialPages, "page", "shared", nil) }, nil)
	if got := strings.TrimSpace(a.Body.String()); got != "<em>shared part</em>" {
		t.Errorf("got %q", got)
	}
	if a.Header().Get("Cache-Control") != "no-store" {
		t.Error("a page may be kept")
	}
}

func TestMustParseStopsAProgramWithoutTemplates(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("no templates, no panic")
		}
	}()
	MustParse(trialFiles, "testdata/*.nothing")
}
