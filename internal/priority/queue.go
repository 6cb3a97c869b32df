package priority

// entry is a work in a queue with what is weighed for it.
type entry struct {
	work, first     int32
	exposure, acres float64
}

// ratio is exposure taken away per acre. What costs no acres comes first when
// it takes something away, last when it does not.
func (e entry) ratio() (class int, perAcre float64) {
	switch {
	case e.acres > 0:
		return 1, e.exposure / e.acres
	case e.exposure > 0:
		return 2, 0
	}
	return 0, 0
}

// queue has the entry with the best ratio on top, ties to the smaller first
// stand. With a weigher it keeps each work's place there.
type queue struct {
	w       *weigher
	entries []entry
}

// Len implements heap.Interface.
func (q *queue) Len() int { return len(q.entries) }

// Less implements heap.Interface.
func (q *queue) Less(i, j int) bool {
	a, b := q.entries[i], q.entries[j]
	classA, ratioA := a.ratio()
	classB, ratioB := b.ratio()
	switch {
	case classA != classB:
		return classA > classB
	case ratioA != ratioB:
		return ratioA > ratioB
	}
	return a.first < b.first
}

// Swap implements heap.Interface.
func (q *queue) Swap(i, j int) {
	q.entries[i], q.entries[j] = q.entries[j], q.entries[i]
	q.place(i)
	q.place(j)
}

// Push implements heap.Interface.
func (q *queue) Push(x any) {
	q.entries = append(q.entries, x.(entry))
	q.place(len(q.entries) - 1)
}

// Pop implements heap.Interface.
func (q *queue) Pop() any {
	last := q.entries[len(q.entries)-1]
	q.entries = q.entries[:len(q.entries)-1]
	if q.w != nil {
		q.w.at[last.work] = -1
	}
	return last
}

func (q *queue) place(i int) {
	if q.w != nil {
		q.w.at[q.entries[i].work] = i
	}
}
