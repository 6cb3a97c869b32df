package intake

// fitsNumbers says whether nine in ten of the texts are numbers for a field, as
// people write them, with a unit of the field's kind or none.
func (s *sample) fitsNumbers(field string, comma bool) bool {
	good := 0
	for _, text := range s.texts {
		if _, ok := numberIn(field, text, comma); ok {
			good++
		}
	}
	return len(s.texts) > 0 && 10*good >= 9*len(s.texts) // a typing mistake must not hide a column
}

// unit returns the one unit that numbers of the column have beside them where
// others have none; blank where all have one or none has.
func (s *sample) unit(field string) string {
	found, bare := "", false
	for _, text := range s.texts {
		unit, ok := numberIn(field, text, false)
		switch {
		case !ok:
		case unit == "":
			bare = true
		case found == "" || found == unit:
			found = unit
		default:
			return ""
		}
	}
	if theirs, ours := unitWords[found], fieldUnits[field]; !bare || theirs.size == ours.size {
		return ""
	}
	return found
}

// numberIn says whether a text reads as a number for a field, and the unit beside it.
// Which mark is decimal does not matter here.
func numberIn(field, text string, comma bool) (unit string, ok bool) {
	if _, kind := parseNumber([]byte(text), comma); kind != badNumber {
		return "", kind != notFinite
	}
	q, ok := parseQuantity(text, true, false)
	if !ok || q.unit == "" {
		return "", ok
	}
	if field == amountField {
		return q.unit, true
	}
	m, known := unitWords[q.unit]
	return q.unit, known && m.of == fieldUnits[field].of
}
