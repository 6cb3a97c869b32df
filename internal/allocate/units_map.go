package allocate

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
	"driftreach/geo/parallel"
	"driftreach/geo/shape"
	"driftreach/internal/check"
	"driftreach/internal/unit"
)

// Map is a set of reporting units prepared for dividing stands and reaches. Their edges are
// straight in degrees, as in the files they come from. Overlapping ground belongs to the smaller
// id, so that nothing counts twice. Read-only after NewMap and safe for concurrent use.
type Map struct {
	coverage *shape.Coverage
	unit     []int32 // by area of the coverage, sorted by unit id: index of its unit
}

// NewMap prepares units. Shares refer to them by index in units. The result for each unit does not
// depend on their order.
func NewMap(units []unit.Unit) *Map {
	m := &Map{unit: make([]int32, len(units))}
	for i := range m.unit {
		m.unit[i] = int32(i)
	}
	slices.SortStableFunc(m.unit, func(a, b int32) int {
		return cmp.Or(check.CompareNatural(units[a].ID, units[b].ID), cmp.Compare(units[a].ID, units[b].ID))
	})
	areas := make([]orb.MultiPolygon, len(units))
	for k, i := range m.unit {
		areas[k] = earth.EveryTurn(units[i].Areas, pastAntimeridian)
	}
	m.coverage = shape.NewCoverage(areas)
	return m
}

// pastAntimeridian is how far, in degrees, an outline or path may continue past 180: none is wider.
const pastAntimeridian = 20

// wrapped returns box with its west edge in [-180, 180).
func wrapped(box orb.Bound) orb.Bound {
	turn := earth.Wrap(box.Min[0]) - box.Min[0]
	box.Min[0] += turn
	box.Max[0] += turn
	return box
}

// name returns the index of the unit of area k of the coverage.
func (m *Map) name(k int32) int32 {
	if k < 0 {
		return Outside
	}
	return m.unit[k]
}

// perTask makes a task large enough to be worth handing out. Our choice.
const perTask = 256

// inParts calls do for 0 to n-1, using the given number of workers.
func inParts(n, workers int, do func(i int)) {
	var tasks parallel.Group
	tasks.SetLimit(max(1, workers))
	for first := 0; first < n; first += perTask {
		tasks.Go(func() error {
			for i := first; i < min(first+perTask, n); i++ {
				do(i)
			}
			return nil
		})
	}
	_ = tasks.Wait() // no task returns an error
}

// At returns the unit that contains a place in degrees, Outside for none.
func (m *Map) At(p orb.Point) int32 {
	return m.name(m.coverage.First(orb.Point{earth.Wrap(p[0]), p[1]}))
}
