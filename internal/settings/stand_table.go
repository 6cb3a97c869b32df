package settings

var surveyTable = []Setting{
	{"survey.since", "", Practice, "records and surveyed ground from this day on count too; blank: only those of the quarter, or since the batch before",
		"common practice: a quarter's figures are of what was seen in it", aDay(),
		func(s *Settings) any { return &s.Survey.Since }},
	{"survey.largest_patch_m2", "m2", Assumed, "a patch larger than this is taken for a mistake in the unit and left out: the default patch is used",
		"our choice: square feet read as square metres, or square metres read as hectares, are soon larger than any single patch", above(0, 1e9),
		func(s *Settings) any { return &s.Survey.LargestPatch }},
}

var standTable = []Setting{
	{"stands.join_distance_m", "m", Published, "points this close or closer join one stand; gaps up to this wide close within its gross acres",
		"county weed-survey protocols of the U.S. Midwest: one point per 100 ft in dense growth", within(1, 1000),
		func(s *Settings) any { return &s.Stands.JoinDistance }},
	{"stands.min_points", "points", Assumed, "a point with this many points within the join distance, itself counted, is the core of a stand",
		"our choice: three is the fewest that tell a stand from a pair", within(1, 1000),
		func(s *Settings) any { return &s.Stands.MinPoints }},
	{"stands.default_patch_acres", "ac", Assumed, "area of a patch nobody measured",
		"our choice: the smallest area that survey standards map as a polygon", above(0, 100),
		func(s *Settings) any { return &s.Stands.DefaultPatch }},
	{"stands.default_cover_percent", "%", Assumed, "canopy cover of a patch nobody estimated",
		"our choice: the middle of the classes seen in established growth", within(0, 100),
		func(s *Settings) any { return &s.Stands.DefaultCover }},
	{"stands.cover_table", "", Published, "table that turns cover classes into percent",
		"Daubenmire 1959; modified: BLM Technical Reference 1734-4, table 2", oneOf("daubenmire", "modified_daubenmire"),
		func(s *Settings) any { return &s.Stands.CoverTable }},
}

// mapTable has the settings for drawing outlines.
var mapTable = []Setting{
	{"maps.chord_m", "m", Practice, "outlines of stands and zone are drawn with straight sides that keep about this close to their arcs; acres do not depend on it",
		"common practice: far finer than positions are known, here a fiftieth of the 5 m assumed for them", within(0.001, 1),
		func(s *Settings) any { return &s.Maps.Chord }},
}
