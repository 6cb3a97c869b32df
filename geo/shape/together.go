package shape

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo/disjoint"
)

// boxTree finds which boxes touch, directly or through others. Each branch of the tree knows when
// all its boxes are already in one class, and is then not searched again for a box of the same
// class. So boxes that all meet in one place cost no more than a few looks each.
type boxTree struct {
	boxes  []orb.Bound
	parent disjoint.Sets // classes
	leaves []int32
	levels [][]branch            // the first over leaves
	meet   func(i, k int32) bool // of what has the boxes, where these touch; nil if that is enough
}

// branch is a run of leaves, or of branches of the level below.
type branch struct {
	box  orb.Bound
	same int32 // a member of its only class; -1 while there may be several classes
}

// perBranch is the number of boxes or branches in one branch. Our choice.
const perBranch = 8

// Together splits boxes into classes of boxes that touch, directly or through others. Indices
// ascend within a class; classes are sorted by their first index. Near n log n, even where very
// many meet.
func Together(boxes []orb.Bound) [][]int32 {
	if len(boxes) == 0 {
		return nil
	}
	return linked(boxes, nil).classes()
}

// linked returns the tree of boxes once all classes are known. meet says of two whose boxes touch whether
// they do; nil if that is enough. There must be a box.
func linked(boxes []orb.Bound, meet func(i, k int32) bool) *boxTree {
	h := &boxTree{boxes: boxes, parent: disjoint.NewSets(len(boxes)), leaves: make([]int32, len(boxes)), meet: meet}
	for i := range boxes {
		h.leaves[i] = int32(i)
	}
	h.build()
	for _, i := range h.leaves {
		h.look(len(h.levels)-1, 0, i)
	}
	return h
}

// classes lists the members of each class.
func (h *boxTree) classes() [][]int32 {
	place := make([]int, len(h.boxes))
	var classes [][]int32
	for i := range h.boxes {
		root := h.parent.Find(int32(i))
		if root == int32(i) {
			place[i] = len(classes)
			classes = append(classes, nil)
		}
		classes[place[root]] = append(classes[place[root]], int32(i))
	}
	return classes
}

// build sorts the leaves into strips by their middle, sorts each strip across, and builds levels
// above them (sort-tile-recursive packing, Leutenegger et al. 1997).
func (h *boxTree) build() {
	middle := func(i int32, axis int) float64 { return h.boxes[i].Min[axis] + h.boxes[i].Max[axis] }
	by := func(axis int) func(a, b int32) int {
		return func(a, b int32) int { return cmp.Or(cmp.Compare(middle(a, axis), middle(b, axis)), cmp.Compare(a, b)) }
	}
	slices.SortFunc(h.leaves, by(0))
	strip := perBranch * int(math.Ceil(math.Sqrt(float64(len(h.leaves))/perBranch)))
	for part := range slices.Chunk(h.leaves, strip) {
		slices.SortFunc(part, by(1))
	}
	var level []branch
	for part := range slices.Chunk(h.leaves, perBranch) {
		b := branch{h.boxes[part[0]], -1}
		for _, i := range part[1:] {
			b.box = b.box.Union(h.boxes[i])
		}
		level = append(level, b)
	}
	h.levels = append(h.levels, level)
	for len(level) > 1 {
		var above []branch
		for part := range slices.Chunk(level, perBranch) {
			b := branch{part[0].box, -1}
			for _, c := range part[1:] {
				b.box = b.box.Union(c.box)
			}
			above = append(above, b)
		}
		h.levels = append(h.levels, above)
		level = above
	}
}

// look joins box i with the boxes below a branch that touch it.
func (h *boxTree) look(level, at int, i int32) {
	b := &h.levels[level][at]
	if !b.box.Intersects(h.boxes[i]) {
		return
	}
	if b.same >= 0 && h.parent.Find(b.same) == h.parent.Find(i) {
		return
	}
	below := len(h.leaves)
	if level > 0 {
		below = len(h.levels[level-1])
	}
	same := int32(-2)
	for k := at * perBranch; k < min((at+1)*perBranch, below); k++ {
		member := int32(-1)
		if level > 0 {
			h.look(level-1, k, i)
			member = h.levels[level-1][k].same
		} else {
			member = h.leaves[k]
			if h.boxes[member].Intersects(h.boxes[i]) && (h.meet == nil || h.meet(i, member)) {
				h.parent.Union(i, member)
			}
		}
		switch {
		case member < 0:
			same = -1
		case same == -2:
			same = member
		case same >= 0 && h.parent.Find(same) != h.parent.Find(member):
			same = -1
		}
	}
	b.same = same
}
