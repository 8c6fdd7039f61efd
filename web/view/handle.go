package view

import (
	"context"
	"errors"
	"html/template"
	"log/slog"
	"net/http"
	"net/url"
	"strings"

	"drawbar/booking"
	"drawbar/booking/fault"

	"github.com/gin-gonic/gin"
)

// Handle lets a handler return its error; see Fail.
func Handle(handler func(*gin.Context) error) gin.HandlerFunc {
	return func(c *gin.Context) {
		if err := handler(c); err != nil {
			Fail(c, err)
		}
	}
}

// statuses is what each kind of error answers with.
var statuses = map[fault.Kind]int{
	fault.Internal:  http.StatusInternalServerError,
	fault.NotFound:  http.StatusNotFound,
	fault.Invalid:   http.StatusUnprocessableEntity,
	fault.Conflict:  http.StatusConflict,
	fault.Forbidden: http.StatusForbidden,
	fault.Unsigned:  http.StatusUnauthorized,
	fault.Expired:   http.StatusGone,
	fault.TooMany:   http.StatusTooManyRequests,
	fault.TooLarge:  http.StatusRequestEntityTooLarge,
}

// headings say in a few words what happened.
var headings = map[fault.Kind]string{
	fault.Internal:  "That went wrong on our side",
	fault.NotFound:  "Nothing here",
	fault.Invalid:   "Some entries need another look",
	fault.Conflict:  "Something changed meanwhile",
	fault.Forbidden: "Not yours to do",
	fault.Unsigned:  "Please sign in",
	fault.Expired:   "This has run out",
	fault.TooMany:   "A little slower, please",
	fault.TooLarge:  "Too much at once",
}

// StatusOf is the status a page with this error has.
func StatusOf(err error) int {
	status, known := statuses[fault.KindOf(mapped(err))]
	if !known {
		return http.StatusInternalServerError
	}
	return status
}

// mapped gives what reading an overlong body says a kind and a sentence.
func mapped(err error) error {
	var tooLarge *http.MaxBytesError
	if errors.As(err, &tooLarge) {
		return fault.Wrap(fault.TooLarge, err, "This is more than we take in one go. Send less at a time.")
	}
	return err
}

// Problem is an error as its page, or a program, sees it (RFC 9457).
type Problem struct {
	Title  string       `json:"title"`
	Status int          `json:"status"`
	Detail string       `json:"detail"`
	Fields fault.Fields `json:"fields,omitempty"`
	LogID  string       `json:"log_id,omitempty"` // finds an internal error in the log
	kind   fault.Kind
}

// Ask tells whether the page should offer another link.
func (p Problem) Ask() bool { return p.kind == fault.Expired }

func problemOf(c *gin.Context, err error) Problem {
	err = mapped(err)
	kind := fault.KindOf(err)
	p := Problem{Title: headings[kind], Status: StatusOf(err), Detail: fault.Sentence(err), Fields: fault.FieldsOf(err), kind: kind}
	if p.Status >= http.StatusInternalServerError {
		p.LogID = LogID(c)
	}
	return p
}

// Fail answers with an error: by a page, a problem document for programs, or
// the way to the sign-in page. It ends the request.
func Fail(c *gin.Context, err error) {
	c.Abort()
	p := problemOf(c, err)
	logProblem(c, p, err)
	switch {
	case c.Writer.Written():
	case wantsJSON(c):
		writeProblem(c, p)
	case p.kind == fault.Unsigned:
		toSignIn(c)
	default:
		writeErrorPage(c, p)
	}
}

func logProblem(c *gin.Context, p Problem, err error) {
	switch {
	case errors.Is(err, context.Canceled) && c.Request.Context().Err() != nil: // the reader left
	case p.Status >= http.StatusInternalServerError:
		Log(c).Error("request failed", "error", err)
	default:
		Log(c).Debug("request refused", "error", err)
	}
}

func wantsJSON(c *gin.Context) bool {
	return strings.HasPrefix(c.Request.URL.Path, "/api/") || strings.HasPrefix(c.GetHeader("Accept"), "application/json")
}

func writeProblem(c *gin.Context, p Problem) {
	retryLater(c, p)
	c.Header("Cache-Control", "no-store")
	c.Header("Content-Type", "application/problem+json")
	c.JSON(p.Status, p)
}

// toSignIn remembers where a reader wanted to go; a script is told to load
// the whole page.
func toSignIn(c *gin.Context) {
	to := "/sign-in"
	if c.Request.Method == http.MethodGet && c.Request.URL.Path != "/" {
		to += "?next=" + url.QueryEscape(c.Request.URL.RequestURI())
	}
	if c.GetHeader("HX-Request") != "" {
		c.Header("HX-Redirect", "/sign-in")
		c.Status(http.StatusUnauthorized)
		return
	}
	c.Redirect(http.StatusSeeOther, to)
}

var errorPage = template.Must(template.Must(base.Clone()).ParseFS(own, "templates/error.html"))

// writeErrorPage does without the frame when that cannot be had.
func writeErrorPage(c *gin.Context, p Problem) {
	retryLater(c, p)
	frame, err := frameOf(c)
	if err != nil {
		frame = Frame{}
	}
	if err := write(c, p.Status, errorPage, "layout", Page{Frame: frame, Path: c.Request.URL.Path, Data: p}); err != nil {
		Log(c).Error("error page failed", "error", err)
		c.String(http.StatusInternalServerError, p.Detail)
	}
}

func retryLater(c *gin.Context, p Problem) {
	if p.Status == http.StatusTooManyRequests && c.Writer.Header().Get("Retry-After") == "" {
		c.Header("Retry-After", "30")
	}
}

// ID reads an id from the path; what cannot be one is NotFound.
func ID(c *gin.Context, param string) (booking.ID, error) {
	id, ok := booking.ParseID(c.Param(param))
	if !ok {
		return "", fault.New(fault.NotFound, "There is no such page; the address may have been cut short.")
	}
	return id, nil
}

const (
	logKey   = "drawbar/view.log"
	logIDKey = "drawbar/view.logID"
)

// SetLog gives the request its logger and the id that finds it in the log.
func SetLog(c *gin.Context, log *slog.Logger, id string) {
	c.Set(logKey, log.With("request", id))
	c.Set(logIDKey, id)
}

// Log is the request's logger.
func Log(c *gin.Context) *slog.Logger {
	if log, ok := c.Value(logKey).(*slog.Logger); ok {
		return log
	}
	return slog.Default()
}

// LogID finds the request in the log.
func LogID(c *gin.Context) string { return c.GetString(logIDKey) }
