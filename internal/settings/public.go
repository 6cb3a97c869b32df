package settings

// ForPublic returns s without anything about people, their files and the contents of these: the crew
// texts, the words for columns and values, and the names of inputs.
func (s Settings) ForPublic() Settings {
	s = s.clone()
	s.Crew, s.Inputs = defaultCrew(), InputSettings{}
	s.Columns, s.Units = ColumnSettings{}.cloned(), UnitSettings{}.cloned()
	s.Values, s.Files = map[string]map[string]string{}, map[string]FileSettings{}
	s.Plan.FactorColumn, s.Plan.Factors = "", map[string]float64{}
	return s
}
