package part

import (
	"fmt"

	"github.com/paulmach/orb"

	"driftreach/geo/shape"
	"driftreach/internal/aquatic"
	"driftreach/internal/margin"
	"driftreach/internal/spill"
	"driftreach/internal/stand"
)

// Whole is all results combined, the same as if everything had been computed at once. Outlines and
// pieces of the zone are on a shelf.
type Whole struct {
	Stands  []stand.Stand  // in any order
	Margins []margin.Stand // by stand; an observer's error is numbered by the index of one of its records

	shelf  *spill.Shelf
	zone   []spill.Text             // by piece
	bodies map[int32]aquatic.Joined // water bodies that one part had whole, by their first piece
	texts  map[string]textAt        // their texts, by name
	in     []bool                   // by record: it is in a stand
	drawn  []bool                   // by piece: it is drawn
}

// newWhole returns an empty Whole for a split.
func newWhole(p *Split, shelf *spill.Shelf) *Whole {
	return &Whole{
		shelf: shelf, zone: make([]spill.Text, p.Pieces), bodies: map[int32]aquatic.Joined{}, texts: map[string]textAt{},
		in: make([]bool, p.Records), drawn: make([]bool, p.Pieces),
	}
}

// textAt is a text whose bytes are on the shelf.
type textAt struct {
	Text
	at spill.Text
}

// Text returns the text of a water body, if a part has written one.
func (w *Whole) Text(body string) (text Text, there bool) {
	kept, there := w.texts[body]
	if there {
		text = kept.Text
		text.Deflated = kept.at.Bytes()
	}
	return text, there
}

// Drawn returns what was drawn of the zone.
func (w *Whole) Drawn() aquatic.Drawn {
	return aquatic.Drawn{
		Count: len(w.zone), Again: true,
		Piece: func(i int) orb.MultiPolygon { return shape.PolygonsOf(w.zone[i].Bytes()) },
		Body: func(first int) (aquatic.Joined, bool) {
			joined, done := w.bodies[int32(first)]
			return joined, done
		},
	}
}

// Joined lets go of what was drawn of the zone, once it is joined.
func (w *Whole) Joined() { w.zone, w.bodies, w.in, w.drawn = nil, nil, nil, nil }

// Add adds the result of one part, and takes it over. The error says what in it cannot belong to the
// split, or is one of the shelf.
func (w *Whole) Add(r *Result) error {
	if len(r.PieceAt) != len(r.Zone) {
		return fmt.Errorf("%d pieces of the zone have %d places", len(r.Zone), len(r.PieceAt))
	}
	if len(r.Margins) != len(r.Stands) {
		return fmt.Errorf("%d stands have %d errors of acres", len(r.Stands), len(r.Margins))
	}
	for i := range r.Stands {
		if !r.Margins[i].Within(len(w.in)) {
			return fmt.Errorf("the errors of stand %d are of a record that is not there", i)
		}
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
		var err error
		if w.zone[at], err = w.shelf.Put(r.Zone[i]); err != nil {
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
	for i := range r.Bodies {
		b := &r.Bodies[i]
		if b.First < 0 || b.Count < 1 || int(b.First)+int(b.Count) > len(r.PieceAt) {
			return fmt.Errorf("the pieces of water body %d are not there", i)
		}
		var err error
		if b.Geometry, err = b.Geometry.Keep(w.shelf.Keep); err != nil {
			return err
		}
		w.bodies[r.PieceAt[b.First]] = b.Joined
		if b.Text.Deflated == nil {
			continue
		}
		at, err := w.shelf.Put(b.Text.Deflated)
		if err != nil {
			return err
		}
		b.Text.Deflated = nil
		w.texts[b.Name] = textAt{b.Text, at}
	}
	w.Stands, w.Margins = append(w.Stands, r.Stands...), append(w.Margins, r.Margins...)
	return nil
}

// Complete says whether every record with a detection is in a stand, and every piece is drawn.
func (w *Whole) Complete(p *Split) bool {
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
