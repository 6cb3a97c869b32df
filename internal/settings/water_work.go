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

// cloned returns the table with no storage shared with it.
func (s WaterWorkSettings) cloned() WaterWorkSettings {
	s.Distances = slices.Clone(s.Distances)
	return s
}

// Written says whether the table of work at the water is wanted of a batch with so many
// stands.
func (s WaterWorkSettings) Written(stands int) bool { return written(s.Write, stands) }

// LeftOut says whether it is not only because there are many.
func (s WaterWorkSettings) LeftOut(stands int) bool { return s.Write == auto && stands > manyStands }

// Within returns the distances from a bank, ascending, each once.
func (s WaterWorkSettings) Within() []geo.Meters {
	all := inUnit[geo.Meters](s.Distances)
	slices.Sort(all)
	return slices.Compact(all)
}
