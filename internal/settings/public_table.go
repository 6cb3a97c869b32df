package settings

// PublicSettings is the [public] table.
type PublicSettings struct {
	Grid float64 `toml:"grid_m" json:"grid_m"`
}

// defaultPublic is the table at its defaults.
func defaultPublic() PublicSettings { return PublicSettings{Grid: 1000} }

var publicTable = []Setting{
	{"public.grid_m", "m", Practice, "side of the squares that positions and shapes are coarsened to in a public edition, of the equal-area grid of EPSG:6933; distances along streams are in whole steps of it",
		"common practice: 1 km, one of the steps of Chapman 2020, Current Best Practices for Generalizing Sensitive Species Occurrence Data", within(100, 100000),
		func(s *Settings) any { return &s.Public.Grid }},
}

// ForPublic returns s without what it says of people, of their files and of what these
// have in them: the crew's words, the words for columns and values, and names of inputs.
func (s Settings) ForPublic() Settings {
	s = s.clone()
	s.Crew, s.Inputs = defaultCrew(), InputSettings{}
	s.Columns, s.Units = ColumnSettings{}.cloned(), UnitSettings{}.cloned()
	s.Values, s.Files = map[string]map[string]string{}, map[string]FileSettings{}
	s.Plan.FactorColumn, s.Plan.Factors = "", map[string]float64{}
	return s
}
