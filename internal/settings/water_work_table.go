package settings

var waterWorkTable = []Setting{
	{"water_work.write", "", Practice, "whether water_work.csv is written; auto: unless there are more than 5000 stands", "common practice: files that nobody asked for do not slow a large batch", oneOf(auto, always, never),
		func(s *Settings) any { return &s.WaterWork.Write }},
	{"water_work.distances_m", "m", Practice, "distances from the bank within which water_work.csv gives the acres of treatment areas, beside those in the zone; none by default",
		"yours: the distances that your jurisdiction's forms ask for", list(0, 10, within(0, 10000)),
		func(s *Settings) any { return &s.WaterWork.Distances }},
}
