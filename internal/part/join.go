package part

import (
	"fmt"

	"github.com/paulmach/orb"

	"driftreach/internal/spill"
	"driftreach/internal/stand"
)

// Whole is all results combined, the same as if everything had been computed at once. Outlines and
// pieces of the zone are on a shelf.
type Whole struct {
	Stands []stand.Stand // in any order

	shelf *spill.Shelf
	zone  []spill.Text // by piece
	in    []bool       // by record: it is in a stand
	drawn []bool       // by piece: it is drawn
}

// NewWhole returns an empty Whole for a plan.
func NewWhole(p *Plan, shelf *spill.Shelf) *Whole {
	return &Whole{shelf: shelf, zone: make([]spill.Text, p.Pieces), in: make([]bool, p.Records), drawn: make([]bool, p.Pieces)}
}

// Pieces returns the number of pieces of the zone.
func (w *Whole) Pieces() int { return len(w.zone) }

// Piece returns a drawn piece of the zone.
func (w *Whole) Piece(i int) orb.MultiPolygon { return areaOf(w.zone[i].Bytes()) }

// Add adds the result of one part, and takes it over. The error says what in it cannot belong to the
// plan, or is one of the shelf.
func (w *Whole) Add(r *Result) error {
	if len(r.PieceAt) != len(r.Zone) {
		return fmt.Errorf("%d pieces of the zone have %d places", len(r.Zone), len(r.PieceAt))
	}
	for i := range r.Stands {
		for _, m := range r.Stands[i].Members {
			if m < 0 || int(m) >= len(w.in) || w.in[m] {
				return fmt.Errorf("record %d is not there, or in two stands", m)
			}
			w.in[m] = true
		}
	}
	var room []byte
	for i, at := range r.PieceAt {
		if at < 0 || int(at) >= len(w.drawn) || w.drawn[at] {
			return fmt.Errorf("piece %d of the zone is not there, or drawn twice", at)
		}
		room = appendArea(room[:0], r.Zone[i])
		var err error
		if w.zone[at], err = w.shelf.Put(room); err != nil {
			return err
		}
		w.drawn[at] = true
	}
	for i := range r.Stands {
		st := &r.Stands[i]
		var err error
		if st.Footprint, err = st.Footprint.Keep(w.shelf.Keep); err != nil {
			return err
		}
	}
	w.Stands = append(w.Stands, r.Stands...)
	return nil
}

// Complete says whether every record with a detection is in a stand, and every piece is drawn.
func (w *Whole) Complete(p *Plan) bool {
	return count(w.in) == p.Detected && count(w.drawn) == p.Pieces
}

func count(all []bool) int {
	n := 0
	for _, is := range all {
		if is {
			n++
		}
	}
	return n
}
