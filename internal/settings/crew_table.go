package settings

// byHand is the source of texts that only a programme has.
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
