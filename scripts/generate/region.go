package main

import (
	"math"
	"math/rand/v2"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
)

const (
	// linesPerBasin is the largest number of lines in a basin. Our choice: a river of about 1500 km
	// of stream.
	linesPerBasin = 1000
	// cellSize is the spacing of confluences in metres. Our choice: a line of 20 vertices then has
	// one every 75 m, as on national stream maps.
	cellSize = 1500
	// braidShare is the share of lines that are minor paths of a braid. Our
	// choice, as in upland catchments.
	braidShare = 0.01
)

// corner is the north-west corner of the region in degrees: open ocean.
var corner = orb.Point{-40, -30}

// stream is one centerline.
type stream struct {
	name       string
	path       []orb.Point // metres within the basin, downstream
	below      int         // index of the line downstream; -1 at an outlet
	basin      int
	lines      int // number of lines upstream, including itself
	divergence int // 0 none, 1 main, 2 minor path
	barrier    string
}

// region is many basins side by side.
type region struct {
	streams []stream
	origin  []orb.Point // by basin: degrees of its corner
	scale   []orb.Point // by basin: metres per degree of longitude and latitude
}

// degrees returns the longitude and latitude of a place in a basin.
func (g region) degrees(basin int, p orb.Point) orb.Point {
	o, s := g.origin[basin], g.scale[basin]
	return orb.Point{o[0] + p[0]/s[0], o[1] - p[1]/s[1]}
}

// growRegion returns the given number of lines in basins of at most linesPerBasin lines, and of at
// least a hundred where there are enough. A share of the lines are minor paths.
func growRegion(r *rand.Rand, lines int, braids float64) region {
	basins := max(1, (lines+linesPerBasin-1)/linesPerBasin)
	if lines < 4*linesPerBasin {
		basins = max(1, lines/100)
	}
	across := int(math.Ceil(math.Sqrt(float64(basins))))
	side := math.Ceil(math.Sqrt(float64(lines)/float64(basins))) + 3
	var g region
	for b := range basins {
		row, column := float64(b/across), float64(b%across)
		_, north := earth.LocalScale(corner[1])
		lat := corner[1] - row*side*cellSize/north
		perLon, perLat := earth.LocalScale(lat)
		// 1.1 leaves room between basins, since degrees of longitude get shorter southward
		g.origin = append(g.origin, orb.Point{corner[0] + 1.1*column*side*cellSize/perLon, lat})
		g.scale = append(g.scale, orb.Point{perLon, perLat})
		n := lines*(b+1)/basins - lines*b/basins
		g.addBasin(r, b, n, braids)
	}
	return g
}

// addBasin grows one basin: a tree, then braids on some of its lines.
func (g *region) addBasin(r *rand.Rand, basin, n int, share float64) {
	braids := int(share * float64(n))
	cells := growBasin(r, n-braids)
	first := len(g.streams)
	at := make([]orb.Point, len(cells))
	for i, c := range cells {
		// Confluences lie up to a quarter of a cell off the lattice.
		at[i] = orb.Point{(float64(c.x) + 0.5*r.Float64()) * cellSize, (float64(c.y) + 0.5*r.Float64()) * cellSize}
	}
	names := nameRivers(basin, cells)
	for i, c := range cells[1:] {
		g.streams = append(g.streams, stream{
			name: names[i+1], basin: basin, lines: c.lines, below: first + c.below - 1,
			path: wind(r, at[i+1], at[c.below], 0),
		})
		if c.below == 0 {
			g.streams[len(g.streams)-1].below = -1
		}
		g.streams[len(g.streams)-1].barrier = barrier(r)
	}
	for range braids {
		g.addBraid(r, first+r.IntN(len(cells)-1))
	}
}

// addBraid gives a line a second path that leaves it and joins it again.
func (g *region) addBraid(r *rand.Rand, which int) {
	for g.streams[which].divergence != 0 {
		which = (which + 1) % len(g.streams)
	}
	main := &g.streams[which]
	main.divergence = 1
	minor := *main
	minor.divergence, minor.barrier, minor.lines = 2, "", 1
	minor.path = wind(r, main.path[0], main.path[len(main.path)-1], 0.14)
	g.streams = append(g.streams, minor)
}

// barrier draws the barrier at a line's lower end: mostly none.
func barrier(r *rand.Rand) string {
	switch d := r.Float64(); {
	case d < 0.001:
		return "dam"
	case d < 0.003:
		return "weir"
	case d < 0.01:
		return "culvert"
	}
	return ""
}

// wind returns a winding path of 14 to 26 steps between two places, curved to one side by a share
// of the distance. It stays within a tenth of a cell of the curve, so that lines of the lattice do
// not cross.
func wind(r *rand.Rand, from, to orb.Point, bow float64) []orb.Point {
	steps := 14 + r.IntN(13)
	dx, dy := to[0]-from[0], to[1]-from[1]
	bends, phase := float64(2+r.IntN(4)), 2*math.Pi*r.Float64()
	path := make([]orb.Point, steps+1)
	for i := range path {
		t := float64(i) / float64(steps)
		out := math.Sin(math.Pi*t) * (bow + 0.05*math.Sin(bends*math.Pi*t+phase))
		path[i] = orb.Point{from[0] + t*dx - out*dy, from[1] + t*dy + out*dx}
	}
	path[steps] = to
	return path
}
