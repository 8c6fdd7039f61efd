package view

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"drawbar/booking/fault"

	"github.com/gin-gonic/gin"
)

// Form is what a person typed and what is wrong with it.
type Form struct {
	values url.Values
	read   []string // fields in the order the handler read them
	status int
	Errors fault.Fields
	Says   string // about the entries as a whole
}

// Limits of one form. A field that may hold more has no place in a form.
const (
	maxFields = 2000
	maxValue  = 20_000 // bytes
)

// NewForm is a form with the given values, for a page that is shown first.
// Values are told by name and value in turn.
func NewForm(pairs ...any) *Form {
	f := &Form{values: url.Values{}, Errors: fault.Fields{}}
	for i := 0; i+1 < len(pairs); i += 2 {
		f.Set(fmt.Sprint(pairs[i]), pairs[i+1])
	}
	return f
}

// ReadForm takes the form of a request: fields of its body, and of the
// address for a GET. Fields that are overlong or not valid text are noted
// as errors.
func ReadForm(c *gin.Context) (*Form, error) {
	if err := parse(c.Request); err != nil {
		if StatusOf(err) == http.StatusRequestEntityTooLarge {
			return nil, err
		}
		return nil, fault.Wrap(fault.Invalid, err, "We could not read what was sent; please go back and try again.")
	}
	values := c.Request.PostForm
	if c.Request.Method == http.MethodGet {
		values = c.Request.Form
	}
	if countOf(values) > maxFields {
		return nil, fault.Newf(fault.TooLarge, "This form has more than %d entries; send fewer at a time.", maxFields)
	}
	f := &Form{values: values, Errors: fault.Fields{}}
	f.refuseUnreadable()
	return f, nil
}

func countOf(values url.Values) (n int) {
	for _, all := range values {
		n += len(all)
	}
	return n
}

func parse(r *http.Request) error {
	if strings.HasPrefix(r.Header.Get("Content-Type"), "multipart/form-data") {
		return r.ParseMultipartForm(1 << 20)
	}
	return r.ParseForm()
}

// refuseUnreadable notes what no field takes, and mends it so that it can be
// shown and stored at all.
func (f *Form) refuseUnreadable() {
	for name, values := range f.values {
		for i, v := range values {
			switch {
			case !utf8.ValidString(v) || strings.ContainsFunc(v, unreadable):
				f.Errors.Add(name, "This has characters we cannot read; please type it again.")
				values[i] = strings.Map(readable, strings.ToValidUTF8(v, ""))
			case len(v) > maxValue:
				f.Errors.Add(name, "Please keep this shorter; it has %d characters.", utf8.RuneCountInString(v))
			}
		}
	}
}

func unreadable(r rune) bool {
	return unicode.IsControl(r) && r != '\n' && r != '\r' && r != '\t'
}

func readable(r rune) rune {
	if unreadable(r) {
		return -1
	}
	return r
}

// Set puts a value into a field.
func (f *Form) Set(name string, value any) {
	switch v := value.(type) {
	case bool:
		f.values.Del(name)
		if v {
			f.values.Set(name, "on")
		}
	case []string:
		f.values[name] = v
	default:
		f.values.Set(name, fmt.Sprint(v))
	}
}

// Typed is the field as it was typed.
func (f *Form) Typed(name string) string { return f.values.Get(name) }

// Has tells whether the field was sent at all.
func (f *Form) Has(name string) bool { return f.values.Has(name) }

// Picked tells whether a value is among those of the field.
func (f *Form) Picked(name, value string) bool { return slices.Contains(f.values[name], value) }

// OK tells whether nothing is wrong.
func (f *Form) OK() bool { return len(f.Errors) == 0 && f.Says == "" }

// Status of a page that shows the form: 422 or 409 when something is wrong.
func (f *Form) Status() int {
	switch {
	case f.OK():
		return http.StatusOK
	case f.status != 0:
		return f.status
	}
	return http.StatusUnprocessableEntity
}

// Take notes an error about the entries (Invalid or Conflict) and gives back
// any other.
func (f *Form) Take(err error) error {
	if err == nil {
		return nil
	}
	kind := fault.KindOf(err)
	if kind != fault.Invalid && kind != fault.Conflict {
		return err
	}
	f.Errors.Merge("", fault.FieldsOf(err))
	f.status = StatusOf(err)
	if len(fault.FieldsOf(err)) == 0 {
		f.Says = fault.Sentence(err)
	}
	return nil
}

// Wrong is one line of the summary above a form.
type Wrong struct{ ID, Label, Sentence string }

// Wrongs are what is wrong, in the order the fields were read.
func (f *Form) Wrongs() []Wrong {
	all := make([]Wrong, 0, len(f.Errors))
	for name, sentence := range f.Errors {
		all = append(all, Wrong{ID: name, Label: labelOf(name), Sentence: sentence})
	}
	slices.SortFunc(all, func(a, b Wrong) int {
		if d := f.rank(a.ID) - f.rank(b.ID); d != 0 {
			return d
		}
		return strings.Compare(a.ID, b.ID)
	})
	for i := range all {
		all[i].ID = fieldID(all[i].ID)
	}
	return all
}

func (f *Form) rank(name string) int {
	if i := slices.Index(f.read, name); i >= 0 {
		return i
	}
	return len(f.read)
}

// labelOf makes words of a field's name: "mob.0.head" is "Mob 1, head".
func labelOf(name string) string {
	var words []string
	for part := range strings.SplitSeq(name, ".") {
		if n, ok := ordinal(part); ok && len(words) > 0 {
			words[len(words)-1] += " " + n
			continue
		}
		words = append(words, strings.ReplaceAll(part, "_", " "))
	}
	label := strings.Join(words, ", ")
	if label == "" {
		return label
	}
	first, size := utf8.DecodeRuneInString(label)
	return string(unicode.ToUpper(first)) + label[size:]
}
