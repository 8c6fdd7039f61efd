package road

import "drawbar/routing/road/drive"

// entry is a state waiting in a search.
type entry struct {
	cost  drive.Cost
	state int32
}

// heap is a binary heap, cheapest first.
type heap []entry

func (h *heap) push(e entry) {
	q := append(*h, e)
	i := len(q) - 1
	for i > 0 {
		p := (i - 1) / 2
		if q[p].cost <= q[i].cost {
			break
		}
		q[p], q[i] = q[i], q[p]
		i = p
	}
	*h = q
}

func (h *heap) pop() entry {
	q := *h
	top, last := q[0], len(q)-1
	q[0] = q[last]
	q = q[:last]
	for i := 0; ; {
		c := 2*i + 1
		if c >= last {
			break
		}
		if c+1 < last && q[c+1].cost < q[c].cost {
			c++
		}
		if q[i].cost <= q[c].cost {
			break
		}
		q[i], q[c] = q[c], q[i]
		i = c
	}
	*h = q
	return top
}
