package priority

import (
	"container/heap"

	"driftreach/geo/knapsack"
)

// Job is what the order weighs about one stand.
type Job struct {
	Reaches  []int32 // the stands its fragments reach, ascending
	Exposure float64 // what treating it takes away: reach, weighted by what floats there
	Acres    float64 // to treat; 0 with an exposure of 0 for what was treated already
}

// Order returns each stand's number in the treatment order, 1 first. A stand
// never comes after one that its fragments reach. Within that, what takes away
// most exposure per acre goes first, a stand weighed together with the stands
// above it that must come before: the ratio rule for work under precedence
// (Sidney, Operations Research 23(2), 1975), exact where stands form chains.
// Ties go to the earlier stand. Stands strung along the same water can reach
// each other: those are one piece of work and share a number. Cost is n log n
// and, for each stand, a look at mostWeighed below it and as many above
// those.
func Order(jobs []Job) []int {
	group, count := knapsack.Mutual(len(jobs), func(i int32) []int32 { return jobs[i].Reaches })
	w := weigher{works: gather(jobs, group, count), seen: make([]int32, count), at: make([]int, count)}
	rank := w.schedule()
	out := make([]int, len(jobs))
	for i := range jobs {
		out[i] = rank[group[i]]
	}
	return out
}

// work is a group of stands treated as one.
type work struct {
	first           int32 // its smallest stand
	exposure, acres float64
	above, below    []int32 // works that reach it, and that it reaches
	done            bool
}

// gather sums the jobs of each group and links the groups.
func gather(jobs []Job, group []int32, count int) []work {
	works := make([]work, count)
	linked := make([]int32, count) // 1 + the last work linked to it: a pair once
	for g := range works {
		works[g].first = -1
	}
	for i := range jobs {
		w := &works[group[i]]
		if w.first < 0 {
			w.first = int32(i)
		}
		w.exposure += jobs[i].Exposure
		w.acres += jobs[i].Acres
	}
	for i := range jobs {
		g := group[i]
		for _, j := range jobs[i].Reaches {
			if below := group[j]; below != g && linked[below] != g+1 {
				linked[below] = g + 1
				works[g].below = append(works[g].below, below)
				works[below].above = append(works[below].above, g)
			}
		}
	}
	return works
}

// mostWeighed bounds how many works above one are weighed with it, and how many
// below are weighed again. Our choice: beyond it the rule still holds, the
// ratios are those of the nearest.
const mostWeighed = 64

// weigher chooses works one set at a time.
type weigher struct {
	works []work
	queue queue
	stamp int32
	seen  []int32 // by work: stamp of the last visit
	at    []int   // by work: place in the queue, -1 outside
}

// schedule numbers the works.
func (w *weigher) schedule() []int {
	rank := make([]int, len(w.works))
	for g := range w.works {
		w.at[g] = -1
	}
	w.queue = queue{w: w}
	for g := range w.works {
		w.weigh(int32(g))
	}
	next := 1
	for w.queue.Len() > 0 {
		top := w.queue.entries[0].work
		if w.weigh(top); w.queue.entries[0].work != top {
			continue // it was worth less than when it was weighed
		}
		set := w.unmet(top, len(w.works))
		if len(set) > 1 {
			set = set[1:] // the way is opened first; what goes next is weighed again
		}
		for _, g := range w.inOrder(set) {
			rank[g] = next
			next++
		}
	}
	return rank
}

// unmet lists a work and those above it that are not done, at most so many.
func (w *weigher) unmet(g int32, most int) []int32 {
	w.stamp++
	w.seen[g] = w.stamp
	set := []int32{g}
	for i := 0; i < len(set) && len(set) < most; i++ {
		for _, a := range w.works[set[i]].above {
			if !w.works[a].done && w.seen[a] != w.stamp && len(set) < most {
				w.seen[a] = w.stamp
				set = append(set, a)
			}
		}
	}
	return set
}

// weigh puts a work into the queue by the ratio of its unmet set, or moves it.
func (w *weigher) weigh(g int32) {
	e := entry{work: g, first: w.works[g].first}
	for _, member := range w.unmet(g, mostWeighed) {
		e.exposure += w.works[member].exposure
		e.acres += w.works[member].acres
	}
	if at := w.at[g]; at >= 0 {
		w.queue.entries[at] = e
		heap.Fix(&w.queue, at)
		return
	}
	heap.Push(&w.queue, e)
}

// inOrder does a set of works, each once those above it are done and, among the
// free, the best ratio first. Then it weighs again what they reach.
func (w *weigher) inOrder(set []int32) []int32 {
	blockers := make(map[int32]int, len(set))
	for _, g := range set {
		blockers[g] = 0
		heap.Remove(&w.queue, w.at[g])
	}
	for _, g := range set {
		for _, a := range w.works[g].above {
			if _, inside := blockers[a]; inside {
				blockers[g]++
			}
		}
	}
	free := queue{}
	for _, g := range set {
		if blockers[g] == 0 {
			heap.Push(&free, w.entry(g))
		}
	}
	out := make([]int32, 0, len(set))
	for free.Len() > 0 {
		g := heap.Pop(&free).(entry).work
		out = append(out, g)
		w.works[g].done = true
		for _, below := range w.works[g].below {
			if n, inside := blockers[below]; inside {
				if blockers[below] = n - 1; n == 1 {
					heap.Push(&free, w.entry(below))
				}
			}
		}
	}
	w.reweigh(out)
	return out
}

// entry is a work on its own.
func (w *weigher) entry(g int32) entry {
	return entry{work: g, first: w.works[g].first, exposure: w.works[g].exposure, acres: w.works[g].acres}
}

// reweigh weighs again, once each, the nearest works below those done.
func (w *weigher) reweigh(done []int32) {
	met := make(map[int32]bool)
	list := done
	for i := 0; i < len(list) && len(list) < len(done)+mostWeighed; i++ {
		for _, below := range w.works[list[i]].below {
			if !w.works[below].done && !met[below] {
				met[below] = true
				list = append(list, below)
			}
		}
	}
	for _, g := range list[len(done):] {
		w.weigh(g)
	}
}
