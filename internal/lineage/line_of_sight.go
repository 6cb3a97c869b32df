package lineage

import (
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/linear"
	"driftreach/geo/shape"
	"driftreach/internal/surveyed"
)

// sighted returns the ground seen from a line, in metres of the frame: ground within reach, less
// ground on the other bank.
func (v *viewer) sighted(path orb.LineString, reach geo.Meters, g *surveyed.Ground) orb.MultiPolygon {
	ground := shape.BufferLines([]orb.LineString{path}, []geo.Meters{reach}, roundSegments, 1)
	banked := g.Bank != surveyed.BothBanks
	barred := g.Method == surveyed.Foot && 2*v.widest >= v.settings.Barrier
	if v.evidence.Water.Paths.Len() == 0 || !banked && !barred {
		return ground
	}
	box := path.Bound().Pad(float64(reach))
	half := geo.Distance(box.Min, box.Max)/2 + v.widest
	var lines []orb.LineString
	var radii []geo.Meters
	for _, run := range v.water.Near(v.frame.Inverse(box.Center()), half) {
		width := v.evidence.Water.Half[run.Line]
		line := v.frame.ProjectLine(v.evidence.Water.Paths.At(int(run.Line))[run.First : run.Last+1])
		switch {
		case barred && 2*width >= v.settings.Barrier && shape.DistanceToLine(ground, line) == 0 && !channelled(path, line, width):
			radii = append(radii, width)
		case banked:
			radii = append(radii, sliver)
		default:
			continue
		}
		lines = append(lines, line)
		for _, on := range v.onward(run, line, 2*half) {
			lines, radii = append(lines, on), append(radii, sliver)
		}
	}
	if len(lines) == 0 {
		return ground
	}
	var out orb.MultiPolygon
	for _, part := range shape.Difference(ground, shape.BufferLines(lines, radii, roundSegments, 1)) {
		own := orb.MultiPolygon{part}
		if banked && !v.onBank(inside(own), g.Bank) || !banked && shape.DistanceToLine(own, path) > sliver {
			continue
		}
		out = append(out, part)
	}
	return out
}

// joinedWithin is the largest distance, in metres, at which another stream continues the end of
// one: the default snap distance. Our choice.
const joinedWithin = 1

// onward returns how a stream continues beyond an end of it in the run: to the stream that
// continues there, or else straight on for the given distance. The two banks must be distinguished
// there too; otherwise all ground around the end would count as one bank.
func (v *viewer) onward(run linear.Run, line orb.LineString, far geo.Meters) (out []orb.LineString) {
	path := v.evidence.Water.Paths.At(int(run.Line))
	reversed := slices.Clone(line)
	slices.Reverse(reversed)
	for _, end := range []struct {
		is   bool
		line orb.LineString // up to the end
	}{{run.First == 0, reversed}, {int(run.Last) == len(path)-1, line}} {
		n := len(end.line)
		if !end.is || n < 2 {
			continue
		}
		at, before := end.line[n-1], end.line[n-2]
		to, joined := v.goesOn(run.Line, at)
		if d := geo.Distance(at, before); !joined && d > 0 {
			t := float64(far / d)
			to = orb.Point{at[0] + t*(at[0]-before[0]), at[1] + t*(at[1]-before[1])}
		}
		if to != at {
			out = append(out, orb.LineString{at, to})
		}
	}
	return out
}

// goesOn returns the nearest place on another stream that continues the end of one, in metres of
// the frame; the end itself and false where there is none.
func (v *viewer) goesOn(stream int32, end orb.Point) (orb.Point, bool) {
	at, nearest, joined := end, geo.Meters(joinedWithin), false
	for _, run := range v.water.Near(v.frame.Inverse(end), joinedWithin) {
		if run.Line == stream {
			continue
		}
		path := v.frame.ProjectLine(v.evidence.Water.Paths.At(int(run.Line))[run.First : run.Last+1])
		if i, t, d := linear.NearestOnLine(end, path); d <= nearest && i+1 < len(path) {
			a, b := path[i], path[i+1]
			at, nearest, joined = orb.Point{a[0] + t*(b[0]-a[0]), a[1] + t*(b[1]-a[1])}, d, true
		}
	}
	return at, joined
}

// sliver is the width in metres of the cut along a stream that separates its banks. Our choice: too
// narrow to matter.
const sliver = 0.01

// channelled says whether a line follows the channel of a stream.
func channelled(path, stream orb.LineString, half geo.Meters) bool {
	for _, p := range path {
		for i := 0; i+1 < len(stream); i++ {
			if d, _ := geo.SegmentDistance(p, stream[i], stream[i+1]); d <= half {
				return true
			}
		}
	}
	return false
}

// inside returns a place in an area: the middle of its box if that is inside, else a place half way
// between two of its edges.
func inside(mp orb.MultiPolygon) orb.Point {
	middle := mp.Bound().Center()
	if shape.Contains(mp, middle) {
		return middle
	}
	best, widest := mp[0][0][0], 0.0
	for _, polygon := range mp {
		var xs []float64
		y := polygon[0].Bound().Center()[1]
		for _, ring := range polygon {
			for i := 0; i+1 < len(ring); i++ {
				a, b := ring[i], ring[i+1]
				if (a[1] > y) != (b[1] > y) {
					xs = append(xs, a[0]+(y-a[1])/(b[1]-a[1])*(b[0]-a[0]))
				}
			}
		}
		slices.Sort(xs)
		for i := 0; i+1 < len(xs); i += 2 {
			if wide := xs[i+1] - xs[i]; wide > widest {
				best, widest = orb.Point{(xs[i] + xs[i+1]) / 2, y}, wide
			}
		}
	}
	return best
}
