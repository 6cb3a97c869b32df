package lineage

import (
	"math"
	"slices"
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/shape"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
	"driftreach/internal/surveyed"
)

// smallPatch is the largest radius, in metres, of a patch that is seen or not as a whole, by its
// middle. Our choice: half the join distance that survey protocols ask for. The circle of a smaller
// patch only represents a plant, and cutting it would cut an outline nobody drew.
const smallPatch = 15

// look returns the part of a known stand that was seen.
func (w *witness) look(known *Known, children []int32) Look {
	if _, ok := boxOf(known.Footprint); !ok || known.Out != "" {
		return Look{}
	}
	v := w.viewer(known, children)
	if known.Absent {
		return v.lookAtPlace(known)
	}
	look, seen, all := Look{}, 0.0, 0.0
	for _, m := range known.Members {
		r := &w.before.Records[m]
		share, left, day := v.lookAt(r)
		look.Day = later(look.Day, day)
		area := float64(v.areaOf(r))
		seen, all = seen+share*area, all+area
		if share < 1 {
			look.Left = append(look.Left, v.left(m, left))
		}
	}
	if len(children) == 0 && known.missed(look.Day) {
		return v.unseen(known)
	}
	if len(children) == 0 && 2*seen >= all {
		more := 0.0
		look.Left, more = v.withinError(look.Left)
		seen += more
	}
	if look.Left = v.replaced(known, look.Left); len(look.Left) == 0 {
		look.Share = 1
	} else if all > 0 {
		look.Share = seen / all
	}
	return look
}

// withinError returns the unseen parts of a stand after small patches are removed from them. It
// applies to a stand of which most was seen and nothing found. A patch is removed when it is no
// farther from the seen ground than its position is uncertain, since position error alone must not
// keep a stand alive. area is the removed area.
func (v *viewer) withinError(left []Left) (rest []Left, area float64) {
	rest = slices.DeleteFunc(left, func(l Left) bool {
		r := &v.before.Records[l.Record]
		if radiusOf(r, v.settings) > smallPatch {
			return false
		}
		v.slack = uncertainty(r, v.settings)
		seen, _ := v.sees(r.Position)
		if seen {
			area += float64(v.areaOf(r))
		}
		return seen
	})
	return rest, area
}

// missed says whether a correction declares looks up to a day to be mistaken.
func (r *Ruled) missed(day time.Time) bool { return !r.Missed.IsZero() && !day.After(r.Missed) }

// unseen returns the look of a stand that nobody saw.
func (v *viewer) unseen(known *Known) Look {
	look := Look{Left: make([]Left, len(known.Members))}
	for i, m := range known.Members {
		look.Left[i] = v.left(m, nil)
	}
	return look
}

// left returns the unseen part of a record's patch, with a place in it.
func (v *viewer) left(record int32, patch orb.MultiPolygon) Left {
	at := v.before.Records[record].Position
	if xy := v.frame.Project(patch); patch != nil && !shape.Contains(xy, v.frame.Forward(at)) {
		at = v.frame.Inverse(inside(xy))
	}
	return Left{record, patch, at}
}

// areaOf returns the area of a record's patch.
func (v *viewer) areaOf(r *survey.Record) geo.SquareMeters {
	if r.Outline != nil {
		return stand.OutlineArea(r.Outline)
	}
	return stand.PatchOf(*r, stand.Settings{DefaultPatch: v.settings.DefaultPatch}).Area
}

// lookAtPlace returns how much was seen of the last footprint of a stand that is not detected
// since.
func (v *viewer) lookAtPlace(known *Known) (look Look) {
	var left orb.MultiPolygon
	look.Share, left, look.Day = v.cut(plotIn(v.frame, known.Footprint.Polygons()), v.settings.Uncertainty)
	if len(left) == 0 {
		look.Share = 1
	}
	return look
}

// lookAt returns the share of a record's patch that was seen, and the unseen part: nil when all or
// nothing was seen.
func (v *viewer) lookAt(r *survey.Record) (share float64, left orb.MultiPolygon, day time.Time) {
	if radiusOf(r, v.settings) <= smallPatch {
		seen, day := v.sees(r.Position)
		if seen {
			return 1, nil, day
		}
		return 0, nil, day
	}
	patch := orb.MultiPolygon{shape.DiscOfArea(v.frame.Forward(r.Position), v.areaOf(r)).Polygon()}
	if r.Outline != nil {
		patch, _ = shape.MakeValid(v.frame.Project(r.Outline))
	}
	share, rest, day := v.cut(plot{patch, geo.PolygonArea(patch)}, uncertainty(r, v.settings))
	if share == 0 || share == 1 {
		return share, nil, day
	}
	return share, v.frame.Unproject(rest), day
}

