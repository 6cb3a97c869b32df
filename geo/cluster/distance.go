package cluster

// The three distances below are squares, summed axis by axis in the same order. Rounding is
// monotone, so nearest(box) <= between(point in it) <= farthest(box) holds in float64 arithmetic
// too, and pruning never changes a result.

func (t *tree) between(i, j int) float64 {
	if t.dim == 3 {
		p, q := t.coords[i*3:i*3+3], t.coords[j*3:j*3+3]
		x, y, z := p[0]-q[0], p[1]-q[1], p[2]-q[2]
		return float64(x*x) + float64(y*y) + float64(z*z)
	}
	sum := 0.0
	p, q := t.at(i), t.at(j)
	for k, v := range p {
		d := v - q[k]
		sum += float64(d * d) // the conversion prevents a fused multiply-add, which would round differently
	}
	return sum
}

// nearest returns the least distance between points of boxes a and b.
func (t *tree) nearest(a, b int) float64 {
	aLeast, aMost := t.bounds(a)
	bLeast, bMost := t.bounds(b)
	sum := 0.0
	for k := range aLeast {
		gap := max(aLeast[k]-bMost[k], bLeast[k]-aMost[k], 0)
		sum += float64(gap * gap)
	}
	return sum
}

// farthest returns the largest distance between points of boxes a and b.
func (t *tree) farthest(a, b int) float64 {
	aLeast, aMost := t.bounds(a)
	bLeast, bMost := t.bounds(b)
	sum := 0.0
	for k := range aLeast {
		reach := max(aMost[k]-bLeast[k], bMost[k]-aLeast[k])
		sum += float64(reach * reach)
	}
	return sum
}

// pointNearest returns the least distance from point i to box b.
func (t *tree) pointNearest(i, b int) float64 {
	least, most := t.bounds(b)
	sum := 0.0
	for k, v := range t.at(i) {
		gap := max(v-most[k], least[k]-v, 0)
		sum += float64(gap * gap)
	}
	return sum
}

// pointFarthest returns the largest distance from point i to box b.
func (t *tree) pointFarthest(i, b int) float64 {
	least, most := t.bounds(b)
	sum := 0.0
	for k, v := range t.at(i) {
		reach := max(v-least[k], most[k]-v)
		sum += float64(reach * reach)
	}
	return sum
}
