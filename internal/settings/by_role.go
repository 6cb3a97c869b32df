package settings

import (
	"bytes"
	"encoding/json"
	"maps"
	"strconv"

	"driftreach/internal/column"
	"driftreach/internal/intake"
)

// ByRole has one table for each kind of input, with our field names as keys.
type ByRole[V any] map[string]map[string]V

// ColumnSettings is the [columns] table: our field name to the user's names for it.
type ColumnSettings = ByRole[column.Names]

// UnitSettings is the [units] table: our field name to the unit of the user's column.
type UnitSettings = ByRole[string]

// cloned returns a deep copy, with a table for every role.
func (t ByRole[V]) cloned() ByRole[V] {
	out := make(ByRole[V], len(t))
	for name, table := range t { // the order does not matter
		out[name] = maps.Clone(table)
	}
	for _, role := range intake.Roles() {
		if out[role.Name] == nil {
			out[role.Name] = map[string]V{}
		}
	}
	return out
}

// MarshalJSON writes the tables in the order of the roles.
func (t ByRole[V]) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false) // the outer encoder does that
	b.WriteByte('{')
	for i, role := range intake.Roles() {
		if i > 0 {
			b.WriteByte(',')
		}
		b.WriteString(strconv.Quote(role.Name) + ":")
		if err := e.Encode(t[role.Name]); err != nil {
			return nil, err
		}
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// roleNames returns the names of the kinds of input, in order.
func roleNames() []string {
	var out []string
	for _, role := range intake.Roles() {
		out = append(out, role.Name)
	}
	return out
}
