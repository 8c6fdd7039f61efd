package roadmap

import "sync"

// kept remembers what was made lately: two generations of up to most each. What
// is asked for again moves to the younger one; when that is full, the elder is
// forgotten.
type kept[T any] struct {
	most         int
	mu           sync.Mutex
	young, elder map[string]T
}

// get gives what is kept, or makes it.
func (k *kept[T]) get(key string, make func() T) T {
	if v, ok := k.look(key); ok {
		return v
	}
	v := make()
	k.put(key, v)
	return v
}

func (k *kept[T]) look(key string) (T, bool) {
	k.mu.Lock()
	v, ok := k.young[key]
	old, was := k.elder[key]
	k.mu.Unlock()
	if !ok && was {
		k.put(key, old)
		return old, true
	}
	return v, ok
}

func (k *kept[T]) put(key string, v T) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if len(k.young) >= k.most || k.young == nil {
		k.young, k.elder = map[string]T{}, k.young
	}
	k.young[key] = v
}
