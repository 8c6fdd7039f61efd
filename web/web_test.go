package web

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/pace"
	"drawbar/booking/sample"
	"drawbar/booking/schedule"
	"drawbar/booking/store"
	"drawbar/migrations/db"
	"drawbar/migrations/dbtest"
	"drawbar/routing"
	"drawbar/web/static"
	"drawbar/web/view"

	"github.com/PuerkitoBio/goquery"
	"github.com/gin-gonic/gin"
)

// site is the whole handler on a database.
type site struct {
	t       *testing.T
	db      *db.DB
	log     bytes.Buffer
	handler http.Handler
}

func newSite(t *testing.T, address string, proxies ...string) *site {
	t.Helper()
	s := &site{t: t, db: dbtest.SQLite(t)}
	rows := store.New(s.db, time.Now, nil)
	business := sample.Business()
	if err := rows.SaveBusiness(context.Background(), &business); err != nil {
		t.Fatal(err)
	}
	model, err := pace.NewModel(pace.DefaultPriors(), nil)
	if err != nil {
		t.Fatal(err)
	}
	handler, err := New(Deps{
		DB: s.db, Store: rows, Planner: schedule.New(rows, routing.Estimator{}, model, time.Now),
		Desk: &booking.Desk{Store: rows, Now: time.Now, Site: address}, Now: time.Now,
		Log: slog.New(slog.NewTextHandler(&s.log, &slog.HandlerOptions{Level: slog.LevelDebug})), Site: address, Proxies: proxies, Unsent: rows.CountUnsent,
	})
	if err != nil {
		t.Fatal(err)
	}
	s.handler = handler
	return s
}

func (s *site) send(r *http.Request) *httptest.ResponseRecorder {
	w := httptest.NewRecorder()
	s.handler.ServeHTTP(w, r)
	return w
}

func (s *site) get(path string) *httptest.ResponseRecorder {
	return s.send(httptest.NewRequest(http.MethodGet, path, nil))
}

func post(path, body string, header ...string) *http.Request {
	r := httptest.NewRequest(http.MethodPost, path, strings.NewReader(body))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	for i := 0; i+1 < len(header); i += 2 {
		r.Header.Set(header[i], header[i+1])
	}
	return r
}

func heading(t *testing.T, w *httptest.ResponseRecorder) string {
	t.Helper()
	doc, err := goquery.NewDocumentFromReader(w.Body)
	if err != nil {
		t.Fatal(err)
	}
	return strings.TrimSpace(doc.Find("main h1").Text())
}

func TestUnknownPagesAndMethods(t *testing.T) {
	s := newSite(t, "")
	for _, path := range []string{"/nothing", "/nothing/at/all", "/%00", "/..%2f..%2fetc", "/static/", "/static/x/y.css"} {
		if w := s.get(path); w.Code != http.StatusNotFound {
			t.Errorf("%s answers %d", path, w.Code)
		}
	}
	w := s.get("/nothing")
	if got := heading(t, w); got != "Nothing here" {
		t.Errorf("the page says %q", got)
	}
	if w := s.send(httptest.NewRequest(http.MethodDelete, "/sign-in", nil)); w.Code != http.StatusNotFound {
		t.Errorf("an unknown method gets %d", w.Code)
	}
}

// What the headers mean: CSP Level 3, RFC 6797 (HSTS), the Fetch standard
// (nosniff) and Referrer Policy.
func TestBrowsersAreToldToBeStrict(t *testing.T) {
	plain, secure := newSite(t, "http://127.0.0.1:8080"), newSite(t, "https://drawbar.example")
	for _, path := range []string{"/sign-in", "/nothing", "/healthz", static.Path("drawbar.css")} {
		h := plain.get(path).Header()
		policy := h.Get("Content-Security-Policy")
		for _, rule := range []string{"default-src 'none'", "script-src 'self'", "style-src 'self'", "form-action 'self'", "frame-ancestors 'none'", "base-uri 'none'"} {
			if !strings.Contains(policy, rule) {
				t.Errorf("%s: no %s in %q", path, rule, policy)
			}
		}
		if strings.Contains(policy, "unsafe") || strings.Contains(policy, "http") || strings.Contains(policy, "*") {
			t.Errorf("%s: the policy has a hole: %q", path, policy)
		}
		if h.Get("X-Content-Type-Options") != "nosniff" || h.Get("Referrer-Policy") != "same-origin" || h.Get("Strict-Transport-Security") != "" {
			t.Errorf("%s: %v", path, h)
		}
		if secure.get(path).Header().Get("Strict-Transport-Security") == "" {
			t.Errorf("%s: https is not made to stay", path)
		}
	}
}

