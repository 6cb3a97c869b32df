package result

import (
	"slices"

	"driftreach/geo/disjoint"
)

// ancestry says which stands continue which.
type ancestry struct {
	run    *Run
	known  map[string]int32  // by id: index of a known stand
	heir   []int32           // by known stand with a link: the stand with which it counts; -1 for others
	sets   disjoint.Sets     // connected components of the links; nodes are known stands, then stands
	stands map[int32][]int32 // by component: its stands
}

func ancestryOf(run *Run) *ancestry {
	p := run.Previous
	k := &ancestry{
		run: run, known: make(map[string]int32, len(p.Known)), heir: slices.Repeat([]int32{-1}, len(p.Known)),
		sets: disjoint.NewSets(len(p.Known) + len(run.Stands)), stands: map[int32][]int32{},
	}
	for at := range p.Known {
		k.known[p.Known[at].ID] = int32(at)
	}
	for _, link := range p.Links {
		k.sets.Union(link.Known, int32(len(p.Known))+link.Stand)
		k.heir[link.Known] = p.Home[link.Known]
	}
	for i := range run.Stands {
		set := k.set(int32(i))
		k.stands[set] = append(k.stands[set], int32(i))
	}
	return k
}

// set returns the component of the stand at index i.
func (k *ancestry) set(i int32) int32 { return k.sets.Find(int32(len(k.run.Previous.Known)) + i) }

// several says whether other stands are in the component of the stand at index i.
func (k *ancestry) several(i int32) bool { return len(k.stands[k.set(i)]) > 1 }
