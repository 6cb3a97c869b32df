package settings

import (
	"driftreach/geo"
	"driftreach/internal/stretch"
)

// SurveyNextSettings is the [survey_next] table.
type SurveyNextSettings struct {
	Write       string  `toml:"write" json:"write"`
	Stretch     float64 `toml:"stretch_km" json:"stretch_km"`
	ListShare   float64 `toml:"list_share" json:"list_share"`
	PlacesShare float64 `toml:"places_share" json:"places_share"`
	RandomShare float64 `toml:"random_share" json:"random_share"`
	Seed        int     `toml:"seed" json:"seed"`
	Near        float64 `toml:"near_m" json:"near_m"`
}

// Written says whether the list of where to survey next is written for a batch with the given number of
// stands.
func (s SurveyNextSettings) Written(stands int) bool { return written(s.Write, stands) }

// LeftOut says whether it is left out only because there are too many stands.
func (s SurveyNextSettings) LeftOut(stands int) bool { return s.Write == auto && stands > manyStands }

// defaultSurveyNext returns the table with its defaults.
func defaultSurveyNext() SurveyNextSettings {
	s := stretch.DefaultSettings()
	return SurveyNextSettings{
		Write: auto, Stretch: float64(s.Length), ListShare: float64(s.ListShare),
		PlacesShare: float64(s.PlacesShare), RandomShare: float64(s.RandomShare),
		Seed: int(s.Seed), Near: float64(s.Near),
	}
}

// stage converts the table for the stage.
func (s SurveyNextSettings) stage() stretch.Settings {
	return stretch.Settings{
		Length: geo.Kilometers(s.Stretch), ListShare: geo.Share(s.ListShare),
		PlacesShare: geo.Share(s.PlacesShare), RandomShare: geo.Share(s.RandomShare),
		Seed: uint64(s.Seed), Near: geo.Meters(s.Near),
	}
}
