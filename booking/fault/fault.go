package fault

import (
	"errors"
	"fmt"
)

// Kind sorts errors by what the reader can do about them.
type Kind string

// The kinds. Append only: they are written to logs and read by checks.
const (
	Internal  Kind = "internal"  // ours to mend; the reader can only try again
	NotFound  Kind = "not found" // no such thing, or not yours to see
	Invalid   Kind = "invalid"   // what was entered cannot be used as it is
	Conflict  Kind = "conflict"  // true a moment ago, not any more
	Forbidden Kind = "forbidden" // signed in, but not allowed to do this
	Unsigned  Kind = "unsigned"  // has to sign in first
	Expired   Kind = "expired"   // a link or an offer that has run out
	TooMany   Kind = "too many"  // slow down and try again
	TooLarge  Kind = "too large" // more than we take in one go
)

// Error is an error with a kind and a sentence for the reader.
type Error struct {
	Kind     Kind
	Sentence string // whole sentence, safe to show
	Fields   Fields // for forms: what is wrong where
	cause    error
}

// Error gives the sentence and the cause, for logs.
func (e *Error) Error() string {
	if e.cause == nil {
		return string(e.Kind) + ": " + e.Sentence
	}
	return fmt.Sprintf("%s: %s: %v", e.Kind, e.Sentence, e.cause)
}

// Unwrap gives the cause.
func (e *Error) Unwrap() error { return e.cause }

// New makes an error with a sentence for the reader.
func New(kind Kind, sentence string) *Error { return &Error{Kind: kind, Sentence: sentence} }

// Newf is New with a format.
func Newf(kind Kind, format string, args ...any) *Error {
	return New(kind, fmt.Sprintf(format, args...))
}

// Wrap keeps the cause for the log and gives the reader a sentence.
func Wrap(kind Kind, cause error, sentence string) *Error {
	return &Error{Kind: kind, Sentence: sentence, cause: cause}
}

// KindOf is the kind of the first Error in the chain, Internal without one.
func KindOf(err error) Kind {
	var e *Error
	if errors.As(err, &e) {
		return e.Kind
	}
	return Internal
}

// Is tells whether err is of the kind. A nil error is of no kind.
func Is(err error, kind Kind) bool { return err != nil && KindOf(err) == kind }

// Sentence is what the reader may see.
func Sentence(err error) string {
	var e *Error
	if errors.As(err, &e) && e.Kind != Internal {
		return e.Sentence
	}
	return "Something went wrong on our side. Nothing you entered was changed; please try again."
}

// FieldsOf gives the field messages of the first Error in the chain.
func FieldsOf(err error) Fields {
	var e *Error
	if errors.As(err, &e) {
		return e.Fields
	}
	return nil
}
