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

// Site is the stands of a batch and its works. Treat numbers the stands for
// treatment.
type Site struct {
	Quarter survey.Quarter
	Stands  []stand.Stand
	Treat   []int
	Works   []work.Work
	AtWater []bool         // by work: it touches the aquatic zone
	Onward  []drift.Onward // by work: what would float on from where it touches the zone
}

// Find returns a notice for every live stand within the distance of a work and,
// where a work would let fragments float on to stream that no stand reaches,
// for the stands whose fragments pass it. That a work is upstream of clean water
// takes three things: it touches the aquatic zone; fragments are there to move,
// because a live stand lies within the distance or a stand's fragments pass; and
// what floats on from it reaches stream that no stand does. Works that were over
// before the quarter began are left out. Sorted by start of the work, unknown
// first, work id, treatment order and stand id. Any number of workers gives the
// same. Cost is a search among the works for each live stand.
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
	found := make([][]Notice, len(site.Works)) // of each work by stand
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

// withInside adds a notice of a stand inside the work's area, or takes the
// distance of the one there to 0. Notices are by stand.
func withInside(notices []Notice, n Notice) []Notice {
	at, there := slices.BinarySearchFunc(notices, n.Stand, func(n Notice, stand int32) int { return cmp.Compare(n.Stand, stand) })
	if there {
		notices[at].Distance = 0
		return notices
	}
	return slices.Insert(notices, at, n)
}

// upstream adds to the notices of one work that it is above clean water, and
// the stands whose fragments pass it.
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

// leastClean is the length of clean stream in km that is worth a notice. Our
// choice: a metre, above what rounding leaves between two reaches that meet.
const leastClean = 0.001

func (site *Site) compare(a, b Notice) int {
	v, w := &site.Works[a.Work], &site.Works[b.Work]
	return cmp.Or(
		v.Start.Compare(w.Start), check.CompareNatural(v.ID, w.ID),
		cmp.Compare(site.Treat[a.Stand], site.Treat[b.Stand]),
		cmp.Compare(site.Stands[a.Stand].ID, site.Stands[b.Stand].ID),
	)
}

// standsPerTask keeps a task worth handing out. Our choice.
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
	_ = tasks.Wait() // no task fails
}
