package intake

import "strings"

// Mapping tells how a user's columns and words stand for ours.
type Mapping struct {
	Columns map[string]string            // our field name -> their column name
	Values  map[string]map[string]string // our field name -> their word -> our word
	Units   map[string]string            // our field name -> the unit their column is in, as UnitFactor reads it
}

// column returns the user's column for one of our fields, if one is mapped.
func (m Mapping) column(field string) (string, bool) {
	for ours, theirs := range m.Columns { // at most one can match
		if strings.EqualFold(ours, field) && strings.TrimSpace(theirs) != "" {
			return theirs, true
		}
	}
	return "", false
}

// words returns the mapped words of a field, theirs in small letters.
func (m Mapping) words(field string) map[string]string {
	out := map[string]string{}
	for ours, table := range m.Values { // at most one can match
		if !strings.EqualFold(ours, field) {
			continue
		}
		for theirs, word := range table { // into a map
			out[strings.ToLower(strings.TrimSpace(theirs))] = word
		}
	}
	return out
}
