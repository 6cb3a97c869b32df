package aquatic

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/parallel"
	"driftreach/geo/shape"
)

// stepsPerDegree is the number of coordinate steps in a degree: seven decimals (RFC 7946, section
// 11.2).
const stepsPerDegree = 1e7

// drawnAtOnce is the number of vertices of streams and surfaces from which the zone is drawn at one
// time; the last water body is included whole. Our choice: their drawn pieces take some 6 MB until
// they are packed, and there is enough work for all workers.
const drawnAtOnce = 1 << 17

// Dissolve returns the zone as shown on the map, one for each water body, sorted by name: it draws
// the pieces and joins them, some water bodies at a time. Cost is near linear in vertices, shared
// among the workers.
func (w *Water) Dissolve(workers int) []Zone {
	return w.dissolve(workers, drawnAtOnce)
}

func (w *Water) dissolve(workers, atOnce int) []Zone {
	bodies := w.bodies()
	zones := make([]Zone, len(bodies))
	for first, to := 0, 0; first < len(bodies); first = to {
		var pieces []Piece
		var counts []int
		for vertices := 0; to < len(bodies) && vertices < atOnce; to++ {
			own := w.pieces(&bodies[to])
			for i := range own {
				vertices += own[i].Vertices()
			}
			pieces, counts = append(pieces, own...), append(counts, len(own))
		}
		drawn := make([]orb.MultiPolygon, len(pieces))
		var tasks parallel.Group
		tasks.SetLimit(max(1, workers))
		for i := range pieces {
			tasks.Go(func() error {
				drawn[i] = pieces[i].Draw()
				return nil
			})
		}
		_ = tasks.Wait() // no task returns an error
		one := func(i int) orb.MultiPolygon {
			one := drawn[i]
			drawn[i] = nil // used only once
			return one
		}
		w.join(zones[first:to], bodies[first:to], counts, Drawn{Count: len(drawn), Piece: one, Body: notJoined}, workers)
	}
	return zones
}

// Pieces returns the pieces from which the zone is drawn: each connected set of centerlines of a
// water body, and each surface. Where a stream runs through a surface, the zone is that of the
// surface. The pieces of a water body are together.
func (w *Water) Pieces() (all []Piece, of []PiecesOf) {
	bodies := w.bodies()
	for i := range bodies {
		own := w.pieces(&bodies[i])
		all, of = append(all, own...), append(of, PiecesOf{bodies[i].name, int32(len(own))})
	}
	return all, of
}

// PiecesOf says whose the pieces of a water body are.
type PiecesOf struct {
	Name  string
	Count int32 // number of pieces
}

// pieces returns the pieces of one water body.
func (w *Water) pieces(b *body) []Piece {
	var all []Piece
	for _, group := range w.apart(b.dry) {
		p := Piece{Paths: make([]orb.LineString, len(group)), Reach: make([]geo.Meters, len(group)), Middle: b.middle, Chord: w.chord}
		for i, e := range group {
			p.Paths[i], p.Reach[i] = w.net.Paths.At(int(e)), w.reach(e)
		}
		all = append(all, p)
	}
	for _, s := range b.surfaces {
		all = append(all, Piece{Water: w.net.Surfaces[s].Areas, Setback: w.setback, Middle: b.middle, Chord: w.chord})
	}
	return all
}

// Drawn is what was drawn of the zone. Each piece and each body is asked for from any goroutine, and once
// unless it may be asked for again.
type Drawn struct {
	Count int                                        // number of pieces
	Again bool                                       // a piece may be asked for again, and is another copy each time
	Piece func(i int) orb.MultiPolygon               // a piece; of no use if its water body is joined already
	Body  func(first int) (joined Joined, done bool) // the water body with that first piece, if it is joined already
}

// notJoined is Drawn.Body if no water body is joined yet.
func notJoined(int) (joined Joined, done bool) { return joined, false }

// Join joins the drawn pieces of Pieces into the zone, one for each water body, sorted by name. The
// error says that another number of pieces was drawn.
func (w *Water) Join(drawn Drawn, workers int) ([]Zone, error) {
	bodies := w.bodies()
	counts, all := make([]int, len(bodies)), 0
	for i := range bodies {
		counts[i] = len(w.apart(bodies[i].dry)) + len(bodies[i].surfaces)
		all += counts[i]
	}
	if all != drawn.Count {
		return nil, fmt.Errorf("%d pieces of the zone were drawn elsewhere, and there are %d", drawn.Count, all)
	}
	zones := make([]Zone, len(bodies))
	w.join(zones, bodies, counts, drawn, workers)
	return zones, nil
}

// join fills in the zones of some water bodies, each of so many pieces, from what was drawn.
func (w *Water) join(zones []Zone, bodies []body, counts []int, drawn Drawn, workers int) {
	var tasks parallel.Group
	tasks.SetLimit(max(1, workers))
	first := 0
	for i := range bodies {
		n, from := counts[i], first
		first += n
		tasks.Go(func() error {
			joined, done := drawn.Body(from)
			whole := len(bodies[i].surfaces) > 0
			switch {
			case done:
			case drawn.Again && !whole && n >= manyPieces:
				joined = joinApart(shape.Parts{Count: n, At: func(k int) orb.MultiPolygon { return drawn.Piece(from + k) }})
			default:
				pieces := make([]orb.MultiPolygon, n)
				for k := range pieces {
					pieces[k] = drawn.Piece(from + k)
				}
				joined = join(pieces, whole)
			}
			zones[i] = w.zone(&bodies[i], joined)
			return nil
		})
	}
	_ = tasks.Wait() // no task returns an error
}

// manyPieces is from how many pieces a water body is joined one after the other. Our choice: fewer take
// little room, and are joined faster at once.
const manyPieces = 64

// zone describes the zone of one water body.
func (w *Water) zone(b *body, of Joined) Zone {
	z := Zone{WaterBody: b.name, Area: of.Area, Geometry: of.Geometry}
	lines := make(map[int32]bool)
	for _, edges := range [][]int32{b.dry, b.wet} {
		for _, e := range edges {
			lines[w.net.Net.Edges[e].Line] = true
			z.WidthAssumed = z.WidthAssumed || w.assumed[e]
		}
	}
	z.Lines = len(lines)
	return z
}

// apart splits edges into groups whose zones cannot touch. Near the antimeridian it does not split.
func (w *Water) apart(edges []int32) [][]int32 {
	boxes := make([]orb.Bound, len(edges))
	for i, e := range edges {
		b := orb.MultiPoint(w.net.Paths.At(int(e))).Bound()
		lon, lat := earth.LocalScale(max(math.Abs(b.Min[1]), math.Abs(b.Max[1])))
		pad := float64(w.reach(e)) * padding
		x, y := pad/lon, pad/lat
		boxes[i] = orb.Bound{Min: orb.Point{b.Min[0] - x, b.Min[1] - y}, Max: orb.Point{b.Max[0] + x, b.Max[1] + y}}
		if boxes[i].Min[0] < -180 || boxes[i].Max[0] > 180 {
			return [][]int32{edges}
		}
	}
	groups := shape.Together(boxes)
	for _, group := range groups {
		for i := range group {
			group[i] = edges[group[i]]
		}
	}
	return groups
}

// padding makes room for the curve of a parallel over a reach. Our choice: far more than needed
// below 85 degrees.
const padding = 1.01
