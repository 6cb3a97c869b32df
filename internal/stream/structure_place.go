package stream

import (
	"cmp"
	"fmt"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/flow"
	"driftreach/geo/linear"
	"driftreach/internal/check"
)

const (
	// farAside is how far from the nearest stream line a barrier may lie. Our choice:
	// the error of a hand-held receiver and of a 1:100,000 centerline together.
	farAside = 100 // m

	// samePlace is how close along a line two barriers are one. Our choice: the
	// distance at which stream ends are one place.
	samePlace = 1 // m
)

// PlaceStructures puts checked barriers on the nearest place of the nearest
// centerline, coasts apart; of lines equally near the one that comes first. It
// rejects those more than 100 m from every line, and of several within 1 m along
// one line all but the one whose id comes first. It returns the placed barriers,
// in their order, with what it found. Lines stay whole: Connect splits
// them.
func PlaceStructures(lines []Centerline, structures []Structure) ([]Structure, []check.Finding) {
	if len(structures) == 0 {
		return nil, nil
	}
	var log check.Log
	var number []int32 // of the lines looked at
	var paths []orb.LineString
	for i := range lines {
		if !lines[i].Coast {
			number, paths = append(number, int32(i)), append(paths, lines[i].Path)
		}
	}
	index := linear.NewIndex(paths)
	kept := make([]Structure, 0, len(structures))
	for i := range structures {
		s := structures[i]
		at, found := index.Nearest(s.Position)
		if !found || at.Distance > farAside {
			log.Add(structureKind.Finding(&s, ruleStructureFar, "position", asideText(at, found), "no stream is near enough; the barrier was rejected"))
			continue
		}
		path := paths[at.Line]
		s.Line = number[at.Line]
		s.Measure = earth.LineLength(path[:at.Segment+1])
		if int(at.Segment)+1 < len(path) {
			s.Measure += geo.Meters(at.Fraction) * earth.Distance(path[at.Segment], path[at.Segment+1])
		}
		kept = append(kept, s)
	}
	return apart(kept, &log), log.Findings()
}

func asideText(at linear.Place, found bool) string {
	if !found {
		return ""
	}
	return fmt.Sprintf("%.0f m", float64(at.Distance))
}

// stretch is a piece of a line as long as one place: two on it are one.
type stretch struct {
	line  int32
	place int
}

// apart drops barriers that stand where another does whose id comes first. It takes
// the slice over.
func apart(structures []Structure, log *check.Log) []Structure {
	standing := map[stretch]int{} // those that stay
	kept := structures[:0]
	for i := range structures {
		s := structures[i]
		at := stretch{s.Line, int(s.Measure / samePlace)}
		first := len(kept)
		for place := at.place - 1; place <= at.place+1; place++ {
			k, found := standing[stretch{s.Line, place}]
			if found && max(s.Measure-kept[k].Measure, kept[k].Measure-s.Measure) <= samePlace {
				first = min(first, k)
			}
		}
		if first < len(kept) {
			log.Add(structureKind.Finding(&s, ruleStructureTogether, "position", "", "barrier "+kept[first].ID+" stands at the same place; this one was rejected"))
			continue
		}
		standing[at] = len(kept)
		kept = append(kept, s)
	}
	return kept
}

// Connect nodes the centerlines into a directed network and returns it with a finding
// for each thing it had to repair or could not (noding, direction and orders by the
// NHDPlus rules). Lines keep their place in the slice. Placed barriers stand in the
// lines' way, each at the lower end of the stretch above it; one where lines meet is in
// the way of all that comes down to it, and where a line itself says that a barrier ends
// it, the point holds, and a finding says so. At the shores of lakes and wide rivers
// drawn as areas lines are split, so that each edge lies on one of them or on none.
func Connect(lines []Centerline, structures []Structure, surfaces []Surface, o flow.Options) (*Network, []check.Finding) {
	n, findings := connect(lines, structures, surfaces, o)
	log := check.Log{}
	stands := make([]bool, len(structures))
	for v := range n.Net.Nodes {
		if number := n.Net.Nodes[v].Stop; number > 0 && len(n.Net.In(int32(v))) > 0 {
			stands[number-1] = true
		}
	}
	for i := range structures {
		if s := &structures[i]; !stands[i] {
			log.Add(structureKind.Finding(s, ruleStructureJunction, "position", "", "the barrier holds nothing back: another stands at the same junction, or no water comes down to it"))
		}
	}
	for e := range n.Net.Edges {
		edge := &n.Net.Edges[e]
		if number := n.Net.Stopped(int32(e)); number > 0 && edge.Barrier {
			s, l := &structures[number-1], &lines[edge.Line]
			log.Add(structureKind.Finding(s, ruleStructureOnBarrier, "kind", string(s.Kind), fmt.Sprintf("line %s ends in a barrier (%s) at the same place; the point's kind and pass share hold", l.ID, l.Barrier)))
		}
	}
	findings = append(findings, log.Findings()...)
	check.Sort(findings)
	return n, findings
}

// stopsOf lists the barriers by line, as the network takes them.
func stopsOf(lines int, structures []Structure) [][]flow.Stop {
	out := make([][]flow.Stop, lines)
	for i := range structures {
		s := &structures[i]
		out[s.Line] = append(out[s.Line], flow.Stop{At: s.Measure, Number: int32(i) + 1})
	}
	for _, stops := range out {
		slices.SortFunc(stops, func(a, b flow.Stop) int { return cmp.Or(cmp.Compare(a.At, b.At), cmp.Compare(a.Number, b.Number)) })
	}
	return out
}
