package column

import (
	"encoding/json"
	"strings"
)

// Mapping says which columns and words of a user's file correspond to ours.
type Mapping struct {
	Columns map[string]Names             // our field name -> the user's column names
	Values  map[string]map[string]string // our field name -> the user's word -> our word
	Units   map[string]string            // our field name -> the unit of the user's column, as read by Field.Factor
}

// Names are the possible names of a column, the preferred ones first. A single blank name says that the
// file has no column for the field, unless it has one with our own name.
type Names []string

// UnmarshalText makes the text a single name.
func (n *Names) UnmarshalText(text []byte) error {
	*n = Names{string(text)}
	return nil
}

// MarshalJSON writes a single name as a text and several as a list.
func (n Names) MarshalJSON() ([]byte, error) {
	if len(n) == 1 {
		return json.Marshal(n[0])
	}
	return json.Marshal([]string(n))
}

// UnmarshalJSON reads what MarshalJSON wrote.
func (n *Names) UnmarshalJSON(text []byte) error {
	var one string
	if json.Unmarshal(text, &one) == nil {
		*n = Names{one}
		return nil
	}
	return json.Unmarshal(text, (*[]string)(n))
}

// Over returns the mapping of one file, with a general mapping as fallback. If the file gives names for
// a field, they replace the general names and the general unit, since the unit belongs to the names.
// The file's words take precedence over the general words.
func (m Mapping) Over(general Mapping) Mapping {
	out := Mapping{map[string]Names{}, map[string]map[string]string{}, map[string]string{}}
	for _, layer := range []Mapping{general, m} {
		for field, names := range layer.Columns { // into maps
			deleteFold(out.Columns, field)
			deleteFold(out.Units, field)
			out.Columns[field] = names
		}
		for field, unit := range layer.Units {
			deleteFold(out.Units, field)
			out.Units[field] = unit
		}
		for field, words := range layer.Values {
			key := field
			for known := range out.Values { // at most one matches
				if strings.EqualFold(known, field) {
					key = known
				}
			}
			if out.Values[key] == nil {
				out.Values[key] = map[string]string{}
			}
			for theirs, ours := range words {
				deleteFold(out.Values[key], theirs)
				out.Values[key][theirs] = ours
			}
		}
	}
	return out
}

// deleteFold deletes a key, ignoring case.
func deleteFold[V any](from map[string]V, key string) {
	for known := range from {
		if strings.EqualFold(known, key) {
			delete(from, known)
		}
	}
}

// names returns the user's names for one of our fields; false if the field is not mapped.
func (m Mapping) names(field string) (names Names, mapped bool) {
	for ours, theirs := range m.Columns { // at most one can match
		if strings.EqualFold(ours, field) {
			return theirs, true
		}
	}
	return nil, false
}

// unit returns the unit of a field's column; blank for none.
func (m Mapping) unit(field string) string {
	for ours, unit := range m.Units { // at most one can match
		if strings.EqualFold(ours, field) {
			return unit
		}
	}
	return ""
}

// Words returns the mapped words of a field; the user's words are in lower case.
func (m Mapping) Words(field string) map[string]string {
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
