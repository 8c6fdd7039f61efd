package web

import (
	"fmt"
	"log/slog"
	"net/http"
	"runtime/debug"
	"time"

	"drawbar/booking/fault"
	"drawbar/web/view"

	"github.com/gin-gonic/gin"
	"github.com/google/uuid"
)

// biggestBody is the most a request may send, in bytes.
const biggestBody = 1 << 20

// policy lets a page load from this site only, and run and style nothing that
// is not in a file of ours.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; font-src 'self'; " +
	"connect-src 'self'; manifest-src 'self'; worker-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// secured sets the headers that browsers enforce.
func secured(https bool) gin.HandlerFunc {
	return func(c *gin.Context) {
		h := c.Writer.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		// Addresses hold secrets, so no other site is told them. Not even
		// no-referrer would do more, but it takes the origin out of forms.
		h.Set("Referrer-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Permissions-Policy", "geolocation=(self), screen-wake-lock=(self), camera=(), microphone=()")
		if https {
			h.Set("Strict-Transport-Security", "max-age=31536000")
		}
	}
}

// limited refuses overlong bodies.
func limited(c *gin.Context) {
	c.Request.Body = http.MaxBytesReader(c.Writer, c.Request.Body, biggestBody)
}

// logged notes each request with an id that error pages name.
func logged(log *slog.Logger, m *meter) gin.HandlerFunc {
	return func(c *gin.Context) {
		began := time.Now()
		view.SetLog(c, log, uuid.NewString()[:8])
		c.Next()
		took := time.Since(began)
		m.note(c, took)
		view.Log(c).Debug("answered", "method", c.Request.Method, "route", c.FullPath(), "status", c.Writer.Status(), "took", took)
	}
}

// recovered turns a panic into a page that tells nothing of it. The panic
// that only ends an answer goes on to the server.
func recovered() gin.HandlerFunc {
	return func(c *gin.Context) {
		defer func() {
			what := recover()
			if what == nil {
				return
			}
			if what == http.ErrAbortHandler {
				panic(what)
			}
			view.Fail(c, fmt.Errorf("panic: %v\n%s", what, debug.Stack()))
		}()
		c.Next()
	}
}

// sameOrigin refuses forms that another site sends. The site's own address is
// trusted even where a proxy changes the Host header.
func sameOrigin(site string) (gin.HandlerFunc, error) {
	protection := http.NewCrossOriginProtection()
	if site != "" {
		if err := protection.AddTrustedOrigin(site); err != nil {
			return nil, fault.Wrap(fault.Invalid, err, "The address people use has to look like https://example.com, without a path.")
		}
	}
	return view.Handle(func(c *gin.Context) error {
		if err := protection.Check(c.Request); err != nil {
			return fault.Wrap(fault.Forbidden, err, "This form was sent from another site, so nothing was done. Open the page here and try again.")
		}
		return nil
	}), nil
}

func noPage(*gin.Context) error {
	return fault.New(fault.NotFound, "There is no such page; the address may have been cut short.")
}
