// Package cluster groups points by density. Coordinates are plain numbers of
// any dimension, distances Euclidean in their unit.
package cluster

import (
	"errors"
	"fmt"
	"math"

	"driftreach/geo/disjoint"
)

// Options says what forms a cluster.
type Options struct {
	Eps       float64 // two points at most this far apart are neighbours; unit of the coordinates, above 0
	MinPoints int     // fewest neighbours of a core point, counting itself; at least 1
	Workers   int     // number of parallel workers; below 1 counts as 1; the result does not depend on it
}

// Validate returns an error that says what is wrong with o.
func (o Options) Validate() error {
	if !(o.Eps > 0) || math.IsInf(o.Eps*o.Eps, 0) {
		return fmt.Errorf("eps must be a positive number: %v", o.Eps)
	}
	if o.MinPoints < 1 {
		return fmt.Errorf("min points must be at least 1: %d", o.MinPoints)
	}
	return nil
}

// DBSCAN clusters the points of coords, dim values each, by density. Core points within Eps of each
// other, directly or through others, share a cluster. Any other point joins the nearest core point
// within Eps; of equally near ones, the one with the smaller index. So the order of the points
// matters only for such ties and for the numbering.
//
// Distances are compared as squares, in float64 arithmetic. Ester, Kriegel, Sander and Xu 1996,
// KDD-96, 226-231, with a fixed tie rule for border points. A k-d tree finds neighbours. Points in
// a box of diagonal Eps are joined at once, so that dense piles cost no more than n log n.
func DBSCAN(coords []float64, dim int, o Options) (Result, error) {
	if err := check(coords, dim, o); err != nil {
		return Result{}, err
	}
	n := len(coords) / dim
	if n == 0 {
		return Result{Label: []int32{}, Core: []bool{}}, nil
	}
	s := search{tree: buildTree(coords, dim, o.Workers), limit: o.Eps * o.Eps, need: o.MinPoints}
	s.findUnits()
	s.core = make([]bool, n)
	s.perUnit(o.Workers, s.markCores)
	s.sets = disjoint.NewShared(n)
	s.perUnit(o.Workers, s.joinCores)
	s.owner = make([]int32, n)
	s.perUnit(o.Workers, s.ownPoints)
	return s.result(), nil
}

func check(coords []float64, dim int, o Options) error {
	if err := o.Validate(); err != nil {
		return err
	}
	if dim < 1 || len(coords)%dim != 0 {
		return fmt.Errorf("%d values do not make points of dimension %d", len(coords), dim)
	}
	if len(coords)/dim > math.MaxInt32 {
		return errors.New("more points than fit in 31 bits")
	}
	for i, v := range coords {
		if math.IsNaN(v - v) {
			return fmt.Errorf("point %d has a coordinate that is not finite", i/dim)
		}
	}
	return nil
}
