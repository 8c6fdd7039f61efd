package fault

import "fmt"

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
