package linear

import (
	"math"
	"slices"
)

// tree finds the runs of lines whose boxes meet a box. Its boxes are rounded outwards to numbers of four
// bytes; where that leaves a doubt, it looks at the line. Runs along a curve over the ground come after
// each other, so that a branch is a box around some of them, without pointers.
type tree struct {
	leaves []leaf
	levels [][]roundedBox // the first over leaves, the last has one box
}

// roundedBox is a box in degrees that no place of its runs is outside of.
type roundedBox struct{ min, max [2]float32 }

// leaf is a run and its box.
type leaf struct {
	roundedBox
	line int32
	run  uint32 // number of the run in the line, and in the lowest bits its turn and its number of segments
}

// The lowest bits of leaf.run. Lines of less than 2^29 vertices have room in the others.
const (
	segmentBits = 4
	turnBits    = 2 // 0, or 1 or 2 for a box moved by a turn to the west or the east
)

// turned are the turns of a leaf.
var turned = [...]float64{0, -360, 360}

// perBranch is the number of leaves or branches in one branch. Our choice.
const perBranch = 8

// newTree returns the tree of the runs of lines.
func newTree(lines Lines) tree {
	var leaves []leaf
	var boxes []boxed
	around := roundedBox{[2]float32{math.MaxFloat32, math.MaxFloat32}, [2]float32{-math.MaxFloat32, -math.MaxFloat32}}
	for i, path := range lines.All() {
		boxes = appendBoxes(boxes[:0], int32(i), path)
		for _, b := range boxes {
			one := leaf{b.rounded(), int32(i), uint32(b.run.First)/runSegments<<(turnBits+segmentBits) | uint32(b.turn)<<segmentBits | uint32(b.run.Last-b.run.First)}
			leaves = append(leaves, one)
			around = around.with(one.roundedBox)
		}
	}
	t := tree{leaves: along(leaves, around)}
	level := make([]roundedBox, 0, (len(leaves)+perBranch-1)/perBranch)
	for some := range slices.Chunk(t.leaves, perBranch) {
		box := some[0].roundedBox
		for k := range some {
			box = box.with(some[k].roundedBox)
		}
		level = append(level, box)
	}
	for len(level) > 0 {
		t.levels = append(t.levels, level)
		if len(level) == 1 {
			break
		}
		above := make([]roundedBox, 0, (len(level)+perBranch-1)/perBranch)
		for some := range slices.Chunk(level, perBranch) {
			box := some[0]
			for _, b := range some {
				box = box.with(b)
			}
			above = append(above, box)
		}
		level = above
	}
	return t
}

// along returns leaves along a Z-order curve over the ground around them (Morton 1966). Leaves at one
// place of the curve stay in their order.
func along(leaves []leaf, around roundedBox) []leaf {
	const most = 1<<16 - 1
	var scale [2]float64
	for k := range scale {
		if span := float64(around.max[k]) - float64(around.min[k]); span > 0 {
			scale[k] = most / span
		}
	}
	keys := make([]uint64, len(leaves)) // the place on the curve, and the leaf
	for i := range leaves {
		var at [2]uint64
		for k := range at {
			middle := (float64(leaves[i].min[k]) + float64(leaves[i].max[k])) / 2
			at[k] = spread(uint64((middle - float64(around.min[k])) * scale[k]))
		}
		keys[i] = (at[0]|at[1]<<1)<<32 | uint64(i)
	}
	slices.Sort(keys)
	out := make([]leaf, len(leaves))
	for i, key := range keys {
		out[i] = leaves[uint32(key)]
	}
	return out
}

// rounded returns the box, rounded outwards.
func (b *boxed) rounded() (r roundedBox) {
	for k := range 2 {
		if r.min[k] = float32(b.min[k]); float64(r.min[k]) > b.min[k] {
			r.min[k] = before32(r.min[k])
		}
		if r.max[k] = float32(b.max[k]); float64(r.max[k]) < b.max[k] {
			r.max[k] = after32(r.max[k])
		}
	}
	return r
}

func before32(x float32) float32 { return math.Nextafter32(x, -math.MaxFloat32) }
func after32(x float32) float32  { return math.Nextafter32(x, math.MaxFloat32) }

func (r roundedBox) with(o roundedBox) roundedBox {
	for k := range 2 {
		r.min[k], r.max[k] = min(r.min[k], o.min[k]), max(r.max[k], o.max[k])
	}
	return r
}

// meets says whether a box may meet the given one.
func (r *roundedBox) meets(low, high *[2]float64) bool {
	return float64(r.min[0]) <= high[0] && float64(r.max[0]) >= low[0] && float64(r.min[1]) <= high[1] && float64(r.max[1]) >= low[1]
}

// search calls visit with the runs whose boxes meet a box.
func (t *tree) search(lines Lines, low, high [2]float64, visit func(Run)) {
	if top := len(t.levels) - 1; top >= 0 && t.levels[top][0].meets(&low, &high) {
		t.below(lines, top, 0, &low, &high, visit)
	}
}

// below searches below a branch.
func (t *tree) below(lines Lines, level, at int, low, high *[2]float64, visit func(Run)) {
	first := at * perBranch
	if level == 0 {
		some := t.leaves[first:min(first+perBranch, len(t.leaves))]
		for i := range some {
			if l := &some[i]; l.meets(low, high) && (l.surely(low, high) || l.exactly(lines, low, high)) {
				visit(l.asRun())
			}
		}
		return
	}
	some := t.levels[level-1]
	some = some[first:min(first+perBranch, len(some))]
	for i := range some {
		if some[i].meets(low, high) {
			t.below(lines, level-1, first+i, low, high, visit)
		}
	}
}

// asRun returns the run of a leaf.
func (l *leaf) asRun() Run {
	first := int32(l.run>>(turnBits+segmentBits)) * runSegments
	return Run{l.line, first, first + int32(l.run&(1<<segmentBits-1))}
}

// surely says whether the box meets the given one, however it was rounded.
func (l *leaf) surely(low, high *[2]float64) bool {
	for k := range 2 {
		if float64(after32(l.min[k])) > high[k] || float64(before32(l.max[k])) < low[k] {
			return false
		}
	}
	return true
}

// exactly says the same from the line.
func (l *leaf) exactly(lines Lines, low, high *[2]float64) bool {
	r := l.asRun()
	var b boxed
	b.enclose(lines.At(int(l.line))[r.First : r.Last+1])
	b.move(turned[l.run>>segmentBits&(1<<turnBits-1)])
	return b.min[0] <= high[0] && b.max[0] >= low[0] && b.min[1] <= high[1] && b.max[1] >= low[1]
}
