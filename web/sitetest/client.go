package sitetest

import (
	"io"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"strings"

	"drawbar/booking"

	"github.com/PuerkitoBio/goquery"
)

// Client is one person's browser, without a script.
type Client struct {
	site *Site
	http *http.Client
}

// Answer is what came back.
type Answer struct {
	Status int
	To     string // where a redirect leads
	Page   *goquery.Document
	Body   string
}

// Anybody is a client of somebody who is not signed in.
func (s *Site) Anybody() *Client {
	jar, err := cookiejar.New(nil)
	s.Must(err)
	return &Client{s, &http.Client{Jar: jar, CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}}
}

// As is a client of the person with the role.
func (s *Site) As(role booking.Role) *Client {
	s.T.Helper()
	c := s.Anybody()
	link, err := s.Desk.SignInLink(s.T.Context(), s.People[role])
	s.Must(err)
	if a := c.Post(strings.TrimPrefix(link, s.Desk.Site)); a.Status != http.StatusSeeOther {
		s.T.Fatalf("signing in as %s answers %d", role, a.Status)
	}
	return c
}

// Get opens a page.
func (c *Client) Get(path string) Answer {
	c.site.T.Helper()
	answer, err := c.http.Get(c.site.Server.URL + path)
	c.site.Must(err)
	return c.read(answer)
}

// Post sends a form of names and values in turn.
func (c *Client) Post(path string, pairs ...string) Answer {
	c.site.T.Helper()
	form := url.Values{}
	for i := 0; i+1 < len(pairs); i += 2 {
		form.Add(pairs[i], pairs[i+1])
	}
	answer, err := c.http.PostForm(c.site.Server.URL+path, form)
	c.site.Must(err)
	return c.read(answer)
}

func (c *Client) read(r *http.Response) Answer {
	c.site.T.Helper()
	defer r.Body.Close()
	body, err := io.ReadAll(r.Body)
	c.site.Must(err)
	page, err := goquery.NewDocumentFromReader(strings.NewReader(string(body)))
	c.site.Must(err)
	return Answer{Status: r.StatusCode, To: r.Header.Get("Location"), Page: page, Body: string(body)}
}

// Says tells whether the page shows the words, with runs of space made one.
func (a Answer) Says(words string) bool {
	return strings.Contains(strings.Join(strings.Fields(a.Page.Find("main").Text()), " "), words)
}

// Typed is the value of a field of the page.
func (a Answer) Typed(name string) string {
	field := a.Page.Find(`[name="` + name + `"]`).First()
	if field.Is("textarea") {
		return field.Text()
	}
	if field.Is("select") {
		return field.Find("option[selected]").AttrOr("value", "")
	}
	return field.AttrOr("value", "")
}

// Error is the sentence at a field, "" for none.
func (a Answer) Error(name string) string {
	return a.Page.Find(`[id="f-` + name + `-error"]`).Text()
}

// With is the page's form of the action, the last where there are more, as a
// browser would send it, with some entries changed: names and values in turn.
func (a Answer) With(action string, changes ...string) []string {
	return Entries(a.Page.Find(`form[action="`+action+`"]`).Last(), changes...)
}

// Entries are what a browser would send of a form, with some entries changed:
// names and values in turn.
func Entries(form *goquery.Selection, changes ...string) []string {
	var pairs []string
	changed := map[string]bool{}
	for i := 0; i+1 < len(changes); i += 2 {
		changed[changes[i]] = true
	}
	form.Find("input, select, textarea").Each(func(_ int, e *goquery.Selection) {
		name, ok := e.Attr("name")
		kind := e.AttrOr("type", "")
		if _, checked := e.Attr("checked"); !ok || changed[name] || (kind == "checkbox" || kind == "radio") && !checked {
			return
		}
		value := e.AttrOr("value", "")
		switch {
		case e.Is("textarea"):
			value = e.Text()
		case e.Is("select"):
			value = e.Find("option[selected]").AttrOr("value", e.Find("option").First().AttrOr("value", ""))
		}
		pairs = append(pairs, name, value)
	})
	return append(pairs, changes...)
}