// cut returns the share of a plot that was seen, the unseen part, and the last day of the records
// and ground that show it. A remaining part counts as seen too when all of it is within twice its
// position uncertainty of the seen ground.
func (v *viewer) cut(p plot, unsure geo.Meters) (share float64, left orb.MultiPolygon, day time.Time) {
	parts, most, day := v.groundAt(p)
	if p.size <= 0 || len(parts) == 0 {
		return 0, p.areas, time.Time{}
	}
	if float64(most/p.size) >= whole { // one part is enough, whatever the others add
		return 1, nil, day
	}
	ground := shape.Union(parts, 1)
	if left = shape.Difference(p.areas, ground); len(left) > 0 {
		near := shape.BufferPolygon(ground, 2*unsure, roundSegments)
		left = slices.DeleteFunc(left, func(part orb.Polygon) bool {
			return len(shape.Difference(orb.MultiPolygon{part}, near)) == 0
		})
	}
	switch share = 1 - float64(geo.PolygonArea(left)/p.size); {
	case share >= whole:
		return 1, nil, day
	case share <= 1-whole:
		return 0, p.areas, time.Time{}
	}
	return share, left, day
}

// groundAt returns the parts of surveyed ground that share some with a plot, in metres of the frame,
// the most that one of them shares, and the last day of the records that show them. Once one part shows
// the whole plot, it leaves out those of no later day: in dense stands a plot has many neighbours.
func (v *viewer) groundAt(p plot) (parts []orb.MultiPolygon, most geo.SquareMeters, day time.Time) {
	enough := func(on time.Time) bool { return p.size > 0 && float64(most/p.size) >= whole && !on.After(day) }
	put := func(part orb.MultiPolygon, on time.Time) {
		if len(part) == 0 || enough(on) {
			return
		}
		if shared := shape.IntersectionArea(part, p.areas); shared > 0 {
			parts, most, day = append(parts, part), max(most, shared), later(day, on)
		}
	}
	box := p.areas.Bound()
	middle := v.frame.Inverse(box.Center())
	half := geo.Meters(math.Hypot(box.Max[0]-box.Min[0], box.Max[1]-box.Min[1]) / 2)
	if v.ground != nil {
		v.areasAt(v.frame.Unproject(p.areas).Bound(), middle, put)
		v.linesAt(middle, half, put)
	}
	record := func(of *patches, r int32, about geo.Meters) {
		if on := v.now.Records[r].End.Time(); !enough(on) {
			put(v.patchAt(of, r, about), on)
		}
	}
	v.absences.about(middle, half, func(r int32) bool {
		record(v.absences, r, 0)
		return true
	})
	if len(v.children) > 0 {
		about := v.aboutFind()
		v.finds.about(middle, half+about, func(r int32) bool {
			if v.mine(r) {
				record(v.finds, r, about)
			}
			return true
		})
	}
	return parts, most, day
}

// patchAt returns the patch of a record enlarged by d.
func (v *viewer) patchAt(p *patches, r int32, d geo.Meters) orb.MultiPolygon {
	record := &p.records[r]
	if record.Outline == nil {
		return orb.MultiPolygon{shape.Disc{Center: v.frame.Forward(record.Position), Radius: p.radius[r] + d}.Polygon()}
	}
	outline, _ := shape.MakeValid(v.frame.Project(record.Outline))
	if d > 0 {
		outline = shape.BufferPolygon(outline, d, roundSegments)
	}
	return outline
}

// areasAt passes the surveyed areas that meet a box in degrees to put.
func (v *viewer) areasAt(box orb.Bound, middle orb.Point, put func(orb.MultiPolygon, time.Time)) {
	for m := range v.ground.areas {
		if v.treated && surveyed.Method(m) != surveyed.Foot {
			continue
		}
		a := &v.ground.areas[m]
		for _, k := range a.boxes.touching(box) {
			// a little wider, so that the edge of the box is not on the plot
			part := shape.Clip(orb.MultiPolygon{turned(a.polygons[k], middle)}, grown(box, 1))
			valid, _ := shape.MakeValid(v.frame.Project(part))
			put(valid, v.ground.day(a.of[k]))
		}
	}
}

// linesAt passes the ground along surveyed lines within half of a place to put.
func (v *viewer) linesAt(middle orb.Point, half geo.Meters, put func(orb.MultiPolygon, time.Time)) {
	farthest := geo.Meters(0)
	for m := range v.settings.Sight {
		farthest = max(farthest, v.reach(surveyed.Method(m)))
	}
	for _, run := range v.ground.lines.Near(middle, half+farthest) {
		piece := v.ground.of[run.Line]
		g := &v.ground.ground[piece]
		reach := v.reach(g.Method)
		if reach == 0 {
			continue
		}
		path := v.frame.ProjectLine(v.ground.paths[run.Line][run.First : run.Last+1])
		put(v.sighted(path, reach, g), v.ground.day(piece))
	}
}

// turned returns an area moved by whole turns to longitudes near a place.
func turned(area orb.Polygon, about orb.Point) orb.Polygon {
	return earth.TurnedArea(area, 360*math.Round((about[0]-area.Bound().Center()[0])/360))
}
