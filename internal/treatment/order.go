package treatment

import "container/heap"

// Job is what the order weighs about one stand.
type Job struct {
	Reaches []int32 // the stands its fragments reach, ascending
	ReachKm float64 // stream its treatment protects
	Acres   float64 // infested acres to treat
}

// Order returns each stand's number in the treatment order, 1 first. A stand
// never comes after one that its fragments reach; among stands that are free
// to be next, the one that protects more stream per acre goes first, ties to
// the earlier stand. Stands strung along the same water can reach each other:
// those are one piece of work and share a number. Cost is linear in the pairs
// of stands plus n log n.
func Order(jobs []Job) []int {
	group, count := mutual(jobs)
	works := gather(jobs, group, count)
	blockers := make([]int, count)
	for g := range works {
		for _, below := range works[g].below {
			blockers[below]++
		}
	}
	ready := &queue{works: works}
	for g := range works {
		if blockers[g] == 0 {
			heap.Push(ready, int32(g))
		}
	}
	rank := make([]int, count)
	for next := 1; ready.Len() > 0; next++ {
		g := heap.Pop(ready).(int32)
		rank[g] = next
		for _, below := range works[g].below {
			if blockers[below]--; blockers[below] == 0 {
				heap.Push(ready, below)
			}
		}
	}
	out := make([]int, len(jobs))
	for i := range jobs {
		out[i] = rank[group[i]]
	}
	return out
}

// work is a group of stands treated as one.
type work struct {
	first    int32 // its smallest stand
	km, area float64
	below    []int32 // works its fragments reach, a pair of stands each
}

// gather sums the jobs of each group.
func gather(jobs []Job, group []int32, count int) []work {
	works := make([]work, count)
	for g := range works {
		works[g].first = -1
	}
	for i := range jobs {
		w := &works[group[i]]
		if w.first < 0 {
			w.first = int32(i)
		}
		w.km += jobs[i].ReachKm
		w.area += jobs[i].Acres
		for _, j := range jobs[i].Reaches {
			if group[j] != group[i] {
				w.below = append(w.below, group[j])
			}
		}
	}
	return works
}

// queue holds the works free to be next, the one that protects most per acre
// on top.
type queue struct {
	works []work
	ready []int32
}

func (q *queue) Len() int      { return len(q.ready) }
func (q *queue) Swap(i, j int) { q.ready[i], q.ready[j] = q.ready[j], q.ready[i] }
func (q *queue) Push(x any)    { q.ready = append(q.ready, x.(int32)) }

func (q *queue) Pop() any {
	last := q.ready[len(q.ready)-1]
	q.ready = q.ready[:len(q.ready)-1]
	return last
}

func (q *queue) Less(i, j int) bool {
	a, b := &q.works[q.ready[i]], &q.works[q.ready[j]]
	// km/area compared across, so that an area of 0 needs no special case
	if l, r := a.km*b.area, b.km*a.area; l != r {
		return l > r
	}
	return a.first < b.first
}
