package view

import (
	"net/http"
	"slices"
	"strings"
)

// Meet lets a form whose save met a newer version be saved again: it takes
// the version on file and says, at each field that differs, what is on file
// now. Options give the words of what is picked from a list, by field.
func (f *Form) Meet(now *Form, options map[string][]Option) {
	if f.Status() != http.StatusConflict {
		return
	}
	for _, name := range f.read {
		if there := now.values[name]; !slices.Equal(plain(f.values[name]), plain(there)) {
			f.Errors.Add(name, "On file now: %s.", said(there, options[name]))
		}
	}
	f.Set("version", now.Typed("version"))
}

// plain are values without what a browser adds, and empty ones left out.
func plain(values []string) []string {
	var all []string
	for _, v := range values {
		if v = strings.TrimSpace(strings.ReplaceAll(v, "\r\n", "\n")); v != "" {
			all = append(all, v)
		}
	}
	slices.Sort(all)
	return all
}

// said is a value in words.
func said(values []string, options []Option) string {
	var words []string
	for _, v := range plain(values) {
		i := slices.IndexFunc(options, func(o Option) bool { return o.Value == v })
		switch {
		case i >= 0:
			words = append(words, options[i].Label)
		case v == "on":
			words = append(words, "ticked")
		default:
			words = append(words, "“"+v+"”")
		}
	}
	switch {
	case len(words) > 0:
		return strings.Join(words, ", ")
	case values == nil:
		return "not ticked"
	}
	return "nothing"
}
