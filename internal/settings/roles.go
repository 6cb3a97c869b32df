package settings

import (
	"errors"
	"maps"
	"slices"
	"strings"

	"github.com/pelletier/go-toml/v2"

	"driftreach/internal/column"
)

// knowsTables returns what is wrong with the names of tables and keys that stand for
// roles, and writes them the way we spell them; text is what was read.
func (s *Settings) knowsTables(text, name string) error {
	var keysOfInputs []string
	for _, k := range inputKeys() {
		keysOfInputs = append(keysOfInputs, k.name)
	}
	unknown := slices.Concat(
		respell("columns", s.Columns, roleNames(), joined[column.Names]),
		respell("units", s.Units, roleNames(), joined[string]),
		respell("inputs", s.Inputs, keysOfInputs, func(_, fresh column.Names) column.Names { return fresh }),
	)
	if len(unknown) == 0 {
		return nil
	}
	// the reader says where a key stands that nothing waits for
	var nothing struct {
		Columns struct{} `toml:"columns"`
		Units   struct{} `toml:"units"`
		Inputs  struct{} `toml:"inputs"`
	}
	var strict *toml.StrictMissingError
	if errors.As(toml.NewDecoder(strings.NewReader(text)).DisallowUnknownFields().Decode(&nothing), &strict) {
		for i := range strict.Errors {
			key := strict.Errors[i].Key()
			if len(key) >= 2 && slices.Contains(unknown, strings.ToLower(key[0])+"."+key[1]) {
				return unknownKey(line(name, &strict.Errors[i]), strings.Join(key, "."), keys())
			}
		}
	}
	return unknownKey(name, unknown[0], keys())
}

// respell gives every key of a table the spelling it has in known, whatever its case,
// and returns those that are not known, after the table's name. Two of one spelling
// are joined.
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

// joined lays one table over another.
func joined[V any](old, fresh map[string]V) map[string]V {
	out := make(map[string]V, len(old)+len(fresh))
	maps.Copy(out, old)
	maps.Copy(out, fresh)
	return out
}
