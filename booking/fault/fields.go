package fault

import (
	"fmt"
	"net/mail"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Fields maps a form field's name to a sentence that says what is wrong and
// the way out. The first message for a field stays.
type Fields map[string]string

// Add notes a message for a field.
func (f Fields) Add(field, format string, args ...any) {
	if _, taken := f[field]; !taken {
		f[field] = fmt.Sprintf(format, args...)
	}
}

// Merge takes the messages of another set under a prefix, such as "mob.0.".
func (f Fields) Merge(prefix string, other Fields) {
	for name, message := range other {
		f.Add(prefix+name, "%s", message)
	}
}

// Err is nil for no messages, else an Invalid error that carries them.
func (f Fields) Err() error {
	if len(f) == 0 {
		return nil
	}
	return &Error{Kind: Invalid, Sentence: "Some entries need another look.", Fields: f}
}

// Need says whether an entry may be left empty.
type Need bool

// Whether an entry may be left empty.
const (
	Required Need = true
	Optional Need = false
)

// Text checks an entry of at most limit characters of valid text; control
// characters other than line breaks and tabs are refused.
func (f Fields) Text(field, value string, limit int, need Need) {
	switch {
	case !utf8.ValidString(value) || strings.ContainsFunc(value, unprintable):
		f.Add(field, "This has characters we cannot read; please type it again.")
	case strings.TrimSpace(value) == "" && need == Required:
		f.Add(field, "Please fill this in.")
	case utf8.RuneCountInString(value) > limit:
		f.Add(field, "Please keep this to %d characters; it has %d.", limit, utf8.RuneCountInString(value))
	}
}

func unprintable(r rune) bool {
	return unicode.IsControl(r) && r != '\n' && r != '\r' && r != '\t'
}

// Email checks one bare address, such as ann@example.com.
func (f Fields) Email(field, value string, need Need) {
	f.Text(field, value, 254, need)
	if value == "" || f[field] != "" {
		return
	}
	at, err := mail.ParseAddress(value)
	if err != nil || at.Address != value || !strings.Contains(value[strings.LastIndex(value, "@"):], ".") {
		f.Add(field, "Give one mail address, such as ann@example.com.")
	}
}

// Range checks a number from low to high; unit completes the sentence.
func (f Fields) Range(field string, value, low, high float64, unit string) {
	if !(value >= low && value <= high) {
		f.Add(field, "Give a number from %g to %g (%s).", low, high, unit)
	}
}
