package pace

import "fmt"

// Error says which field of a job, prior table or file cannot be used, and the
// way out. Field is a path such as "mobs.0.head"; it is empty when the whole
// input is at fault.
type Error struct {
	Field    string
	Sentence string // whole sentence, safe to show
}

// Error gives field and sentence in one line.
func (e *Error) Error() string {
	if e.Field == "" {
		return e.Sentence
	}
	return e.Field + ": " + e.Sentence
}

func bad(field, format string, args ...any) *Error {
	return &Error{Field: field, Sentence: fmt.Sprintf(format, args...)}
}
