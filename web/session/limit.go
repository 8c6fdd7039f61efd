package session

import (
	"net/netip"
	"sync"
	"time"

	"drawbar/booking/fault"

	"github.com/gin-gonic/gin"
	"golang.org/x/time/rate"
)

// Limiter slows down whoever asks too often, by key.
type Limiter struct {
	every time.Duration
	burst int
	now   func() time.Time
	mu    sync.Mutex
	keys  map[string]*visitor
}

type visitor struct {
	limit *rate.Limiter
	seen  time.Time
}

// mostKeys bounds the memory of a limiter.
const mostKeys = 10_000

// NewLimiter lets burst requests of a key through at once and one more after
// each span of time.
func NewLimiter(every time.Duration, burst int, now func() time.Time) *Limiter {
	return &Limiter{every: every, burst: burst, now: now, keys: map[string]*visitor{}}
}

// Allow is an error of kind TooMany when the key has to wait.
func (l *Limiter) Allow(key string) error {
	l.mu.Lock()
	defer l.mu.Unlock()
	now := l.now()
	v, ok := l.keys[key]
	if !ok {
		l.makeRoom(now)
		v = &visitor{limit: rate.NewLimiter(rate.Every(l.every), l.burst)}
		l.keys[key] = v
	}
	v.seen = now
	if !v.limit.AllowN(now, 1) {
		return fault.New(fault.TooMany, "That was a lot of tries in a short time. Please wait a minute and try again.")
	}
	return nil
}

// makeRoom forgets keys that would be let through again anyway.
func (l *Limiter) makeRoom(now time.Time) {
	if len(l.keys) < mostKeys {
		return
	}
	idle := now.Add(-l.every * time.Duration(l.burst))
	for key, v := range l.keys {
		if v.seen.Before(idle) || len(l.keys) >= mostKeys {
			delete(l.keys, key)
		}
	}
}

// Address is the key of a request's sender. Of an IPv6 address the first 64
// bits count: the rest is for the sender to choose.
func Address(c *gin.Context) string {
	address, err := netip.ParseAddr(c.ClientIP())
	if err != nil || address.Unmap().Is4() {
		return c.ClientIP()
	}
	network, err := address.Prefix(64)
	if err != nil {
		return c.ClientIP()
	}
	return network.String()
}
