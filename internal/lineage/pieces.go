package lineage

import (
	"slices"
	"sync"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/shape"
	"driftreach/internal/spill"
)

// Pieces is dissolved ground, in degrees: its polygons in normal form, in memory or on a shelf on disk.
// The zero value has none.
type Pieces struct {
	near orb.MultiPolygon
	far  []spill.Text
}

// PiecesOf returns dissolved ground as pieces, which are put on the shelf if that is on disk. shelf may be
// nil. It panics with the error of a disk that does not take them.
func PiecesOf(ground orb.MultiPolygon, shelf *spill.Shelf) Pieces {
	if shelf == nil || !shelf.OnDisk() {
		return Pieces{near: ground}
	}
	p := Pieces{far: make([]spill.Text, len(ground))}
	var room []byte
	for i := range ground {
		room = shape.AppendPolygons(room[:0], ground[i:i+1])
		p.far[i] = shelf.Take(room)
	}
	return p
}

// Len returns the number of pieces.
func (p Pieces) Len() int { return len(p.near) + len(p.far) }

// At returns piece i as an area of one polygon, which must not be changed. It panics with the error of a
// disk that does not give back what was put on it.
func (p Pieces) At(i int) orb.MultiPolygon {
	if p.far == nil {
		return p.near[i : i+1 : i+1]
	}
	return shape.PolygonsOf(p.far[i].Bytes())
}

// All returns all pieces, which must not be changed.
func (p Pieces) All() orb.MultiPolygon {
	if p.far == nil {
		return p.near
	}
	out := make(orb.MultiPolygon, len(p.far))
	for i := range out {
		out[i] = p.At(i)[0]
	}
	return out
}

// collector makes pieces of areas that are apart, class by class. Classes may be added at once.
type collector struct {
	shelf *spill.Shelf
	parts []orb.MultiPolygon // in memory, by class

	mu     sync.Mutex
	starts []started // on the shelf
}

// started is a polygon on the shelf, and the vertex that its outline starts at.
type started struct {
	at  orb.Point
	far spill.Text
}

func newCollector(classes int, shelf *spill.Shelf) *collector {
	if shelf == nil || !shelf.OnDisk() {
		return &collector{parts: make([]orb.MultiPolygon, classes)}
	}
	return &collector{shelf: shelf}
}

// add adds a dissolved area of a class, and takes it over.
func (c *collector) add(class int, area orb.MultiPolygon) {
	if c.parts != nil {
		c.parts[class] = append(c.parts[class], area...)
		return
	}
	normal := shape.Gather([]orb.MultiPolygon{area})
	starts := make([]started, len(normal))
	var room []byte
	for i := range normal {
		room = shape.AppendPolygons(room[:0], normal[i:i+1])
		starts[i] = started{normal[i][0][0], c.shelf.Take(room)}
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	c.starts = append(c.starts, starts...)
}

// pieces returns what was added.
func (c *collector) pieces() Pieces {
	if c.shelf == nil {
		return Pieces{near: shape.Gather(c.parts)}
	}
	slices.SortFunc(c.starts, func(a, b started) int { // as in normal form
		if by := geo.ComparePoints(a.at, b.at); by != 0 {
			return by
		}
		one, other := shape.PolygonsOf(a.far.Bytes())[0][0], shape.PolygonsOf(b.far.Bytes())[0][0]
		return slices.CompareFunc(one, other, geo.ComparePoints)
	})
	p := Pieces{far: make([]spill.Text, len(c.starts))}
	for i := range c.starts {
		p.far[i] = c.starts[i].far
	}
	c.starts = nil
	return p
}
