package lineage

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/parallel"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// linker finds the links.
type linker struct {
	known      []Known
	stands     []stand.Stand
	settings   Settings
	workers    int
	index      boxes        // of the known stands' footprints
	unsureThen []geo.Meters // by known stand: uncertainty of its positions
	unsureNow  []geo.Meters // by mapped stand: uncertainty of its positions
	farthest   geo.Meters   // largest joint uncertainty of any two stands
	same       []Pair
	barred     map[Pair]bool
}

func newLinker(before Before, now Now, s Settings, workers int) *linker {
	l := &linker{known: before.Known, stands: now.Stands, settings: s, workers: workers, same: now.Same, barred: map[Pair]bool{}}
	for _, p := range now.Barred {
		l.barred[p] = true
	}
	l.unsureThen, l.unsureNow = make([]geo.Meters, len(before.Known)), make([]geo.Meters, len(now.Stands))
	for k := range before.Known {
		if box, ok := boxOf(before.Known[k].Footprint); ok && before.Known[k].Out == "" {
			l.index.add(box, int32(k))
		}
		l.unsureThen[k] = unsure(before.Records, before.Known[k].Members, s)
	}
	for i := range now.Stands {
		l.unsureNow[i] = unsure(now.Records, now.Stands[i].Members, s)
	}
	l.farthest = geo.Meters(math.Hypot(most(l.unsureThen), most(l.unsureNow)))
	return l
}

func most(all []geo.Meters) float64 {
	largest := geo.Meters(0)
	for _, v := range all {
		largest = max(largest, v)
	}
	return float64(largest)
}

// uncertainty returns the position uncertainty of a record.
func uncertainty(r *survey.Record, s Settings) geo.Meters {
	if r.Uncertainty > 0 {
		return r.Uncertainty
	}
	return s.Uncertainty
}

// unsure returns the position uncertainty of a stand: the root mean square of its records', at most
// the join distance, within which stands are not distinguished.
func unsure(records []survey.Record, members []int32, s Settings) geo.Meters {
	if len(members) == 0 {
		return s.Uncertainty
	}
	sum := 0.0
	for _, m := range members {
		u := float64(uncertainty(&records[m], s))
		sum += u * u
	}
	return min(s.JoinDistance, geo.Meters(math.Sqrt(sum/float64(len(members)))))
}

// all returns every link, in the order of claims.
func (l *linker) all() []Link {
	links := l.byDistance(l.byUncertainty(l.byWord(l.byGround())))
	slices.SortFunc(links, l.byClaim)
	return links
}

// byGround links stands whose footprints or perimeters share enough of the smaller one's ground.
func (l *linker) byGround() []Link {
	always := func(_, _ int32) bool { return true }
	return l.each(always, 0, func(i int32, mine *site, k int32) (Link, bool) {
		theirs := plotIn(mine.frame, l.known[k].Footprint.Polygons())
		shared, share := mine.plot.shared(theirs)
		link := Link{Known: k, Stand: i, Shared: shared}
		gaps, theirGaps := gappy(&l.stands[i]), gappy(&l.known[k].Stand)
		wanted, join := l.settings.OverlapShare, l.settings.JoinDistance
		if share < wanted && (gaps || theirGaps) && (share > 0 || mine.plot.meets(theirs, gaps, theirGaps, join)) && mine.plot.mayShare(theirs, wanted, join) {
			share = mine.shareAbout(theirs, gaps, theirGaps, join)
		}
		return link, share >= wanted
	})
}

// byWord adds the links made by corrections.
func (l *linker) byWord(links []Link) []Link {
	for _, p := range l.same {
		if l.barred[p] || slices.ContainsFunc(links, func(link Link) bool { return Pair{link.Known, link.Stand} == p }) {
			continue
		}
		frame := earth.NewFrame(l.stands[p.Stand].Center)
		d := plotIn(frame, l.stands[p.Stand].Footprint.Polygons()).apart(plotIn(frame, l.known[p.Known].Footprint.Polygons()))
		links = append(links, Link{Known: p.Known, Stand: p.Stand, Apart: d})
	}
	return links
}

// gappy says whether a stand's general perimeter is larger than its footprint.
func gappy(s *stand.Stand) bool { return s.Gross > s.Infested }

