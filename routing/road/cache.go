package road

import (
	"container/list"
	"fmt"
	"strings"
	"sync"

	"drawbar/routing"
)

// cacheLegs is how many legs a cache keeps at most, some 50 MB.
const cacheLegs = 4_000_000

// cache keeps the tables used last.
type cache struct {
	mu     sync.Mutex
	legs   int
	recent list.List // of *cached, latest first
	byKey  map[string]*list.Element
}

type cached struct {
	key   string
	table *routing.Table
}

// tableKey tells tables apart: the metric, and every place with its position.
func tableKey(metric string, places []routing.Place) string {
	var key strings.Builder
	key.WriteString(metric)
	for _, p := range places {
		fmt.Fprintf(&key, "\x00%q %v %v", p.ID, p.At[0], p.At[1])
	}
	return key.String()
}

func (c *cache) get(key string) (*routing.Table, bool) {
	c.mu.Lock()
	defer c.mu.Unlock()
	e, ok := c.byKey[key]
	if !ok {
		return nil, false
	}
	c.recent.MoveToFront(e)
	return e.Value.(*cached).table, true
}

func (c *cache) put(key string, t *routing.Table) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if _, ok := c.byKey[key]; ok || t.Len()*t.Len() > cacheLegs {
		return
	}
	if c.byKey == nil {
		c.byKey = map[string]*list.Element{}
	}
	c.byKey[key] = c.recent.PushFront(&cached{key, t})
	c.legs += t.Len() * t.Len()
	for c.legs > cacheLegs {
		last := c.recent.Remove(c.recent.Back()).(*cached)
		delete(c.byKey, last.key)
		c.legs -= last.table.Len() * last.table.Len()
	}
}
