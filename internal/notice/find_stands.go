package notice

import (
	"cmp"
	"slices"

	"driftreach/geo/parallel"
	"driftreach/internal/check"
	"driftreach/internal/drift"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
	"driftreach/internal/work"
)

// Site is the stands of a batch and the planned works. Treat is the number of each stand in the
// treatment order.
type Site struct {
	Quarter survey.Quarter
	Stands  []stand.Stand
	Treat   []int
	Works   []work.Work
	AtWater []bool         // by work: whether it touches the aquatic zone
	Onward  []drift.Onward // by work: what fragments would reach from where it touches the zone
}

// Find returns a notice for every live stand within the notice distance of a work. A work is also
// upstream of clean water if three things are true: it touches the aquatic zone; there are fragments to
// move, because a live stand is within the distance or a stand's fragments pass the work; and fragments
// from the work would reach stream that no stand's fragments reach. For such a work Find also returns
// notices for the stands whose fragments pass it. Works that ended before the quarter are left out.
// Notices are sorted by start of the work (unknown first), work id, treatment order and stand id. The
// result is the same for any number of workers. The cost is a search among the works for each live
// stand.
func Find(site Site, s Settings, workers int) []Notice {
	begin := site.Quarter.Begin()
	wanted := func(i int) bool { return !site.Works[i].Over(begin) }
	g := newGround(site.Works, wanted)
	near := make([][]met, len(site.Stands))
	inParts(len(site.Stands), workers, func(i int) {
		if Live(&site.Stands[i]) {
			near[i] = g.near(&site.Stands[i], s.Distance)
		}
	})
	found := make([][]Notice, len(site.Works)) // by work, sorted by stand
	for i, works := range near {
		for _, m := range works {
			found[m.work] = append(found[m.work], Notice{Work: m.work, Stand: int32(i), Distance: m.distance, Near: true})
		}
	}
	for i, stands := range inside(site.Works, site.Stands, wanted) {
		for _, k := range stands {
			found[i] = withInside(found[i], Notice{Work: int32(i), Stand: k, Near: true})
		}
	}
	var out []Notice
	for i := range site.Works {
		if wanted(i) {
			out = append(out, site.upstream(int32(i), found[i])...)
		}
	}
	slices.SortFunc(out, site.compare)
	return out
}

// withInside adds a notice for a stand inside the work's area, or sets the distance of its existing
// notice to 0. Notices are sorted by stand.
func withInside(notices []Notice, n Notice) []Notice {
	at, there := slices.BinarySearchFunc(notices, n.Stand, func(n Notice, stand int32) int { return cmp.Compare(n.Stand, stand) })
	if there {
		notices[at].Distance = 0
		return notices
	}
	return slices.Insert(notices, at, n)
}

// upstream marks the notices of one work as above clean water, and adds the stands whose fragments pass
// it.
func (site *Site) upstream(work int32, near []Notice) []Notice {
	if !site.AtWater[work] {
		return near
	}
	onward := &site.Onward[work]
	clean := onward.CleanKm > leastClean && len(near)+len(onward.Passing) > 0
	if clean {
		for _, i := range onward.Passing {
			if !slices.ContainsFunc(near, func(n Notice) bool { return n.Stand == i }) {
				near = append(near, Notice{Work: work, Stand: i, Distance: footprintOf(&site.Stands[i]).to(&site.Works[work])})
			}
		}
	}
	for k := range near {
		near[k].AtWater, near[k].Upstream, near[k].CleanKm = true, clean, onward.CleanKm
	}
	return near
}

// leastClean is the shortest length of clean stream, in km, that causes a notice. Our choice: one
// metre, more than rounding leaves between two adjoining reaches.
const leastClean = 0.001

func (site *Site) compare(a, b Notice) int {
	v, w := &site.Works[a.Work], &site.Works[b.Work]
	return cmp.Or(
		v.Start.Compare(w.Start), check.CompareNatural(v.ID, w.ID),
		cmp.Compare(site.Treat[a.Stand], site.Treat[b.Stand]),
		cmp.Compare(site.Stands[a.Stand].ID, site.Stands[b.Stand].ID),
	)
}

// standsPerTask makes a task large enough to be worth starting. Our choice.
const standsPerTask = 256

// inParts calls do for 0 to n-1.
func inParts(n, workers int, do func(i int)) {
	var tasks parallel.Group
	tasks.SetLimit(max(1, workers))
	for first := 0; first < n; first += standsPerTask {
		tasks.Go(func() error {
			for i := first; i < min(first+standsPerTask, n); i++ {
				do(i)
			}
			return nil
		})
	}
	_ = tasks.Wait() // no task returns an error
}
