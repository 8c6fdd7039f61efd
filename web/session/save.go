package session

import (
	"time"

	"drawbar/web/view"

	"github.com/alexedwards/scs/v2"
	"github.com/gin-gonic/gin"
)

// saving is a writer that saves the session before the first byte of the
// answer, while its cookie can still be sent. Unlike the library's own it
// keeps what gin's writer can do, such as flushing a stream.
type saving struct {
	gin.ResponseWriter
	save func()
	done bool
}

func (w *saving) once() {
	if !w.done {
		w.done = true
		w.save()
	}
}

func (w *saving) Write(data []byte) (int, error) {
	w.once()
	return w.ResponseWriter.Write(data)
}

func (w *saving) WriteString(s string) (int, error) {
	w.once()
	return w.ResponseWriter.WriteString(s)
}

func (w *saving) WriteHeaderNow() {
	w.once()
	w.ResponseWriter.WriteHeaderNow()
}

func (w *saving) Flush() {
	w.once()
	w.ResponseWriter.Flush()
}

// save stores a session that changed and sends its cookie.
func (s *Sessions) save(c *gin.Context) {
	ctx := c.Request.Context()
	switch s.manager.Status(ctx) {
	case scs.Modified:
		token, expires, err := s.manager.Commit(ctx)
		if err != nil {
			view.Log(c).Error("session not saved", "error", err)
			return
		}
		s.manager.WriteSessionCookie(ctx, c.Writer, token, expires)
	case scs.Destroyed:
		s.manager.WriteSessionCookie(ctx, c.Writer, "", time.Time{})
	}
}
