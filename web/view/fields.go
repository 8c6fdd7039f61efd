package view

import (
	"fmt"
	"html/template"
	"slices"
	"strings"

	"drawbar/web/static"
)

// funcs are what templates may call besides the methods of Page.
var funcs = template.FuncMap{
	"date": Date, "dateYear": DateYear, "day": Day, "month": Month, "span": Span,
	"duration": Duration, "estimate": Estimate,
	"number": Number[int], "head": Head, "plural": Plural, "money": Money,
	"static": static.Path,
	"field":  newField, "pick": newPick, "ticks": newTicks,
}

// Option is one entry of a list to choose from.
type Option struct{ Value, Label string }

// Options makes a list of values with their labels.
func Options[T ~string](values []T, label func(T) string) []Option {
	all := make([]Option, len(values))
	for i, v := range values {
		all[i] = Option{Value: string(v), Label: label(v)}
	}
	return all
}

// Field is what the template of one entry needs.
type Field struct {
	Form                   *Form
	ID, Name, Label, Value string
	Error, Hint, Unit      string
	Optional               bool
	Attrs                  template.HTMLAttr
	Options                []Option
}

// attributes that a template may give to an entry.
var attributes = []string{"type", "autocomplete", "inputmode", "min", "max", "step", "maxlength", "rows", "list", "pattern", "placeholder"}

// newField prepares an entry for the templates field, textarea and checkbox.
// Extras are "hint=…", "unit=…", "required", "optional", "autofocus" and
// attributes such as "type=email".
func newField(form *Form, name, label string, extras ...string) (Field, error) {
	f := Field{Form: form, ID: fieldID(name), Name: name, Label: label, Value: form.Typed(name), Error: form.Errors[name]}
	for _, extra := range extras {
		if err := f.take(extra); err != nil {
			return f, err
		}
	}
	return f, nil
}

// newPick prepares a choice for the templates select, radios and checks.
func newPick(form *Form, name, label string, options []Option, extras ...string) (Field, error) {
	f, err := newField(form, name, label, extras...)
	f.Options = options
	return f, err
}

func fieldID(name string) string { return "f-" + name }

func (f *Field) take(extra string) error {
	key, value, _ := strings.Cut(extra, "=")
	switch {
	case key == "hint":
		f.Hint = value
	case key == "unit":
		f.Unit = value
	case key == "optional":
		f.Optional = true
	case key == "required" || key == "autofocus":
		f.attr(key, "")
	case slices.Contains(attributes, key):
		if key == "type" && value == "password" {
			f.Value = "" // never sent back
		}
		f.attr(key, value)
	default:
		return fmt.Errorf("view: field %s: unknown extra %q", f.Name, extra)
	}
	return nil
}

// By names the hint and the error that describe the entry.
func (f Field) By() string {
	var by []string
	if f.Hint != "" {
		by = append(by, f.ID+"-hint")
	}
	if f.Error != "" {
		by = append(by, f.ID+"-error")
	}
	return strings.Join(by, " ")
}

func (f *Field) attr(key, value string) {
	f.Attrs += template.HTMLAttr(fmt.Sprintf(` %s="%s"`, key, template.HTMLEscapeString(value)))
}

// Picked tells whether an option is chosen.
func (f Field) Picked(value string) bool { return f.Form.Picked(f.Name, value) }

// Ticks is a group of boxes of one type to tick.
type Ticks struct {
	Field
	Type string
}

func newTicks(f Field, kind string) Ticks { return Ticks{Field: f, Type: kind} }