// byUncertainty links each stand without a link to the nearest stand within the uncertainty of both
// positions.
func (l *linker) byUncertainty(links []Link) []Link {
	linkedKnown, linkedStand := l.linked(links)
	either := func(i, k int32) bool { return !linkedStand[i] || !linkedKnown[k] }
	near := l.each(either, l.farthest, func(i int32, mine *site, k int32) (Link, bool) {
		reach := geo.Meters(math.Hypot(float64(l.unsureNow[i]), float64(l.unsureThen[k])))
		d := mine.plot.apart(plotIn(mine.frame, l.known[k].Footprint.Polygons()))
		return Link{Known: k, Stand: i, Apart: d}, d <= reach
	})
	slices.SortFunc(near, l.byClaim)
	haveKnown, haveStand := slices.Clone(linkedKnown), slices.Clone(linkedStand)
	for _, link := range near {
		// pairs in which neither has a link come before the others
		if !haveKnown[link.Known] && !haveStand[link.Stand] {
			haveKnown[link.Known], haveStand[link.Stand] = true, true
			links = append(links, link)
		}
	}
	for _, link := range near {
		if !haveKnown[link.Known] || !haveStand[link.Stand] {
			haveKnown[link.Known], haveStand[link.Stand] = true, true
			links = append(links, link)
		}
	}
	return links
}

// byDistance links stands still without a link: nearest first, one to one.
func (l *linker) byDistance(links []Link) []Link {
	linkedKnown, linkedStand := l.linked(links)
	free := func(i, k int32) bool { return !linkedStand[i] && !linkedKnown[k] }
	near := l.each(free, l.settings.JoinDistance, func(i int32, mine *site, k int32) (Link, bool) {
		d := mine.plot.apart(plotIn(mine.frame, l.known[k].Footprint.Polygons()))
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

// linked returns which known and which mapped stands have a link.
func (l *linker) linked(links []Link) (known, stands []bool) {
	known, stands = make([]bool, len(l.known)), make([]bool, len(l.stands))
	for _, link := range links {
		known[link.Known], stands[link.Stand] = true, true
	}
	return known, stands
}

// byClaim orders links by their claim to the known stand's id. Mapped stands are indexed in the
// order of their smallest record.
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

// site is a mapped stand as a plot in its own frame.
type site struct {
	frame     earth.Frame
	plot      plot
	perimeter *plot // computed on first use
}

// about returns the stand's general perimeter.
func (s *site) about(join geo.Meters) plot {
	if s.perimeter == nil {
		p := s.plot.perimeter(join)
		s.perimeter = &p
	}
	return *s.perimeter
}

// shareAbout is the share of the smaller one's ground that the general perimeters of the stand and of
// another have in common. gaps and theirGaps say whether these are larger than their footprints.
func (s *site) shareAbout(theirs plot, gaps, theirGaps bool, join geo.Meters) float64 {
	small, large, wide := s.plot, theirs, theirGaps
	if theirs.size < s.plot.size {
		small, large, wide = theirs, s.plot, gaps
		if theirGaps {
			small = theirs.perimeter(join)
		}
	} else if gaps {
		small = s.about(join)
	}
	switch {
	case !wide:
	case small.size <= large.size: // so that no size of the large perimeter is needed
		large.areas = large.about(small, join).perimeter(join).areas
	default:
		large = large.perimeter(join)
	}
	_, share := small.shared(large)
	return share
}

// pairing says whether a mapped stand and a known stand are linked.
type pairing func(i int32, mine *site, k int32) (Link, bool)

// each tries every wanted pair of a mapped stand and a known stand whose box comes within reach. It
// returns the links sorted by mapped stand, then known stand.
func (l *linker) each(wanted func(i, k int32) bool, reach geo.Meters, try pairing) []Link {
	found := make([][]Link, len(l.stands))
	inSpans(len(l.stands), l.workers, func(i int) {
		box, ok := boxOf(l.stands[i].Footprint)
		if !ok {
			return
		}
		candidates := slices.DeleteFunc(l.index.touching(grown(box, reach)), func(k int32) bool {
			return !wanted(int32(i), k) || len(l.barred) > 0 && l.barred[Pair{k, int32(i)}]
		})
		if len(candidates) == 0 {
			return
		}
		mine := &site{frame: earth.NewFrame(l.stands[i].Center)}
		mine.plot = plotIn(mine.frame, l.stands[i].Footprint.Polygons())
		for _, k := range candidates {
			if link, ok := try(int32(i), mine, k); ok {
				found[i] = append(found[i], link)
			}
		}
	})
	return slices.Concat(found...)
}

// perSpan makes a task large enough to be worth handing out. Our choice.
const perSpan = 64

// inSpans calls do for 0 to n-1, using the given number of workers.
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
	_ = tasks.Wait() // no task returns an error
}
