package lineage

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/internal/stand"
)

// Separation is a correction saying that a known stand is not the same as another known stand, or
// as a find.
type Separation struct {
	Known int32
	Other int32 // a known stand; -1 for a find
	Find  int32 // a record of this quarter; -1 for a known stand
}

// SetApart divides the mapped stands that come within the join distance of two known stands
// declared different, and bars links between a part and the stand it is not. Of two known stands,
// each record goes to the nearer one, a tie to the first. Finds declared different from a known
// stand become a stand by themselves. build measures the parts. Stands stay sorted by their
// smallest record. The result does not depend on the order of separations. It looks at every mapped
// stand for each separation.
func SetApart(before Before, now Now, all []Separation, s Settings, build func(members []int32) stand.Stand) Now {
	if len(all) == 0 {
		return now
	}
	c := cutter{before: before, now: now, settings: s, build: build}
	for i := range now.Stands {
		c.parts = append(c.parts, part{stand: now.Stands[i]})
	}
	all = slices.Clone(all)
	slices.SortFunc(all, func(a, b Separation) int {
		return cmp.Or(cmp.Compare(b.Find, a.Find), cmp.Compare(a.Known, b.Known), cmp.Compare(a.Other, b.Other))
	})
	for first := 0; first < len(all); {
		last := first + 1
		for last < len(all) && all[first].Find >= 0 && all[last].Find >= 0 && all[last].Known == all[first].Known {
			last++
		}
		if all[first].Find >= 0 {
			c.finds(all[first:last])
		} else {
			c.stands(all[first].Known, all[first].Other)
		}
		first = last
	}
	return c.done()
}

// part is a mapped stand or a part of one.
type part struct {
	stand  stand.Stand
	barred []int32 // known stands it must not be linked to
}

type cutter struct {
	before   Before
	now      Now
	settings Settings
	build    func(members []int32) stand.Stand
	parts    []part
}

// finds separates finds from one known stand.
func (c *cutter) finds(all []Separation) {
	known := all[0].Known
	own := func(m int32) bool {
		return slices.ContainsFunc(all, func(s Separation) bool { return s.Find == m })
	}
	for i := range c.parts {
		if slices.ContainsFunc(c.parts[i].stand.Members, own) {
			c.cut(i, own, known, -1)
		}
	}
}

// stands separates two known stands.
func (c *cutter) stands(a, b int32) {
	a, b = min(a, b), max(a, b)
	boxes := [2]orb.Bound{}
	for at, k := range []int32{a, b} {
		box, ok := boxOf(c.before.Known[k].Footprint)
		if !ok || c.before.Known[k].Out != "" {
			return
		}
		boxes[at] = grown(box, c.settings.JoinDistance)
	}
	for i := range c.parts {
		st := &c.parts[i].stand
		box, ok := boxOf(st.Footprint)
		if !ok || !meets(boxes[0], box) || !meets(boxes[1], box) {
			continue
		}
		frame := earth.NewFrame(st.Center)
		mine := plotIn(frame, st.Footprint.Polygons())
		ground := [2]plot{plotIn(frame, c.before.Known[a].Footprint.Polygons()), plotIn(frame, c.before.Known[b].Footprint.Polygons())}
		if mine.apart(ground[0]) > c.settings.JoinDistance || mine.apart(ground[1]) > c.settings.JoinDistance {
			continue
		}
		c.cut(i, func(m int32) bool {
			at := c.spot(frame, m)
			return ground[1].apart(at) < ground[0].apart(at)
		}, a, b)
	}
}

// meets says whether two boxes in degrees meet, on any turn of the globe.
func meets(a, b orb.Bound) bool {
	for _, x := range wrapped(a) {
		for _, y := range wrapped(b) {
			if x.Intersects(y) {
				return true
			}
		}
	}
	return false
}

// spot is a record's position as a tiny plot.
func (c *cutter) spot(frame earth.Frame, record int32) plot {
	const half = 0.01 // metres
	xy := frame.Forward(c.now.Records[record].Position)
	box := orb.Bound{Min: orb.Point{xy[0] - half, xy[1] - half}, Max: orb.Point{xy[0] + half, xy[1] + half}}
	return plot{orb.MultiPolygon{box.ToPolygon()}, geo.SquareMeters(4 * half * half)}
}

// cut removes the members selected by away from a part and makes them a part by themselves. That
// part is barred from stand notAway, and the rest from stand notRest; -1 for none.
func (c *cutter) cut(i int, away func(m int32) bool, notAway, notRest int32) {
	var out, rest []int32
	for _, m := range c.parts[i].stand.Members {
		if away(m) {
			out = append(out, m)
		} else {
			rest = append(rest, m)
		}
	}
	bar := func(p *part, known int32) {
		if known >= 0 {
			p.barred = append(p.barred, known)
		}
	}
	switch {
	case len(rest) == 0:
		bar(&c.parts[i], notAway)
	case len(out) == 0:
		bar(&c.parts[i], notRest)
	default:
		p := &c.parts[i]
		fresh := part{stand: c.build(out), barred: slices.Clone(p.barred)}
		p.stand = c.build(rest)
		bar(p, notRest)
		bar(&fresh, notAway)
		c.parts = append(c.parts, fresh)
	}
}

// done sorts the parts.
func (c *cutter) done() Now {
	slices.SortFunc(c.parts, func(a, b part) int { return cmp.Compare(a.first(), b.first()) })
	now := c.now
	now.Stands = make([]stand.Stand, len(c.parts))
	for i, p := range c.parts {
		now.Stands[i] = p.stand
		for _, k := range p.barred {
			now.Barred = append(now.Barred, Pair{k, int32(i)})
		}
	}
	return now
}

// first is the smallest record of a part.
func (p *part) first() int32 {
	if len(p.stand.Members) == 0 {
		return math.MaxInt32
	}
	return p.stand.Members[0]
}
