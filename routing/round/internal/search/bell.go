package search

import (
	"runtime"
	"sync/atomic"
)

// bell tells others how often something has happened. They look at it again and
// again instead of sleeping: a turn is over sooner than a goroutine is woken.
type bell struct{ rings atomic.Int64 }

func (b *bell) ring() { b.rings.Add(1) }

// await returns when the bell has rung so often.
func (b *bell) await(times int64) {
	for b.rings.Load() < times {
		runtime.Gosched()
	}
}
