package stretch

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/geo/linear"
	"driftreach/internal/survey"
)

// expose sets the exposure of each cell in this quarter, per kilometre, the same for both banks. It
// handles one chain at a time, with the chain's edges in the network's order: the stretches of a
// chain are consecutive, and no edge is in two chains.
func (k *Known) expose(cuts []cut) {
	exposures := k.Drift.Exposures(k.Net)
	var (
		all     []cellPart // of one chain
		pieces  []flow.Piece
		exposed []float64
	)
	for first, to := 0, 0; first < len(cuts); first = to {
		all = all[:0]
		for to = first; to < len(cuts) && cuts[to].on == cuts[first].on; to++ {
			for c := range cuts[to].Cells {
				pieces = cuts[to].appendCell(pieces[:0], k.Net, c)
				for _, p := range pieces {
					all = append(all, cellPart{int32(to), int32(c), p})
				}
			}
		}
		slices.SortStableFunc(all, func(a, b cellPart) int { return cmp.Compare(a.piece.Edge, b.piece.Edge) })
		exposed = exposed[:0]
		for i := 0; i < len(all); {
			pieces = pieces[:0]
			for edge := all[i].piece.Edge; i < len(all) && all[i].piece.Edge == edge; i++ {
				pieces = append(pieces, all[i].piece)
			}
			exposed = exposures.Append(exposed, pieces)
		}
		for i, exposure := range exposed {
			one := &cuts[all[i].cut]
			one.Now += exposure
			for b := range one.Cells[all[i].cell].Banks {
				one.Cells[all[i].cell].Banks[b].Exposure += exposure / float64(one.cellLength().Kilometers())
			}
		}
	}
}

// cellPart is a piece of a cell.
type cellPart struct {
	cut, cell int32
	piece     flow.Piece
}

// cellLength is the length of each cell of a stretch.
func (s *Stretch) cellLength() geo.Meters { return s.Length / geo.Meters(len(s.Cells)) }

// look sets when each bank was last looked at, and turns this quarter's exposure into the exposure
// since that look.
func (k *Known) look(cuts []cut) {
	sides := newBanks(k.Net, k.Half)
	past := newPast(k.Memory)
	for i := range cuts {
		for c := range cuts[i].Cells {
			middle, places := sides.of(cuts[i].middle(k.Net, c))
			banks := &cuts[i].Cells[c].Banks
			before, kept := past.at(middle)
			for b := range banks {
				banks[b] = k.since(banks[b].Exposure, places[b], before.Banks[b], kept)
			}
		}
	}
}

// since returns the state of one bank at the end of the quarter, from this quarter's exposure, the
// bank's place, and its state at the end of the last batch if that was stored.
func (k *Known) since(now float64, at orb.Point, before Bank, kept bool) Bank {
	switch {
	case k.Now.Holds(at):
		return Bank{Last: Look{Looked, k.Quarter}}
	case kept:
		quarters := between(k.Memory.Quarter, k.Quarter)
		return Bank{Last: before.Last, Exposure: before.Exposure + now*float64(quarters)}
	case k.Before != nil && k.Before.Holds(at):
		return Bank{Last: Look{Unknown, k.Quarter}, Exposure: now}
	}
	return Bank{Last: Look{Never, k.Quarter}, Exposure: now}
}

// asIn is the largest distance, in metres, of a place from a stretch of the last batch at which it
// counts as on that stretch. Our choice: the distance between two drawings of one stream.
const asIn geo.Meters = 25

// past finds the cells of the last batch.
type past struct {
	memory   *Memory
	index    *linear.Index
	measures [][]float64 // by stretch, computed on first use
}

func newPast(m *Memory) *past {
	if m == nil {
		return nil
	}
	paths := make([]orb.LineString, len(m.Stretches))
	for i := range m.Stretches {
		paths[i] = m.Stretches[i].Path
	}
	return &past{m, linear.NewIndex(paths), make([][]float64, len(paths))}
}

// at returns the cell that contained a place.
func (p *past) at(place orb.Point) (Cell, bool) {
	if p == nil {
		return Cell{}, false
	}
	near, ok := p.index.Nearest(place)
	if !ok || near.Distance > asIn {
		return Cell{}, false
	}
	one := &p.memory.Stretches[near.Line]
	if p.measures[near.Line] == nil {
		p.measures[near.Line] = linear.Measure(one.Path)
	}
	measures := p.measures[near.Line]
	i, along := int(near.Segment), 0.0
	if all := measures[len(measures)-1]; all > 0 {
		along = measures[i]
		if i+1 < len(measures) {
			along += near.Fraction * (measures[i+1] - measures[i])
		}
		along /= all
	}
	return one.Cells[min(len(one.Cells)-1, int(along*float64(len(one.Cells))))], true
}

// settle computes a stretch's values from its cells.
func (s *Stretch) settle() {
	banks := make([]Bank, 0, 2*len(s.Cells))
	never := 0
	s.Exposure = 0
	for i := range s.Cells {
		for _, b := range s.Cells[i].Banks {
			banks = append(banks, b)
			s.Exposure += b.Exposure * float64(s.cellLength().Kilometers()) / 2
			if b.Last.State == Never {
				never++
			}
		}
	}
	s.NeverShare = float64(never) / float64(len(banks))
	slices.SortStableFunc(banks, func(a, b Bank) int { return a.Last.compare(b.Last) })
	s.Last = banks[(len(banks)-1)/2].Last
	s.Counted = slices.MinFunc(banks, func(a, b Bank) int { return compareQuarters(a.Last.Counted(), b.Last.Counted()) }).Last.Counted()
}

// compare orders looks by time: never looked at first, then looked at in an unknown quarter.
func (l Look) compare(m Look) int {
	if l.State != Looked || m.State != Looked {
		return cmp.Or(cmp.Compare(l.State, m.State), compareQuarters(l.Quarter, m.Quarter))
	}
	return compareQuarters(l.Quarter, m.Quarter)
}

func compareQuarters(a, b survey.Quarter) int {
	return cmp.Or(cmp.Compare(a.Year, b.Year), cmp.Compare(a.Number, b.Number))
}
