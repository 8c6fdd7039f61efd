package db

import (
	"context"
	"errors"
	"strings"
	"unicode"
	"unicode/utf8"

	"drawbar/booking/fault"

	"github.com/jackc/pgx/v5/pgconn"
	"gorm.io/gorm"
	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

// cause is what went wrong, in words common to both engines.
type cause int

const (
	unknown cause = iota
	missing       // no such row, or an id that cannot be one
	taken         // a unique value is there already
	overlap       // the rig is booked at that time
	refused       // a trigger of ours said no, in its own words
	linked        // a reference is missing, or still held
	unfit         // a value the column does not take
	again         // nothing wrong: run the transaction again
)

// Sentences for the reader. Stores that know more (which field, which row)
// say it themselves before the error gets here.
const (
	saysMissing = "There is no such entry, or it has been removed."
	saysTaken   = "There is already an entry with the same value; change it or use the one that is there."
	saysOverlap = "The rig is already booked at that time; choose another time or another rig."
	saysLinked  = "Something this belongs to is missing, or something else still needs it."
	saysUnfit   = "A value cannot be kept as it was given; check what was entered."
	saysBusy    = "Too many changes are being made at this moment; please try again."
)

// mapError turns an engine's error into package fault's. Errors that already
// have a kind, and the end of the context, pass unchanged.
func mapError(err error) error {
	var known *fault.Error
	switch {
	case err == nil, errors.As(err, &known), errors.Is(err, context.Canceled), errors.Is(err, context.DeadlineExceeded):
		return err
	}
	what, says := diagnose(err)
	switch what {
	case missing:
		return fault.Wrap(fault.NotFound, err, saysMissing)
	case taken:
		return fault.Wrap(fault.Conflict, err, saysTaken)
	case overlap:
		return fault.Wrap(fault.Conflict, err, saysOverlap)
	case refused:
		return fault.Wrap(fault.Conflict, err, sentence(says))
	case linked:
		return fault.Wrap(fault.Conflict, err, saysLinked)
	case unfit:
		return fault.Wrap(fault.Invalid, err, saysUnfit)
	case again:
		return fault.Wrap(fault.Conflict, err, saysBusy)
	}
	return err
}

// wantsRetry tells whether running the transaction again may succeed.
func wantsRetry(err error) bool {
	if err == nil {
		return false
	}
	what, _ := diagnose(err)
	return what == again
}

// diagnose finds the engine's own error in the chain. For a refusal it also
// gives the words of the trigger.
func diagnose(err error) (cause, string) {
	var pg *pgconn.PgError
	var lite *sqlite.Error
	switch {
	case errors.Is(err, gorm.ErrRecordNotFound):
		return missing, ""
	case errors.As(err, &pg):
		return diagnosePostgres(pg)
	case errors.As(err, &lite):
		return diagnoseSQLite(lite)
	}
	return unknown, ""
}

// diagnosePostgres reads the SQLSTATE (PostgreSQL manual, appendix A).
func diagnosePostgres(pg *pgconn.PgError) (cause, string) {
	switch pg.Code {
	case "23505":
		return taken, ""
	case "23P01":
		return overlap, ""
	case "P0001":
		return refusal(pg.Message)
	case "23503", "23001":
		return linked, ""
	case "40001", "40P01", "55P03":
		return again, ""
	case "22P02":
		if strings.Contains(pg.Message, "uuid") {
			return missing, ""
		}
		return unfit, ""
	case "22001", "22003", "22007", "22008", "22021", "22P05", "23502", "23514":
		return unfit, ""
	}
	return unknown, ""
}

// diagnoseSQLite reads the extended result code (sqlite.org/rescode.html).
func diagnoseSQLite(lite *sqlite.Error) (cause, string) {
	switch lite.Code() {
	case sqlite3.SQLITE_CONSTRAINT_UNIQUE, sqlite3.SQLITE_CONSTRAINT_PRIMARYKEY, sqlite3.SQLITE_CONSTRAINT_ROWID:
		return taken, ""
	case sqlite3.SQLITE_CONSTRAINT_TRIGGER:
		return refusal(triggerWords(lite.Error()))
	case sqlite3.SQLITE_CONSTRAINT_FOREIGNKEY:
		return linked, ""
	case sqlite3.SQLITE_CONSTRAINT_CHECK, sqlite3.SQLITE_CONSTRAINT_NOTNULL, sqlite3.SQLITE_CONSTRAINT_DATATYPE, sqlite3.SQLITE_TOOBIG, sqlite3.SQLITE_MISMATCH:
		return unfit, ""
	}
	if primary := lite.Code() & 0xff; primary == sqlite3.SQLITE_BUSY || primary == sqlite3.SQLITE_LOCKED {
		return again, ""
	}
	return unknown, ""
}

// refusal sorts what a trigger of the schema said. SQLite itself also speaks
// through triggers, for a row kept by ON DELETE RESTRICT.
func refusal(words string) (cause, string) {
	switch {
	case strings.Contains(words, "already booked"):
		return overlap, ""
	case strings.HasPrefix(words, "FOREIGN KEY"):
		return linked, ""
	}
	return refused, words
}

// triggerWords takes the trigger's own words out of the driver's
// "constraint failed: words (1811)".
func triggerWords(text string) string {
	if _, after, found := strings.Cut(text, "constraint failed: "); found {
		text = after
	}
	if i := strings.LastIndex(text, " ("); i >= 0 && strings.HasSuffix(text, ")") {
		text = text[:i]
	}
	return text
}

// sentence makes a whole sentence of a trigger's words.
func sentence(words string) string {
	words = strings.TrimSpace(words)
	if words == "" {
		return saysUnfit
	}
	first, size := utf8.DecodeRuneInString(words)
	words = string(unicode.ToUpper(first)) + words[size:]
	if !strings.HasSuffix(words, ".") {
		words += "."
	}
	return words
}
