package settings

import "driftreach/internal/crew"

// CrewSettings is the [crew] table.
type CrewSettings struct {
	MeetingPlace string `toml:"meeting_place" json:"meeting_place"`
	Emergency    string `toml:"emergency" json:"emergency"`
	Drying       string `toml:"drying_place" json:"drying_place"`
	StopWhen     string `toml:"stop_when" json:"stop_when"`
	Owner        string `toml:"owner_column" json:"owner_column"`
	Permission   string `toml:"permission_column" json:"permission_column"`
	Gate         string `toml:"gate_column" json:"gate_column"`
	MostStops    int    `toml:"most_stops" json:"most_stops"`
}

// defaultCrew is the table at its defaults.
func defaultCrew() CrewSettings {
	s := crew.DefaultSettings()
	return CrewSettings{Owner: s.Owner, Permission: s.Permission, Gate: s.Gate, MostStops: s.MostStops}
}

// stage is the table as the sheets take it, headed with the programme's name.
func (s CrewSettings) stage(programme string) crew.Settings {
	return crew.Settings{
		Programme:    programme,
		MeetingPlace: s.MeetingPlace, Emergency: s.Emergency, Drying: s.Drying, StopWhen: s.StopWhen,
		Owner: s.Owner, Permission: s.Permission, Gate: s.Gate, MostStops: s.MostStops,
	}
}

// crewPrefix begins the settings of what a crew takes along, on which no figure rests.
const crewPrefix = "crew."

// byHand is the source of words that only a programme has.
const byHand = "yours: blank is a line on the sheet to be filled in by hand"

var crewTable = []Setting{
	{"crew.meeting_place", "", Practice, "where a crew meets in an emergency, on every sheet of crew.html", byHand, inWordsOrBlank(),
		func(s *Settings) any { return &s.Crew.MeetingPlace }},
	{"crew.emergency", "", Practice, "whom a crew calls in an emergency, and how", byHand, inWordsOrBlank(),
		func(s *Settings) any { return &s.Crew.Emergency }},
	{"crew.drying_place", "", Practice, "where cane that was cut or pulled is dried", byHand, inWordsOrBlank(),
		func(s *Settings) any { return &s.Crew.Drying }},
	{"crew.stop_when", "", Practice, "limits of wind, rain and water at which work stops, as label, permit and programme have them", byHand, inWordsOrBlank(),
		func(s *Settings) any { return &s.Crew.StopWhen }},
	{"crew.owner_column", "", Practice, "column of the survey points that names the owner of the ground; blank for none", "common practice: a plain name for it", inWordsOrBlank(),
		func(s *Settings) any { return &s.Crew.Owner }},
	{"crew.permission_column", "", Practice, "column of the survey points with the permission to enter", "common practice: a plain name for it", inWordsOrBlank(),
		func(s *Settings) any { return &s.Crew.Permission }},
	{"crew.gate_column", "", Practice, "column of the survey points with the gate, or another way in", "common practice: a plain name for it", inWordsOrBlank(),
		func(s *Settings) any { return &s.Crew.Gate }},
	{"crew.most_stops", "stops", Assumed, "stops with a sheet of their own in crew.html; crew.gpx and crew.gpkg have all",
		"our choice: a few weeks of a crew, and a page that any browser prints", within(1, 500),
		func(s *Settings) any { return &s.Crew.MostStops }},
}
