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

// defaultCrew returns the table with its defaults.
func defaultCrew() CrewSettings {
	s := crew.DefaultSettings()
	return CrewSettings{Owner: s.Owner, Permission: s.Permission, Gate: s.Gate, MostStops: s.MostStops}
}

// stage converts the table for the crew sheets, which have the programme's name in their heading.
func (s CrewSettings) stage(programme string) crew.Settings {
	return crew.Settings{
		Programme:    programme,
		MeetingPlace: s.MeetingPlace, Emergency: s.Emergency, Drying: s.Drying, StopWhen: s.StopWhen,
		Owner: s.Owner, Permission: s.Permission, Gate: s.Gate, MostStops: s.MostStops,
	}
}
