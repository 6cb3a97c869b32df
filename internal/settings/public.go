package settings

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
