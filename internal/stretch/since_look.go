package stretch

import (
	"cmp"
	"context"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/flow"
	"driftreach/geo/linear"
	"driftreach/geo/parallel"
	"driftreach/internal/drift"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
)

// measure computes each stretch's values from its cells, some chains at a time: the stretches of a
// chain are consecutive, and no edge is in two chains. Only the cells of one chain a worker are
// unpacked.
func (k *Known) measure(cuts []cut, all []Stretch) {
	runs := chainRuns(cuts)
	sides, past := newBanks(k.Net, k.Half), newPast(k.Memory)
	_ = parallel.EachWith(context.Background(), len(runs), k.Workers, 1, func() func(int) {
		m := measurer{known: k, exposer: exposer{net: k.Net, of: k.Drift.Exposures(k.Net)}, sides: *sides, past: past.another()}
		return func(i int) { m.run(cuts[runs[i][0]:runs[i][1]], all[runs[i][0]:runs[i][1]]) }
	})
}

// stretchesPerTask makes a task worth handing out. Our choice.
const stretchesPerTask = 64

// chainRuns divides the cuts into runs of whole chains, from and to.
func chainRuns(cuts []cut) [][2]int {
	var out [][2]int
	first := 0
	for i := range cuts {
		if last := i+1 == len(cuts); last || cuts[i+1].on != cuts[i].on && i+1-first >= stretchesPerTask {
			out = append(out, [2]int{first, i + 1})
			first = i + 1
		}
	}
	return out
}

// measurer computes the values of stretches for one worker.
type measurer struct {
	known   *Known
	exposer exposer
	sides   banks
	past    *past
	cells   [][]Cell // of the present chain, by stretch
	banks   []Bank   // of a stretch
	room    []byte   // for a stretch on its way to the shelf
}

// run computes the values of the stretches of some chains.
func (m *measurer) run(cuts []cut, all []Stretch) {
	for first, to := 0, 0; first < len(cuts); first = to {
		m.cells = m.cells[:0]
		for to = first; to < len(cuts) && cuts[to].on == cuts[first].on; to++ {
			m.cells = append(m.cells, make([]Cell, cuts[to].cells))
		}
		m.exposer.expose(cuts[first:to], all[first:to], m.cells)
		reach := m.sides.reach(cuts[first].on.edges)
		for i, own := range m.cells {
			one, line := &all[first+i], cuts[first+i].line(m.known.Net)
			m.known.look(&cuts[first+i], own, around(line, reach), &m.sides, m.past)
			m.banks = one.settle(own, m.banks)
			if cells := PackCells(own); m.known.Shelf == nil {
				one.Drawn = &Drawn{line, cells}
			} else {
				m.room = one.keep(line, cells, m.known.Shelf, m.room)
			}
		}
	}
}

// exposer computes the exposure of cells in this quarter.
type exposer struct {
	net     *stream.Network
	of      *drift.Exposures
	all     []cellPart // of the present chain
	pieces  []flow.Piece
	exposed []drift.AmountKm
}

// expose sets the exposure of each cell of one chain in this quarter, per kilometre; it is the same
// for both banks. It works through the chain's edges in the network's order.
func (e *exposer) expose(cuts []cut, all []Stretch, cells [][]Cell) {
	e.all = e.all[:0]
	for i := range cuts {
		for c := range cells[i] {
			e.pieces = cuts[i].appendCell(e.pieces[:0], e.net, c)
			for _, p := range e.pieces {
				e.all = append(e.all, cellPart{int32(i), int32(c), p})
			}
		}
	}
	slices.SortStableFunc(e.all, func(a, b cellPart) int { return cmp.Compare(a.piece.Edge, b.piece.Edge) })
	e.exposed = e.exposed[:0]
	for i := 0; i < len(e.all); {
		e.pieces = e.pieces[:0]
		for edge := e.all[i].piece.Edge; i < len(e.all) && e.all[i].piece.Edge == edge; i++ {
			e.pieces = append(e.pieces, e.all[i].piece)
		}
		e.exposed = e.of.Append(e.exposed, e.pieces)
	}
	for i, exposure := range e.exposed {
		part := e.all[i]
		all[part.cut].Now += exposure
		for b := range cells[part.cut][part.cell].Banks {
			cells[part.cut][part.cell].Banks[b].Exposure += exposure.Per(all[part.cut].cellLength(len(cells[part.cut])).Kilometers())
		}
	}
}