// Browsers tell where a form comes from by Sec-Fetch-Site (Fetch Metadata) or
// Origin (Fetch standard).
func TestFormsFromOtherSitesAreRefused(t *testing.T) {
	s := newSite(t, "https://drawbar.example")
	for _, header := range [][]string{
		{"Sec-Fetch-Site", "cross-site"}, {"Sec-Fetch-Site", "same-site"}, {"Origin", "https://evil.example"}, {"Origin", "null"},
		{"Origin", "https://drawbar.example.evil.example"}, {"Origin", "http://drawbar.example"},
	} {
		w := s.send(post("/sign-in/mail", "email=ann%40coverdale.example", header...))
		if w.Code != http.StatusForbidden || heading(t, w) == "" {
			t.Errorf("%v gets %d", header, w.Code)
		}
	}
	for _, header := range [][]string{{"Sec-Fetch-Site", "same-origin"}, {"Sec-Fetch-Site", "none"}, {"Origin", "https://drawbar.example"}, {}} {
		if w := s.send(post("/sign-in/mail", "email=ann%40coverdale.example", header...)); w.Code != http.StatusOK {
			t.Errorf("%v gets %d", header, w.Code)
		}
	}
	r := httptest.NewRequest(http.MethodGet, "/sign-in", nil)
	r.Header.Set("Sec-Fetch-Site", "cross-site")
	if w := s.send(r); w.Code != http.StatusOK {
		t.Errorf("a link from another site gets %d", w.Code)
	}
}

func TestOverlongBodiesAreRefused(t *testing.T) {
	s := newSite(t, "")
	for _, r := range []*http.Request{
		post("/sign-in", "email="+strings.Repeat("a", biggestBody+1)),
		post("/sign-in", strings.Repeat("a=&", 3000)),
		post("/sign-in", multipart(biggestBody+1), "Content-Type", "multipart/form-data; boundary=x"),
	} {
		if w := s.send(r); w.Code != http.StatusRequestEntityTooLarge && w.Code != http.StatusUnprocessableEntity || heading(t, w) == "" {
			t.Errorf("answers %d", w.Code)
		}
	}
}

func multipart(size int) string {
	return "--x\r\nContent-Disposition: form-data; name=\"email\"\r\n\r\n" + strings.Repeat("a", size) + "\r\n--x--\r\n"
}

func TestProbes(t *testing.T) {
	s := newSite(t, "")
	for _, path := range []string{"/healthz", "/readyz"} {
		if w := s.get(path); w.Code != http.StatusOK || len(w.Result().Cookies()) != 0 {
			t.Errorf("%s: %d", path, w.Code)
		}
	}
	s.get("/sign-in/secret-of-somebody")
	w := s.get("/metrics")
	if !strings.Contains(w.Body.String(), `drawbar_request_seconds_count{route="/sign-in/:secret",status="404"} 1`) {
		t.Errorf("the request is not counted: %d", w.Code)
	}
	if !strings.Contains(w.Body.String(), "drawbar_notices_unsent 0\n") {
		t.Error("the notices that wait are not counted")
	}
	if strings.Contains(w.Body.String(), "secret-of-somebody") || strings.Contains(s.log.String(), "secret-of-somebody") {
		t.Error("a secret of an address got into the metrics or the log")
	}
	if w := s.get("/robots.txt"); !strings.Contains(w.Body.String(), "Disallow: /") {
		t.Errorf("robots: %s", w.Body)
	}
	if err := s.db.Close(); err != nil {
		t.Fatal(err)
	}
	if w := s.get("/readyz"); w.Code != http.StatusServiceUnavailable || strings.Contains(w.Body.String(), "sql") {
		t.Errorf("without a database: %d %s", w.Code, w.Body)
	}
	if w := s.get("/metrics"); !strings.Contains(w.Body.String(), "drawbar_notices_unsent -1\n") {
		t.Errorf("metrics without a database: %d", w.Code)
	}
	if w := s.get("/healthz"); w.Code != http.StatusOK {
		t.Errorf("health without a database: %d", w.Code)
	}
}

