package settings

import (
	"cmp"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"driftreach/internal/column"
	"driftreach/internal/format"
)

// Mapping returns how one file of an input is read: the tables for its own name take precedence over
// those of the input. It also returns how many lines to skip. If several patterns match, an exact name
// takes precedence over a longer pattern, and that over a shorter one.
func (s *Settings) Mapping(input string, source format.Source) (column.Mapping, int) {
	m := column.Mapping{Columns: s.Columns[input], Units: s.Units[input], Values: s.Values}
	skip := 0
	for _, pattern := range s.patternsOf(source) {
		f := s.Files[pattern]
		m = column.Mapping{Columns: f.Columns, Units: f.Units, Values: f.Values}.Over(m)
		if f.SkipLines > 0 {
			skip = f.SkipLines
		}
	}
	return m, skip
}

// patternsOf returns the patterns that match a file, in order of increasing precedence.
func (s *Settings) patternsOf(source format.Source) []string {
	named := []string{filepath.Base(source.Name), filepath.Base(strings.TrimSuffix(source.Name, ":"+source.Layer))}
	var fit []string
	for pattern := range s.Files { // sorted below
		if slices.ContainsFunc(named, func(name string) bool { ok, err := path.Match(pattern, name); return ok && err == nil }) {
			fit = append(fit, pattern)
		}
	}
	exact := func(pattern string) int {
		return strings.Count(pattern, "*") + strings.Count(pattern, "?") + strings.Count(pattern, "[")
	}
	slices.SortFunc(fit, func(a, b string) int {
		return cmp.Or(cmp.Compare(min(1, exact(b)), min(1, exact(a))), cmp.Compare(len(a), len(b)), strings.Compare(a, b))
	})
	return fit
}
