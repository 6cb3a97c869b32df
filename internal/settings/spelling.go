package settings

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"driftreach/internal/intake"
)

// wordedFields returns our names of the fields whose words [values.*] can map.
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

// checkUnits checks a table of units.
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

// spell gives every key of m the spelling it has in known, ignoring case.
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

// respell gives every key of a table the spelling it has in known, ignoring case. It returns the
// unknown keys, with the name of the table before them. If two keys become equal, join combines their
// values.
func respell[V any](table string, m map[string]V, known []string, join func(old, fresh V) V) []string {
	var unknown []string
	for _, key := range slices.Sorted(maps.Keys(m)) {
		i := slices.IndexFunc(known, func(k string) bool { return strings.EqualFold(k, key) })
		switch {
		case i < 0:
			unknown = append(unknown, table+"."+key)
		case known[i] != key:
			m[known[i]] = join(m[known[i]], m[key])
			delete(m, key)
		}
	}
	return unknown
}

// joined merges two tables.
func joined[V any](old, fresh map[string]V) map[string]V {
	out := make(map[string]V, len(old)+len(fresh))
	maps.Copy(out, old)
	maps.Copy(out, fresh)
	return out
}