func TestPagesWithoutADatabase(t *testing.T) {
	s := newSite(t, "")
	if err := s.db.Close(); err != nil {
		t.Fatal(err)
	}
	w := s.get("/sign-in")
	if w.Code != http.StatusInternalServerError || strings.Contains(w.Body.String(), "sql:") || heading(t, w) != "That went wrong on our side" {
		t.Errorf("%d %s", w.Code, w.Body)
	}
}

// A fault of ours becomes a page that names its place in the log, nothing
// more.
func TestPanicsBecomePages(t *testing.T) {
	var log bytes.Buffer
	gin.SetMode(gin.ReleaseMode)
	engine := gin.New()
	engine.Use(logged(slog.New(slog.NewTextHandler(&log, nil)), newMeter(nil)), recovered())
	engine.GET("/panic", func(*gin.Context) { panic("index of farm 7") })
	engine.GET("/late", func(c *gin.Context) { c.String(200, "half"); panic("too late") })
	engine.GET("/gone", func(*gin.Context) { panic(http.ErrAbortHandler) })
	w := httptest.NewRecorder()
	engine.ServeHTTP(w, httptest.NewRequest(http.MethodGet, "/panic", nil))
	if w.Code != 500 || strings.Contains(w.Body.String(), "farm 7") || !strings.Contains(log.String(), "farm 7") {
		t.Errorf("%d, log %s", w.Code, &log)
	}
	doc, err := goquery.NewDocumentFromReader(w.Body)
	if err != nil {
		t.Fatal(err)
	}
	if id := doc.Find("main code").Text(); len(id) < 8 || !strings.Contains(log.String(), "request="+id) {
		t.Errorf("the page names %q", id)
	}
	w = httptest.NewRecorder()
	engine.ServeHTTP(w, httptest.NewRequest(http.MethodGet, "/late", nil))
	if w.Code != 200 || w.Body.String() != "half" {
		t.Errorf("half an answer became %d %q", w.Code, w.Body)
	}
	defer func() {
		if what := recover(); what != http.ErrAbortHandler {
			t.Errorf("an aborted answer ends with %v", what)
		}
	}()
	engine.ServeHTTP(httptest.NewRecorder(), httptest.NewRequest(http.MethodGet, "/gone", nil))
}

// The sender counts, not what a header claims, unless a named proxy says it.
func TestOnlyNamedProxiesSpeakForOthers(t *testing.T) {
	tries := func(s *site) (held bool) {
		for i := range 25 {
			r := post("/sign-in/mail", fmt.Sprintf("email=p%d%%40x.example", i), "X-Forwarded-For", fmt.Sprintf("203.0.113.%d", i))
			held = s.send(r).Code == http.StatusTooManyRequests
		}
		return held
	}
	if !tries(newSite(t, "")) {
		t.Error("a header made one sender many")
	}
	if tries(newSite(t, "", "192.0.2.1")) { // where httptest sends from
		t.Error("people behind a proxy are one")
	}
}

func TestSettingsThatCannotBeUsed(t *testing.T) {
	for _, d := range []Deps{{Site: "drawbar.example"}, {Site: "https://drawbar.example/path"}, {Proxies: []string{"not an address"}}} {
		d.Log = slog.New(slog.NewTextHandler(io.Discard, nil))
		if _, err := New(d); !fault.Is(err, fault.Invalid) {
			t.Errorf("%+v is taken: %v", d, err)
		}
	}
}

func TestContextsEndQuietly(t *testing.T) {
	var log bytes.Buffer
	engine := gin.New()
	engine.Use(logged(slog.New(slog.NewTextHandler(&log, nil)), newMeter(nil)))
	engine.GET("/slow", view.Handle(func(c *gin.Context) error { return errors.Join(errors.New("query"), c.Request.Context().Err()) }))
	ctx, leave := context.WithCancel(context.Background())
	leave()
	engine.ServeHTTP(httptest.NewRecorder(), httptest.NewRequest(http.MethodGet, "/slow", nil).WithContext(ctx))
	if log.Len() != 0 {
		t.Errorf("a reader who left is logged as an error: %s", &log)
	}
}
