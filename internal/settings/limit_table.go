package settings

// limitSource is the source of every limit.
const limitSource = "common practice: a reader limits what it takes; ordinary files stay far below"

var limitTable = []Setting{
	{"limits.file_mb", "MiB", Practice, "largest input file", limitSource, within(1, 1<<24),
		func(s *Settings) any { return &s.Limits.File }},
	{"limits.member_mb", "MiB", Practice, "largest member of an archive, unpacked, and largest file that is held in memory", limitSource, within(1, 1<<24),
		func(s *Settings) any { return &s.Limits.Member }},
	{"limits.members", "", Practice, "most members of an archive, and most layers of a GeoPackage", limitSource, within(1, 1e6),
		func(s *Settings) any { return &s.Limits.Members }},
	{"limits.expansion", "times", Practice, "most times its own size that an archive may unpack to, beyond 16 MiB", limitSource, within(2, 2000),
		func(s *Settings) any { return &s.Limits.Expansion }},
	{"limits.records", "", Practice, "most records of one file", limitSource, within(1, 1e9),
		func(s *Settings) any { return &s.Limits.Records }},
	{"limits.record_mb", "MiB", Practice, "longest row, or text of a feature", limitSource, within(1, 1024),
		func(s *Settings) any { return &s.Limits.Record }},
	{"limits.vertices", "", Practice, "most vertices of one feature", limitSource, within(1, 1e8),
		func(s *Settings) any { return &s.Limits.Vertices }},
	{"limits.columns", "", Practice, "most columns of one file", limitSource, within(1, 1e5),
		func(s *Settings) any { return &s.Limits.Columns }},
	{"limits.nesting", "", Practice, "deepest nesting of JSON values and XML elements", limitSource, within(5, 1000),
		func(s *Settings) any { return &s.Limits.Nesting }},
}
