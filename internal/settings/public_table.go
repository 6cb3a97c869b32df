package settings

var publicTable = []Setting{
	{"public.grid_m", "m", Practice, "side of the squares that positions and shapes are coarsened to in a public edition, of the equal-area grid of EPSG:6933; distances along streams are in whole steps of it",
		"common practice: 1 km, one of the steps of Chapman 2020, Current Best Practices for Generalizing Sensitive Species Occurrence Data", within(100, 100000),
		func(s *Settings) any { return &s.Public.Grid }},
}