// cellPart is a piece of a cell.
type cellPart struct {
	cut, cell int32
	piece     flow.Piece
}

// cellLength is the length of each cell if the stretch has that many.
func (s *Stretch) cellLength(cells int) geo.Meters { return s.Length / geo.Meters(cells) }

// look sets when each bank of a stretch was last looked at, and turns this quarter's exposure into
// the exposure since that look. All of its banks are in the box.
func (k *Known) look(c *cut, cells []Cell, box orb.Bound, sides *banks, past *past) {
	near := k.Now.Meets(box) || k.Before != nil && k.Before.Meets(box)
	for i := range cells {
		var middle orb.Point
		var places [2]orb.Point
		if near || past != nil { // most stretches are far from all ground looked at
			middle = sides.middle(c.middle(k.Net, i))
		}
		if near {
			places = sides.beside(middle)
		}
		banks := &cells[i].Banks
		before, kept := past.at(middle)
		for b := range banks {
			banks[b] = k.since(banks[b].Exposure, places[b], near, before.Banks[b], kept)
		}
	}
}

// since returns the state of one bank at the end of the quarter, from this quarter's exposure, the
// bank's place, which matters only if ground looked at is near, and its state at the end of the last batch
// if that was stored.
func (k *Known) since(now drift.Amount, at orb.Point, near bool, before Bank, kept bool) Bank {
	switch {
	case near && k.Now.Holds(at):
		return Bank{Last: Look{Looked, k.Quarter}}
	case kept:
		quarters := between(k.Memory.Quarter, k.Quarter)
		return Bank{Last: before.Last, Exposure: before.Exposure + now*drift.Amount(quarters)}
	case near && k.Before != nil && k.Before.Holds(at):
		return Bank{Last: Look{Unknown, k.Quarter}, Exposure: now}
	}
	return Bank{Last: Look{Never, k.Quarter}, Exposure: now}
}

// asIn is the largest distance, in metres, of a place from a stretch of the last batch at which it
// counts as on that stretch. Our choice: the distance between two drawings of one stream.
const asIn geo.Meters = 25

// past finds the cells of the last batch.
type past struct {
	memory *Memory
	index  *linear.Index

	// of the stretch of the previous query: queries go along one stretch after another
	stretch  int32 // -1 for none
	cells    []Cell
	measures []geo.Meters
}

func newPast(m *Memory) *past {
	if m == nil {
		return nil
	}
	paths := make([]orb.LineString, len(m.Stretches))
	for i := range m.Stretches {
		paths[i] = m.Stretches[i].Path
	}
	return &past{memory: m, index: linear.NewIndex(paths), stretch: -1}
}

// another returns a finder for another worker.
func (p *past) another() *past {
	if p == nil {
		return nil
	}
	return &past{memory: p.memory, index: p.index, stretch: -1}
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
	if p.stretch != near.Line {
		p.stretch, p.cells, p.measures = near.Line, one.Cells.Append(p.cells[:0]), earth.LengthsAlong(one.Path)
	}
	measures := p.measures
	i, along := int(near.Segment), geo.Meters(0)
	if all := measures[len(measures)-1]; all > 0 {
		along = measures[i]
		if i+1 < len(measures) {
			along += geo.Meters(near.Fraction) * (measures[i+1] - measures[i])
		}
		along /= all
	}
	return p.cells[min(len(p.cells)-1, int(float64(along)*float64(len(p.cells))))], true
}

// settle computes a stretch's values from its cells. It collects their banks in room, and returns
// room for reuse.
func (s *Stretch) settle(cells []Cell, room []Bank) []Bank {
	banks := room[:0]
	never := 0
	s.Exposure = 0
	for i := range cells {
		for _, b := range cells[i].Banks {
			banks = append(banks, b)
			s.Exposure += b.Exposure.Over(s.cellLength(len(cells)).Kilometers()) / 2
			if b.Last.State == Never {
				never++
			}
		}
	}
	s.NeverShare = geo.Share(never) / geo.Share(len(banks))
	slices.SortStableFunc(banks, func(a, b Bank) int { return a.Last.compare(b.Last) })
	s.Last = banks[(len(banks)-1)/2].Last
	s.Counted = slices.MinFunc(banks, func(a, b Bank) int { return compareQuarters(a.Last.Counted(), b.Last.Counted()) }).Last.Counted()
	return banks
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
