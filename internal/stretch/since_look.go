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

// expose sets what floats by each cell this quarter, for each kilometre, on both banks. The
// stretches of a chain follow one another and no edge is in two chains, so one chain is done at a
// time, its edges in the network's order.
func (k *Known) expose(cuts []cut) {
	exposures := k.Drift.Exposures(k.Net)
	var (
		all     []cellPart // of a chain
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

// cellLength is the length of each of a stretch's cells.
func (s *Stretch) cellLength() geo.Meters { return s.Length / geo.Meters(len(s.Cells)) }

// look sets when each bank was last looked at, and makes what floats by this quarter
// what floated by since.
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

// since returns one bank as it stands at the end of the quarter: what floats by now, its
// place, and how it stood at the end of the batch before, where that was kept.
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

// asIn is how far, metres, a place may lie from a stretch of the batch before and still
// be on it. Our choice: as far as two drawings of one stream lie apart.
const asIn geo.Meters = 25

// past finds the cells of the batch before.
type past struct {
	memory   *Memory
	index    *linear.Index
	measures [][]float64 // by stretch, made when first asked for
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

// at returns the cell that a place was in.
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

// settle sums a stretch up from its cells.
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

// compare puts looks in time: what was never looked at first, then what was in a quarter
// that is not known.
func (l Look) compare(m Look) int {
	if l.State != Looked || m.State != Looked {
		return cmp.Or(cmp.Compare(l.State, m.State), compareQuarters(l.Quarter, m.Quarter))
	}
	return compareQuarters(l.Quarter, m.Quarter)
}

func compareQuarters(a, b survey.Quarter) int {
	return cmp.Or(cmp.Compare(a.Year, b.Year), cmp.Compare(a.Number, b.Number))
}
