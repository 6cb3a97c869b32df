package aquatic

import (
	"fmt"

	"driftreach/geo"
	"driftreach/internal/stream"
)

// Settings are the rules that draw the aquatic zone.
type Settings struct {
	// Setback is the distance from the bank within which the zone lies, in
	// metres. Default 30, assumed: the legal distance is the jurisdiction's.
	Setback geo.Meters
	// WidthByOrder is the bankfull width by stream order, in metres, for
	// centerlines that record none; the last entry serves every higher order.
	// Default 2, 4, 8, 16, 32, 64, assumed: doubling with order.
	WidthByOrder []geo.Meters
	// Margin is how far beyond the zone records are still listed, in metres,
	// for those who ask what a wider zone would take in. Default 0.
	Margin geo.Meters
	// Chord is how far the outline may lie off the arcs it is drawn for, in metres. Default
	// 0.1, our choice: a fiftieth of what the position of a find is taken to be off by where
	// nobody says; areas do not hang on it.
	Chord geo.Meters
}

// DefaultSettings returns the defaults named on each field.
func DefaultSettings() Settings {
	return Settings{Setback: 30, Chord: 0.1, WidthByOrder: []geo.Meters{2, 4, 8, 16, 32, 64}}
}

// farthest bounds every distance of the settings. Our choice: that of the widest
// stream, beyond which no frame that a zone is drawn in is true.
const farthest = stream.MostWidth

// Validate returns an error that names the first value out of range.
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
