package contract

// Buckets hold the searches back from a set of targets, node by node, so that
// one search from a source meets them all.
type Buckets struct {
	m      *Metric
	count  int
	start  []int32
	target []int32
	cost   []uint64
}

// Gather searches back from every target. targets[i] are the seeds of target i.
func (m *Metric) Gather(s *Search, targets [][]Label) *Buckets {
	b := &Buckets{m: m, count: len(targets), start: make([]int32, m.t.n+1)}
	var labels []Label
	ends := make([]int, len(targets))
	for i, seeds := range targets {
		labels = append(labels, m.Backward(s, seeds)...)
		ends[i] = len(labels)
	}
	b.fill(labels, ends)
	return b
}

func (b *Buckets) fill(labels []Label, ends []int) {
	for _, l := range labels {
		b.start[l.Node+1]++
	}
	for x := range b.m.t.n {
		b.start[x+1] += b.start[x]
	}
	b.target, b.cost = make([]int32, len(labels)), make([]uint64, len(labels))
	next := append([]int32(nil), b.start...)
	i := 0
	for target, end := range ends {
		for ; i < end; i++ {
			k := next[labels[i].Node]
			next[labels[i].Node]++
			b.target[k], b.cost[k] = int32(target), labels[i].Cost
		}
	}
}

// Row fills row, one entry a target, with the least costs from the seeds; Inf
// where there is no way.
func (b *Buckets) Row(s *Search, seeds []Label, row []uint64) {
	row = row[:b.count]
	for i := range row {
		row[i] = Inf
	}
	for _, l := range b.m.Forward(s, seeds) {
		lo, hi := b.start[l.Node], b.start[l.Node+1]
		cost := b.cost[lo:hi]
		for i, t := range b.target[lo:hi] {
			if sum := l.Cost + cost[i]; sum < row[t] {
				row[t] = sum
			}
		}
	}
}
