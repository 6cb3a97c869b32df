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
	// farAside is the largest distance of a barrier from the nearest stream line. Our choice: the
	// errors of a hand-held receiver and of a 1:100,000 centerline together.
	farAside = 100 // m

	// samePlace is the distance along a line within which two barriers are the same. Our choice: the
	// distance within which stream ends are joined.
	samePlace = 1 // m
)

// PlaceStructures puts checked barriers on the nearest place of the nearest centerline, except
// coasts; of equally near lines, on the first. It rejects those more than 100 m from every line. Of
// several within 1 m along one line it keeps the one with the first id. It returns the placed
// barriers, in their order, and the findings. It does not split lines; Connect does.
func PlaceStructures(lines []Centerline, structures []Structure) ([]Structure, []check.Finding) {
	if len(structures) == 0 {
		return nil, nil
	}
	var log check.Log
	var number []int32 // indices of the lines searched
	var paths []orb.LineString
	for i := range lines {
		if !lines[i].Coast {
			number, paths = append(number, int32(i)), append(paths, lines[i].Path)
		}
	}
	drawn := linear.LinesOf(paths)
	index := linear.NewIndexOf(drawn)
	kept := make([]Structure, 0, len(structures))
	for i := range structures {
		s := structures[i]
		at, found := index.Nearest(s.Position)
		if !found || at.Distance > farAside {
			log.Add(structureKind.Finding(&s, ruleStructureFar, "position", asideText(at, found), "no stream is near enough; the barrier was rejected"))
			continue
		}
		s.Line = number[at.Line]
		path, measure := drawn.MeasureOf(int(at.Line), int(at.Segment))
		s.Measure = measure
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

// stretch is a samePlace-long piece of a line: two barriers on it are the same.
type stretch struct {
	line  int32
	place int
}

// apart drops barriers at the place of another barrier with an earlier id. It reuses the slice.
func apart(structures []Structure, log *check.Log) []Structure {
	standing := map[stretch]int{} // barriers kept
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

// stopsOf lists the barriers by line, as stops for the network.
func stopsOf(structures []Structure) map[int32]*flow.Along {
	out := make(map[int32]*flow.Along)
	for i := range structures {
		s := &structures[i]
		if out[s.Line] == nil {
			out[s.Line] = new(flow.Along)
		}
		along := out[s.Line]
		along.Stops = append(along.Stops, flow.Stop{At: s.Measure, Number: int32(i) + 1})
	}
	for _, along := range out {
		slices.SortFunc(along.Stops, func(a, b flow.Stop) int { return cmp.Or(cmp.Compare(a.At, b.At), cmp.Compare(a.Number, b.Number)) })
	}
	return out
}
