package webtest

import (
	"strings"
	"testing"
)

func TestPickTakesTheOneThingMeant(t *testing.T) {
	page := []element{
		{role: "heading", name: "Send"}, {role: "button", name: "Send"}, {role: "button", name: "Send later"},
		{role: "link", name: "Yard: Long Acre"}, {role: "link", name: "Yard: Low Field"}, {role: "textbox", name: "Head (from 1 to 20,000)"},
	}
	cases := []struct{ role, name, want, fails string }{
		{"button", "Send", "Send", ""},
		{"button", "Send l", "Send later", ""},
		{"textbox", "Head", "Head (from 1 to 20,000)", ""},
		{"link", "Yard", "", "2 things answer"},
		{"button", "Withdraw", "", `there are [button "Send" button "Send later"]`},
	}
	for _, c := range cases {
		got, err := pick(page, []string{c.role}, c.name)
		if got.name != c.want || (err == nil) != (c.fails == "") || (err != nil && !strings.Contains(err.Error(), c.fails)) {
			t.Errorf("%s %q: %v, %v; want %q, %q", c.role, c.name, got, err, c.want, c.fails)
		}
	}
}

func TestMissingBrowserIsNoticed(t *testing.T) {
	t.Setenv("PATH", t.TempDir())
	if path := find(programs); path != "" {
		t.Errorf("found %s where there is none", path)
	}
}
