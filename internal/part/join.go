package part

import (
	"fmt"

	"github.com/paulmach/orb"

	"driftreach/internal/stand"
)

// Whole is all results combined, the same as if everything had been computed at once.
type Whole struct {
	Stands []stand.Stand      // in any order
	Zone   []orb.MultiPolygon // by piece

	in    []bool // by record: it is in a stand
	drawn []bool // by piece: it is drawn
}

// NewWhole returns an empty Whole for a plan.
func NewWhole(p *Plan) *Whole {
	return &Whole{Zone: make([]orb.MultiPolygon, p.Pieces), in: make([]bool, p.Records), drawn: make([]bool, p.Pieces)}
}

// Add adds the result of one part. The error says what in it cannot belong to the plan.
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
	for i, at := range r.PieceAt {
		if at < 0 || int(at) >= len(w.drawn) || w.drawn[at] {
			return fmt.Errorf("piece %d of the zone is not there, or drawn twice", at)
		}
		w.drawn[at], w.Zone[at] = true, r.Zone[i]
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
