package aquatic

import (
	"fmt"

	"driftreach/geo"
	"driftreach/internal/stream"
)

// Settings are the rules for drawing the aquatic zone.
type Settings struct {
	// Setback is the width of the zone beyond the bank, in metres. Default 30, assumed: the legal
	// distance is set by the jurisdiction.
	Setback geo.Meters
	// WidthByOrder is the bankfull width by stream order, in metres, for centerlines without a
	// recorded width; the last entry holds for all higher orders. Default 2, 4, 8, 16, 32, 64,
	// assumed: doubling with order.
	WidthByOrder []geo.Meters
	// Margin is the distance beyond the zone within which records are still listed, in metres, to
	// show what a wider zone would include. Default 0.
	Margin geo.Meters
	// Chord is how far the drawn outline may be off the true arcs, in metres. Default 0.1, our
	// choice: a fiftieth of the position error assumed for a find without a recorded one. Areas do
	// not depend on it.
	Chord geo.Meters
}

// DefaultSettings returns the defaults named on each field.
func DefaultSettings() Settings {
	return Settings{Setback: 30, Chord: 0.1, WidthByOrder: []geo.Meters{2, 4, 8, 16, 32, 64}}
}

// farthest is the largest value of every distance in the settings. Our choice: the width of the
// widest stream, beyond which no frame used for a zone is accurate.
const farthest = stream.MostWidth

// Validate returns an error naming the first value out of range.
func (s Settings) Validate() error {
	if !(s.Setback >= 0 && s.Setback <= farthest) {
		return fmt.Errorf("setback must be 0 to %g m, got %g", float64(farthest), float64(s.Setback))
	}
	if !(s.Margin >= 0 && s.Margin <= farthest) {
		return fmt.Errorf("margin must be 0 to %g m, got %g", float64(farthest), float64(s.Margin))
	}
	if !(s.Chord > 0 && s.Chord <= farthest) {
		return fmt.Errorf("chord must be above 0 m, up to %g, got %g", float64(farthest), float64(s.Chord))
	}
	if len(s.WidthByOrder) == 0 {
		return fmt.Errorf("bankfull width by order must have an entry")
	}
	for i, w := range s.WidthByOrder {
		if !(w > 0 && w <= farthest) {
			return fmt.Errorf("bankfull width of order %d must be above 0 m, up to %g, got %g", i+1, float64(farthest), float64(w))
		}
	}
	return nil
}

// width returns the bankfull width of a stream of the given order.
func (s Settings) width(order int) geo.Meters {
	return s.WidthByOrder[min(max(order, 1), len(s.WidthByOrder))-1]
}
