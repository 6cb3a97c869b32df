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

var waterWorkTable = []Setting{
	{"water_work.write", "", Practice, "water_work.csv is written; auto: unless there are more than 5000 stands", "common practice: what is not asked for does not hold up a large batch", oneOf(auto, always, never),
		func(s *Settings) any { return &s.WaterWork.Write }},
	{"water_work.distances_m", "m", Practice, "distances from the bank within which water_work.csv tells the acres of treatment areas, beside those in the zone; none by default",
		"yours: the distances that your jurisdiction's forms ask for", list(0, 10, within(0, 10000)),
		func(s *Settings) any { return &s.WaterWork.Distances }},
}
