package report

import (
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
	"driftreach/internal/result"
)

// The map is drawn on a grid of half pixels: whole numbers keep it small, and nothing finer can be seen
// on a screen or, at this size, on paper.
const (
	perPixel = 2

	// leastSide is the smallest width of the area a map shows, in metres. Our choice: even a single
	// plant is shown with its surroundings.
	leastSide = 400.0

	// mapMargin is the share of the width that is left free around the features. Our choice.
	mapMargin = 0.05
)

// view converts degrees to the grid of a map, with north up.
type view struct {
	frame         earth.Frame
	scale         float64 // grid steps in a metre
	left, top     float64 // metres in the frame
	width, height int     // grid steps
}

// dot is a position on the grid, with y downward.
type dot struct{ x, y int }

// at returns the position of p on the grid.
func (v *view) at(p orb.Point) dot {
	xy := v.frame.Forward(p)
	return dot{int(math.Round((xy[0] - v.left) * v.scale)), int(math.Round((v.top - xy[1]) * v.scale))}
}

// inside says whether a position is on the map or within some steps of it.
func (v *view) inside(d dot, by int) bool {
	return d.x >= -by && d.y >= -by && d.x <= v.width+by && d.y <= v.height+by
}

// newView shows the run's stands and reaches, or the streams if there are none. The map is pixels wide,
// and its height is between 0.5 and 1.1 times that.
func newView(run *result.Run, pixels int) view {
	places := shownPlaces(run)
	v := view{width: pixels * perPixel}
	v.frame = earth.NewFrame(middle(places))
	least, most := orb.Point{math.Inf(1), math.Inf(1)}, orb.Point{math.Inf(-1), math.Inf(-1)}
	for _, p := range places {
		xy := v.frame.Forward(p)
		for axis, x := range xy {
			if !math.IsNaN(x) {
				least[axis], most[axis] = min(least[axis], x), max(most[axis], x)
			}
		}
	}
	if !(least[0] <= most[0]) {
		least, most = orb.Point{}, orb.Point{}
	}
	wide, high := max(most[0]-least[0], leastSide), max(most[1]-least[1], leastSide/2)
	free := 2 * mapMargin * max(wide, high)
	wide, high = wide+free, high+free
	side := float64(v.width)
	v.height = int(min(1.1*side, max(0.5*side, math.Ceil(side*high/wide))))
	v.scale = min(side/wide, float64(v.height)/high)
	v.left = (least[0]+most[0])/2 - side/v.scale/2
	v.top = (least[1]+most[1])/2 + float64(v.height)/v.scale/2
	return v
}

// shownPlaces lists the positions that must be on the map.
func shownPlaces(run *result.Run) []orb.Point {
	var places []orb.Point
	for i := range run.Stands {
		places = append(places, run.Stands[i].Center)
	}
	for i := range run.Reaches {
		if run.Reaches[i].Stage == 0 {
			places = append(places, run.Reaches[i].Path...)
		}
	}
	if places != nil {
		return places
	}
	for i := range run.CountLines() {
		places = append(places, run.PathOf(i)...)
	}
	return places
}

// middle returns the middle of the box around positions. Longitude is counted the shorter way around
// from the first.
func middle(places []orb.Point) orb.Point {
	if len(places) == 0 {
		return orb.Point{}
	}
	o := places[0]
	least, most := orb.Point{}, orb.Point{}
	for _, p := range places {
		d := orb.Point{math.Remainder(p[0]-o[0], 360), p[1] - o[1]}
		for axis := range d {
			least[axis], most[axis] = min(least[axis], d[axis]), max(most[axis], d[axis])
		}
	}
	return orb.Point{o[0] + (least[0]+most[0])/2, o[1] + (least[1]+most[1])/2}
}
