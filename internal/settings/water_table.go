package settings

var waterTable = []Setting{
	{"aquatic.setback_m", "m", Assumed, "width of the aquatic zone, measured from each bank; the legal distance is the jurisdiction's",
		"our choice: about 100 ft; put your permit's distance here", within(0, 1000),
		func(s *Settings) any { return &s.Aquatic.Setback }},
	{"aquatic.bankfull_width_by_order_m", "m", Assumed, "bank to bank width, by stream order, of a stream with none recorded; the last holds for every higher order",
		"our choice: width doubles with each order", list(1, 12, above(0, 5000)),
		func(s *Settings) any { return &s.Aquatic.WidthByOrder }},
	{"network.snap_m", "m", Practice, "stream ends this close or closer are the same place",
		"common practice: the coordinate noise of 1:24,000 centerlines that were cut and joined again", within(0, 100),
		func(s *Settings) any { return &s.Network.Snap }},
	{"network.close_gap_m", "m", Practice, "loose stream ends that point at each other and lie this close or closer are joined; 0 joins none, and each gap is a finding",
		"common practice: a person looks before lines are joined", within(0, 100),
		func(s *Settings) any { return &s.Network.CloseGap }},
	{"network.digitised", "", Practice, "direction in which lines without nodes and hydroseq run",
		"common practice: centerlines are digitised the way the water flows", oneOf(Downstream, Upstream),
		func(s *Settings) any { return &s.Network.Digitised }},
}
