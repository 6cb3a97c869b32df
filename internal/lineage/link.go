package lineage

import (
	"cmp"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/parallel"
	"driftreach/internal/stand"
)

// linker looks for links.
type linker struct {
	known    []Known
	stands   []stand.Stand
	settings Settings
	workers  int
	index    boxes // of the known stands' footprints
}

func newLinker(known []Known, stands []stand.Stand, s Settings, workers int) *linker {
	l := &linker{known: known, stands: stands, settings: s, workers: workers}
	for k := range known {
		if box, ok := boxOf(known[k].Footprint); ok {
			l.index.add(box, int32(k))
		}
	}
	return l
}

// boxOf returns the box of a footprint in degrees, not ok for an empty one.
func boxOf(footprint stand.Outline) (orb.Bound, bool) {
	box := footprint.Bound()
	return box, box != orb.Bound{}
}

// byGround links stands whose footprints share enough of the smaller one's
// ground, by stand, then known.
func (l *linker) byGround() []Link {
	return l.each(func(_, _ int32) bool { return true }, 0, func(i int32, mine plot, frame earth.Frame, k int32) (Link, bool) {
		theirs := plotIn(frame, l.known[k].Footprint.Polygons())
		shared, share := mine.shared(theirs)
		return Link{Known: k, Stand: i, Shared: shared}, share >= l.settings.OverlapShare
	})
}

// byDistance links what is left without a link: nearest first, one to one.
func (l *linker) byDistance(links []Link) []Link {
	linkedKnown, linkedStand := make([]bool, len(l.known)), make([]bool, len(l.stands))
	for _, link := range links {
		linkedKnown[link.Known], linkedStand[link.Stand] = true, true
	}
	free := func(i, k int32) bool { return !linkedStand[i] && !linkedKnown[k] }
	near := l.each(free, l.settings.JoinDistance, func(i int32, mine plot, frame earth.Frame, k int32) (Link, bool) {
		d := mine.apart(plotIn(frame, l.known[k].Footprint.Polygons()))
		return Link{Known: k, Stand: i, Apart: d}, d <= l.settings.JoinDistance
	})
	slices.SortFunc(near, l.byClaim)
	for _, link := range near {
		if !linkedKnown[link.Known] && !linkedStand[link.Stand] {
			linkedKnown[link.Known], linkedStand[link.Stand] = true, true
			links = append(links, link)
		}
	}
	return links
}

// byClaim orders links by who is first to go on under the known stand's id. The
// index of a mapped stand is that of its smallest record.
func (l *linker) byClaim(a, b Link) int {
	first := func(absent bool) int {
		if absent {
			return 1
		}
		return 0
	}
	return cmp.Or(
		cmp.Compare(first(l.known[a.Known].Absent), first(l.known[b.Known].Absent)),
		cmp.Compare(b.Shared, a.Shared), cmp.Compare(a.Apart, b.Apart),
		strings.Compare(l.known[a.Known].ID, l.known[b.Known].ID), cmp.Compare(a.Stand, b.Stand))
}

// pairing says whether a mapped stand, as a plot in its own frame, and a known one
// are linked.
type pairing func(i int32, mine plot, frame earth.Frame, k int32) (Link, bool)

// each tries every mapped stand with every known one whose box comes within reach,
// of pairs that are wanted, and returns the links by stand, then known.
func (l *linker) each(wanted func(i, k int32) bool, reach geo.Meters, try pairing) []Link {
	found := make([][]Link, len(l.stands))
	inSpans(len(l.stands), l.workers, func(i int) {
		box, ok := boxOf(l.stands[i].Footprint)
		if !ok {
			return
		}
		candidates := slices.DeleteFunc(l.index.touching(grown(box, reach)), func(k int32) bool { return !wanted(int32(i), k) })
		if len(candidates) == 0 {
			return
		}
		frame := earth.NewFrame(l.stands[i].Center)
		mine := plotIn(frame, l.stands[i].Footprint.Polygons())
		for _, k := range candidates {
			if link, ok := try(int32(i), mine, frame, k); ok {
				found[i] = append(found[i], link)
			}
		}
	})
	return slices.Concat(found...)
}

// perSpan keeps a task large enough to be worth handing out. Our choice.
const perSpan = 64

// inSpans calls do for 0 to n-1 by up to workers goroutines.
func inSpans(n, workers int, do func(i int)) {
	var tasks parallel.Group
	tasks.SetLimit(max(1, workers))
	for first := 0; first < n; first += perSpan {
		tasks.Go(func() error {
			for i := first; i < min(n, first+perSpan); i++ {
				do(i)
			}
			return nil
		})
	}
	_ = tasks.Wait() // no task fails
}
