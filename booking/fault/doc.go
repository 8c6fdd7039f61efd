// Package fault is the one vocabulary of errors: a kind that decides the
// status of a page, a sentence that is safe to show, and, for forms, the
// field it belongs to. Anything without a kind is Internal and is logged,
// never shown. The package imports nothing of the project.
package fault
