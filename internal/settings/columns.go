package settings

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"driftreach/internal/column"
	"driftreach/internal/intake"
)

// ByRole has one table a kind of input, by our field names.
type ByRole[V any] map[string]map[string]V

// ColumnSettings is the [columns] table: our field name to the user's names for it.
type ColumnSettings = ByRole[column.Names]

// UnitSettings is the [units] table: our field name to the unit of the user's column.
type UnitSettings = ByRole[string]

// cloned returns the tables in storage of their own, one for every role.
func (t ByRole[V]) cloned() ByRole[V] {
	out := make(ByRole[V], len(t))
	for name, table := range t { // into a map
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
	e.SetEscapeHTML(false) // whoever asked for the whole does that
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

// wordedFields returns our names whose words [values.*] may map.
func wordedFields() []string {
	var out []string
	for _, role := range intake.Roles() {
		for _, field := range role.Worded() {
			if !slices.Contains(out, field) {
				out = append(out, field)
			}
		}
	}
	return out
}

// checkMaps returns what is wrong with the tables of columns, units, values and
// files, and writes our names the way we spell them.
func (s *Settings) checkMaps(where string) error {
	roles := intake.Roles()
	for _, role := range roles {
		if err := spell(where, "columns."+role.Name, s.Columns[role.Name], role.Fields()); err != nil {
			return err
		}
	}
	for _, role := range roles {
		if err := checkUnits(where, "units."+role.Name, s.Units[role.Name], role.Fields()); err != nil {
			return err
		}
	}
	if err := spell(where, "values", s.Values, wordedFields()); err != nil {
		return err
	}
	if err := s.Inputs.check(where); err != nil {
		return err
	}
	if err := s.Plan.checkFactors(where); err != nil {
		return err
	}
	return s.checkFiles(where)
}

// checkUnits returns what is wrong with a table of units.
func checkUnits(where, table string, units map[string]string, known []string) error {
	if err := spell(where, table, units, known); err != nil {
		return err
	}
	for _, field := range slices.Sorted(maps.Keys(units)) {
		if _, err := intake.UnitFactor(field, units[field]); err != nil {
			return &Error{Where: where, Problem: table + ": " + err.Error(), Remedy: "write for example patch_area_m2 = \"ft2\""}
		}
	}
	return nil
}

// spell gives every key of m the spelling it has in known, whatever its case.
func spell[V any](where, table string, m map[string]V, known []string) error {
	for _, key := range slices.Sorted(maps.Keys(m)) {
		i := slices.IndexFunc(known, func(k string) bool { return strings.EqualFold(k, key) })
		if i < 0 {
			return unknownField(where, table, key, known)
		}
		if known[i] == key {
			continue
		}
		if _, twice := m[known[i]]; twice {
			return &Error{Where: where, Problem: fmt.Sprintf("%s.%s is set twice", table, known[i]), Remedy: "keep one of the two"}
		}
		m[known[i]] = m[key]
		delete(m, key)
	}
	return nil
}

func unknownField(where, table, key string, known []string) error {
	remedy := fmt.Sprintf("[%s] takes our name on the left: %s", table, strings.Join(known, ", "))
	if near := Nearest(key, known); near != "" {
		remedy = fmt.Sprintf("did you mean %s.%s?", table, near)
	}
	return &Error{Where: where, Problem: fmt.Sprintf("unknown setting %s.%s", table, key), Remedy: remedy}
}
