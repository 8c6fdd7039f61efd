package webtest

import (
	"fmt"
	"net/url"
	"strings"
	"sync"

	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
)

// watch collects what must not happen while a page is used.
type watch struct {
	mu       sync.Mutex
	host     string // the one server the page may ask
	seen     []string
	expected []string
}

// Expect allows console messages that contain the words, such as "status of
// 422" where a test sends a form that will be refused.
func (p *Page) Expect(words string) {
	p.watch.mu.Lock()
	defer p.watch.mu.Unlock()
	p.watch.expected = append(p.watch.expected, words)
}

func (w *watch) allow(host string) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.host == "" {
		w.host = host
	}
}

// see is called for every event of the tab, in order.
func (w *watch) see(event any) {
	switch e := event.(type) {
	case *runtime.EventConsoleAPICalled:
		if e.Type == runtime.ConsoleAPICalledTypeError || e.Type == runtime.ConsoleAPICalledTypeAssert {
			w.note("console error: " + arguments(e.Args))
		}
	case *runtime.EventExceptionThrown:
		w.note("uncaught: " + exception(e.ExceptionDetails))
	case *log.EventEntryAdded:
		if e.Entry.Level == log.EntryLevelError {
			w.note(fmt.Sprintf("%s error: %s %s", e.Entry.Source, e.Entry.Text, e.Entry.URL))
		}
	case *network.EventRequestWillBeSent:
		w.request(e.Request.URL)
	}
}

// request notes a request that leaves the server under test.
func (w *watch) request(address string) {
	at, err := url.Parse(address)
	if err != nil || at.Host == "" {
		return // data:, blob: and about: go nowhere
	}
	w.mu.Lock()
	outside := at.Host != w.host
	w.mu.Unlock()
	if outside {
		w.note("request to another server: " + address)
	}
}

func (w *watch) note(wrong string) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.seen = append(w.seen, wrong)
}

// wrongs is what was seen and not expected.
func (w *watch) wrongs() []string {
	w.mu.Lock()
	defer w.mu.Unlock()
	var wrongs []string
	for _, wrong := range w.seen {
		if !containsAny(wrong, w.expected) {
			wrongs = append(wrongs, wrong)
		}
	}
	return wrongs
}

func containsAny(text string, parts []string) bool {
	for _, part := range parts {
		if strings.Contains(text, part) {
			return true
		}
	}
	return false
}

func arguments(args []*runtime.RemoteObject) string {
	words := make([]string, 0, len(args))
	for _, arg := range args {
		switch {
		case arg.Description != "":
			words = append(words, arg.Description)
		default:
			words = append(words, strings.Trim(string(arg.Value), `"`))
		}
	}
	return strings.Join(words, " ")
}

func exception(details *runtime.ExceptionDetails) string {
	if details.Exception != nil && details.Exception.Description != "" {
		return details.Exception.Description
	}
	return details.Text
}
