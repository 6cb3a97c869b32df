package settings

var surveyNextTable = []Setting{
	{"survey_next.write", "", Practice, "whether survey_next.csv and .geojson are written; auto: unless there are more than 5000 stands", "common practice: files that nobody asked for do not slow a large batch", oneOf(auto, always, never),
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
