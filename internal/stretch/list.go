package stretch

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
	"strings"

	"driftreach/geo"
)

// sample draws the random part of the list: a number of stretches, each with the same chance. The
// draw depends only on ids and seed.
func sample(all []Stretch, s Settings) {
	n := min(len(all), int(math.Round(float64(s.RandomShare)*float64(s.ListShare)*float64(len(all)))))
	if n == 0 && s.RandomShare > 0 && len(all) > 0 {
		n = 1
	}
	byID := make([]int, len(all))
	for i := range byID {
		byID[i] = i
	}
	slices.SortFunc(byID, func(a, b int) int { return strings.Compare(all[a].ID, all[b].ID) })
	draws := rand.New(rand.NewPCG(s.Seed, 0)) // the second seed stays 0: users set only one
	for i := range n {
		k := i + draws.IntN(len(byID)-i)
		byID[i], byID[k] = byID[k], byID[i]
		all[byID[i]].Draw = int32(i + 1)
	}
	for i := range all {
		all[i].Chance = float64(n) / float64(len(all))
	}
}

// inOrder returns all stretches in the order for the next survey: first the list, on which the
// reasons take turns, then the rest by rank. It takes all over.
func inOrder(all []Stretch, s Settings) []Stretch {
	l := newList(all)
	budget := l.total * geo.Meters(s.ListShare)
	random := l.take(l.drawn, geo.Meters(math.Inf(1)))
	places := l.take(l.places, budget*geo.Meters(s.PlacesShare))
	ranked := l.take(l.ranked, max(1, budget-l.taken))
	if n := len(ranked); n > 0 {
		// listed for another reason, but ranks among these: placed by its rank
		last := slices.Index(l.ranked, ranked[n-1])
		ranked = slices.DeleteFunc(slices.Clone(l.ranked[:last+1]), func(i int) bool { return !l.on[i] })
		by := make(map[int]bool, len(ranked))
		for _, i := range ranked {
			by[i] = true
		}
		other := func(i int) bool { return by[i] }
		random, places = slices.DeleteFunc(random, other), slices.DeleteFunc(places, other)
	}
	order := make([]int32, 0, len(all))
	l.turns(func(i int) {
		all[i].Listed = true
		order = append(order, int32(i))
	}, l.queue(ranked), l.queue(places), l.queue(random))

	waiting := l.without(l.places)
	for _, i := range waiting {
		l.on[i] = true
	}
	behind, more := l.queue(l.without(l.ranked)), l.queue(waiting)
	behind.weight, more.weight = max(0.01, float64(1-s.PlacesShare)), max(0.01, float64(s.PlacesShare))
	l.turns(func(i int) { order = append(order, int32(i)) }, behind, more)
	arrange(all, order)
	return all
}

// arrange moves all[order[i]] to index i for all i, in place: a copy of all stretches of a country would
// be gigabytes. It destroys order.
func arrange(all []Stretch, order []int32) {
	for start := range order {
		if order[start] < 0 {
			continue
		}
		held, at := all[start], start
		for {
			from := int(order[at])
			order[at] = -1
			if from == start {
				all[at] = held
				break
			}
			all[at], at = all[from], from
		}
	}
}

// list holds all stretches, by index, as sorted for each reason.
type list struct {
	all                   []Stretch
	ranked, places, drawn []int
	on                    []bool     // on the list
	total, taken          geo.Meters // in all, and on the list
}

func newList(all []Stretch) *list {
	l := &list{all: all, on: make([]bool, len(all)), ranked: make([]int, len(all))}
	for i := range all {
		l.ranked[i] = i
		l.total += all[i].Length
	}
	slices.SortFunc(l.ranked, func(a, b int) int { return byExposure(&all[a], &all[b]) })
	var places, heads []int
	for _, i := range l.ranked {
		switch {
		case all[i].Above || len(all[i].Works) > 0:
			places = append(places, i)
		case all[i].Head:
			heads = append(heads, i)
		}
		if all[i].Draw > 0 {
			l.drawn = append(l.drawn, i)
		}
	}
	unseen := func(a, b int) int { return all[a].Last.compare(all[b].Last) }
	slices.SortStableFunc(places, unseen)
	slices.SortStableFunc(heads, unseen)
	l.turns(func(i int) { l.places = append(l.places, i) }, &queue{rows: places, weight: 1}, &queue{rows: heads, weight: 1})
	slices.SortFunc(l.drawn, func(a, b int) int { return cmp.Compare(all[a].Draw, all[b].Draw) })
	return l
}

// take puts stretches from the front of from on the list, up to a length: to the nearest stretch, and at least one if up is above 0.
func (l *list) take(from []int, up geo.Meters) (rows []int) {
	length := geo.Meters(0)
	for _, i := range from {
		if up <= 0 || length > 0 && length+l.all[i].Length/2 > up {
			break
		}
		if !l.on[i] {
			l.on[i] = true
			rows = append(rows, i)
			length += l.all[i].Length
		}
	}
	l.taken += length
	return rows
}

// without returns the stretches that are not on the list.
func (l *list) without(of []int) []int {
	return slices.DeleteFunc(slices.Clone(of), func(i int) bool { return l.on[i] })
}

// queue is stretches waiting for their turn.
type queue struct {
	rows   []int
	weight float64    // its share of the turns, by length
	done   geo.Meters // what it has had so far
}

// queue makes a queue weighted by the length of its stretches.
func (l *list) queue(rows []int) *queue {
	q := &queue{rows: rows}
	for _, i := range rows {
		q.weight += float64(l.all[i].Length)
	}
	return q
}

// turns takes stretches from several queues in turn, so that at any row each queue has had about
// its weighted share of the length.
func (l *list) turns(add func(int), queues ...*queue) {
	for {
		var next *queue
		for _, q := range queues {
			if len(q.rows) > 0 && (next == nil || float64(q.done)/q.weight < float64(next.done)/next.weight) {
				next = q
			}
		}
		if next == nil {
			return
		}
		i := next.rows[0]
		next.rows = next.rows[1:]
		next.done += l.all[i].Length
		add(i)
	}
}

// byExposure ranks stretches by the exposure since their last look, per kilometre to walk.
func byExposure(a, b *Stretch) int {
	return cmp.Or(
		-cmp.Compare(a.PerKm(), b.PerKm()),
		a.Last.compare(b.Last),
		-cmp.Compare(float64(a.Now)/float64(a.Length), float64(b.Now)/float64(b.Length)),
		strings.Compare(a.ID, b.ID),
	)
}
