package archtest

import (
	"slices"
	"strings"
	"testing"
)

// order is the one way of imports: a folder may import itself and those
// before it. The schema stands beside the order, see schemaUsers.
var order = []string{"routing", "booking", "jobs", "billing", "web", "cmd"}

// fault is the vocabulary of errors, which everyone shares.
const fault = module + "/booking/fault"

// outer are the ways of the outside world, which the domain knows nothing of.
var outer = []string{"net/http", "gorm.io/", "github.com/gin-gonic/", "database/sql", module + "/migrations"}

// isDomain tells whether a package states rules of the trade. Rows and
// queries, and the tests of both engines, lie in folders of their own.
func isDomain(path string) bool {
	return slices.Contains([]string{"routing", "booking", "jobs", "billing"}, top(path)) && !has(path, "store", "storetest")
}

// broken is one import that a rule forbids.
type broken struct{ by, what string }

// domainBreaks lists what domain packages reach of the outer world, by
// themselves or through another package of the module.
func domainBreaks(all map[string]pkg) []broken {
	var found []broken
	for path := range all {
		if !isDomain(path) {
			continue
		}
		for _, reached := range reach(all, path) {
			for _, what := range all[reached].Imports {
				if begins(what, outer) {
					found = append(found, broken{path, reached + " → " + what})
				}
			}
		}
	}
	return found
}

// reach is the package and all of the module it imports, directly or not.
func reach(all map[string]pkg, path string) []string {
	seen := []string{path}
	for i := 0; i < len(seen); i++ {
		for _, next := range all[seen[i]].Imports {
			if ours(next) && !slices.Contains(seen, next) {
				seen = append(seen, next)
			}
		}
	}
	return seen
}

func begins(path string, prefixes []string) bool {
	return slices.ContainsFunc(prefixes, func(prefix string) bool {
		return path == strings.TrimSuffix(prefix, "/") || strings.HasPrefix(path, strings.TrimSuffix(prefix, "/")+"/")
	})
}

// orderBreaks lists imports against the order.
func orderBreaks(all map[string]pkg) []broken {
	var found []broken
	for path, p := range all {
		for _, what := range p.Imports {
			if ours(what) && !mayImport(path, what) {
				found = append(found, broken{path, what})
			}
		}
	}
	return found
}

func mayImport(path, what string) bool {
	switch {
	case path == fault:
		return false // a leaf
	case what == fault:
		return true
	case top(path) == "migrations":
		return top(what) == "migrations"
	case top(what) == "migrations":
		return usesSchema(path)
	case top(what) == "testdata":
		return top(path) == "cmd" // the demo's files
	}
	return rank(path) >= rank(what) && rank(path) >= 0 && rank(what) >= 0
}

// usesSchema: stores, what serves and what is run may open a database.
func usesSchema(path string) bool {
	return has(path, "store", "storetest") || top(path) == "web" || top(path) == "cmd"
}

func rank(path string) int { return slices.Index(order, top(path)) }

// helpers are packages for tests only.
func isTestHelper(path string) bool {
	return has(path, "dbtest", "storetest", "webtest", "archtest", "noticetest", "roadtest", "sitetest")
}

// helperBreaks lists programs that would ship a test helper.
func helperBreaks(all map[string]pkg) []broken {
	var found []broken
	for path, p := range all {
		for _, what := range p.Imports {
			if !isTestHelper(path) && (isTestHelper(what) && ours(what) || what == "testing") {
				found = append(found, broken{path, what})
			}
		}
	}
	return found
}

func TestDomainKnowsNothingOfTheOutside(t *testing.T) {
	for _, b := range domainBreaks(house(t)) {
		t.Errorf("%s states rules of the trade but reaches the outside: %s", b.by, b.what)
	}
}

func TestImportsGoOneWay(t *testing.T) {
	for _, b := range orderBreaks(house(t)) {
		t.Errorf("%s imports %s, against the order %s", b.by, b.what, strings.Join(order, " ← "))
	}
}

func TestNoTestHelperIsShipped(t *testing.T) {
	for _, b := range helperBreaks(house(t)) {
		t.Errorf("%s imports %s outside its tests", b.by, b.what)
	}
}

// The rules above would also pass on an empty house, so they are held to
// small houses in which each is broken once.
func TestTheRulesFindWhatTheyForbid(t *testing.T) {
	cases := []struct {
		name  string
		rule  func(map[string]pkg) []broken
		house map[string][]string
		want  int
	}{
		{"a store may use gorm", domainBreaks, map[string][]string{"drawbar/booking/store": {"gorm.io/gorm", "drawbar/migrations/db"}}, 0},
		{"a domain package may not", domainBreaks, map[string][]string{"drawbar/booking": {"gorm.io/gorm"}}, 1},
		{"nor serve", domainBreaks, map[string][]string{"drawbar/routing/road": {"net/http"}, "drawbar/jobs": {"net/http/httptest"}}, 2},
		{"a name that only begins alike", domainBreaks, map[string][]string{"drawbar/booking": {"net/httpx"}}, 0},
		{"through another package", domainBreaks, map[string][]string{"drawbar/booking": {"drawbar/booking/store"}, "drawbar/booking/store": {"gorm.io/gorm"}}, 1},
		{"down the order", orderBreaks, map[string][]string{"drawbar/web/board": {"drawbar/billing", "drawbar/routing"}}, 0},
		{"up the order", orderBreaks, map[string][]string{"drawbar/routing": {"drawbar/booking"}, "drawbar/jobs": {"drawbar/billing"}}, 2},
		{"faults are for all", orderBreaks, map[string][]string{"drawbar/routing/road": {"drawbar/booking/fault"}}, 0},
		{"but know nobody", orderBreaks, map[string][]string{"drawbar/booking/fault": {"drawbar/booking"}}, 1},
		{"the schema knows nobody", orderBreaks, map[string][]string{"drawbar/migrations": {"drawbar/booking"}}, 1},
		{"a stranger in the house", orderBreaks, map[string][]string{"drawbar/misc": {"drawbar/booking"}}, 1},
		{"a helper in a test helper", helperBreaks, map[string][]string{"drawbar/booking/storetest": {"drawbar/migrations/dbtest", "testing"}}, 0},
		{"a helper in a program", helperBreaks, map[string][]string{"drawbar/web": {"drawbar/migrations/dbtest", "testing"}}, 2},
	}
	for _, c := range cases {
		all := map[string]pkg{}
		for path, imports := range c.house {
			all[path] = pkg{ImportPath: path, Imports: imports}
		}
		if got := c.rule(all); len(got) != c.want {
			t.Errorf("%s: found %v, want %d", c.name, got, c.want)
		}
	}
}
