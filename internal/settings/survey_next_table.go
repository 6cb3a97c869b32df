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

// The words of settings that say when an output is written.
const (
	auto   = "auto"
	always = "always"
	never  = "never"
)

// manyStands is the most stands of a batch whose outputs of planning are written without
// being asked for. Our choice: above that they are a tenth of a batch's time.
const manyStands = 5000

// written says whether an output is wanted of a batch with so many stands.
func written(word string, stands int) bool {
	return word == always || word == auto && stands <= manyStands
}

// Written says whether the list of where to look next is wanted of a batch with so many
// stands.
func (s SurveyNextSettings) Written(stands int) bool { return written(s.Write, stands) }

// LeftOut says whether it is not only because there are many.
func (s SurveyNextSettings) LeftOut(stands int) bool { return s.Write == auto && stands > manyStands }

// defaultSurveyNext is the table at its defaults.
func defaultSurveyNext() SurveyNextSettings {
	s := stretch.DefaultSettings()
	return SurveyNextSettings{
		Write: auto, Stretch: float64(s.Length), ListShare: s.ListShare, PlacesShare: s.PlacesShare, RandomShare: s.RandomShare,
		Seed: int(s.Seed), Near: float64(s.Near),
	}
}

// stage is the table as the stage takes it.
func (s SurveyNextSettings) stage() stretch.Settings {
	return stretch.Settings{
		Length: geo.Kilometers(s.Stretch), ListShare: s.ListShare, PlacesShare: s.PlacesShare, RandomShare: s.RandomShare,
		Seed: uint64(s.Seed), Near: geo.Meters(s.Near),
	}
}

// surveyNextPrefix begins the settings that the list of where to look next rests on, and
// no figure of stands.
const surveyNextPrefix = "survey_next."

var surveyNextTable = []Setting{
	{"survey_next.write", "", Practice, "survey_next.csv and .geojson are written; auto: unless there are more than 5000 stands", "common practice: what is not asked for does not hold up a large batch", oneOf(auto, always, never),
		func(s *Settings) any { return &s.SurveyNext.Write }},
	{"survey_next.stretch_km", "km", Assumed, "longest stretch of stream that is one row of where to look next; every confluence ends one",
		"our choice: what two people walk and look at in an hour or two along a grown-up bank", above(0, 1000),
		func(s *Settings) any { return &s.SurveyNext.Stretch }},
	{"survey_next.list_share", "share", Assumed, "part of all kilometres of stream that is on the list; the rest follows it by rank",
		"our choice: a tenth", above(0, 1),
		func(s *Settings) any { return &s.SurveyNext.ListShare }},
	{"survey_next.places_share", "share", Assumed, "part of the list for stretches just above the highest stand of a tributary, at the head of a stream and with planned works below live stands",
		"our choice: a fifth, since drift says nothing of them", within(0, 0.5),
		func(s *Settings) any { return &s.SurveyNext.PlacesShare }},
	{"survey_next.random_share", "share", Assumed, "part of the list that is a random sample of all stretches",
		"our choice: a fifth, so that a few years of it tell how much is missed elsewhere", within(0, 0.5),
		func(s *Settings) any { return &s.SurveyNext.RandomShare }},
	{"survey_next.seed", "", Practice, "decides the random sample: the same seed and quarter, the same stretches",
		"common practice: a draw that can be made again; any number will do", within(0, 1e9),
		func(s *Settings) any { return &s.SurveyNext.Seed }},
	{"survey_next.near_m", "m", Assumed, "live stands this close or closer to a stretch are near by",
		"our choice: what is in sight of people on the way", within(0, 100000),
		func(s *Settings) any { return &s.SurveyNext.Near }},
}
