package aquatic

import (
	"reflect"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// By hand: a piece of two brooks and one of a lake come back as they were, and one that is cut off is
// refused.
func TestPiecesAsBytes(t *testing.T) {
	ring := orb.Ring{{1, 2}, {3, 4.5}, {-5, 6}, {1, 2}}
	for _, p := range []Piece{
		{Paths: []orb.LineString{{{10, 5}, {10.1, 5.2}}, {{10, 5}, {11, 6}, {12, 7}}}, Reach: []geo.Meters{30.25, 41}, Middle: 10, Chord: 0.1},
		{Water: orb.MultiPolygon{{ring, ring[:3]}, {ring}}, Setback: 30, Middle: -180, Chord: 0.1},
		{Middle: 1},
	} {
		b, err := p.GobEncode()
		if err != nil {
			t.Fatal(err)
		}
		var back Piece
		if err := back.GobDecode(b); err != nil || !reflect.DeepEqual(back, p) {
			t.Errorf("%+v, %v, want %+v", back, err, p)
		}
		if p.Water != nil {
			continue // the areas are read by a function of geo/shape, from files whose bytes are known to be whole
		}
		for n := range b {
			if err := new(Piece).GobDecode(b[:n]); err == nil {
				t.Errorf("%d of %d bytes are taken", n, len(b))
			}
		}
	}
}
