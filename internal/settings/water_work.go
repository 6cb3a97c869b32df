package settings

import (
	"slices"

	"driftreach/geo"
)

// WaterWorkSettings is the [water_work] table.
type WaterWorkSettings struct {
	Write     string    `toml:"write" json:"write"`
	Distances []float64 `toml:"distances_m" json:"distances_m"`
}

// cloned returns a deep copy.
func (s WaterWorkSettings) cloned() WaterWorkSettings {
	s.Distances = slices.Clone(s.Distances)
	return s
}

// Written says whether the table of work at the water is written for a batch with the given number of
// stands.
func (s WaterWorkSettings) Written(stands int) bool { return written(s.Write, stands) }

// LeftOut says whether it is left out only because there are too many stands.
func (s WaterWorkSettings) LeftOut(stands int) bool { return s.Write == auto && stands > manyStands }

// Within returns the distances from a bank, ascending, without duplicates.
func (s WaterWorkSettings) Within() []geo.Meters {
	all := inUnit[geo.Meters](s.Distances)
	slices.Sort(all)
	return slices.Compact(all)
}
