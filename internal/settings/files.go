package settings

import (
	"cmp"
	"fmt"
	"maps"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"driftreach/internal/column"
	"driftreach/internal/format"
	"driftreach/internal/intake"
)

// FileSettings is one [files."pattern"] table: how the files whose name fits the
// pattern are read, where they differ from the rest of their input.
type FileSettings struct {
	// SkipLines is how many lines above the header of a CSV file or a sheet are none
	// of its rows: a title, a date of printing.
	SkipLines int                          `toml:"skip_lines" json:"skip_lines,omitempty"`
	Columns   map[string]column.Names      `toml:"columns" json:"columns,omitempty"`
	Units     map[string]string            `toml:"units" json:"units,omitempty"`
	Values    map[string]map[string]string `toml:"values" json:"values,omitempty"`
}

// maxSkip bounds skip_lines. Our choice: no title is longer than a page.
const maxSkip = 100

// checkFiles returns what is wrong with the tables of files.
func (s *Settings) checkFiles(where string) error {
	for _, pattern := range slices.Sorted(maps.Keys(s.Files)) {
		f, table := s.Files[pattern], "files."+tomlText(pattern)
		if _, err := path.Match(pattern, ""); err != nil || pattern == "" || strings.ContainsRune(pattern, '/') {
			return &Error{
				Where: where, Problem: table + " is no pattern of file names",
				Remedy: "write the file's name without its folder; * stands for any letters, ? for one",
			}
		}
		if f.SkipLines < 0 || f.SkipLines > maxSkip {
			return &Error{Where: where, Problem: fmt.Sprintf("%s.skip_lines cannot be %d", table, f.SkipLines), Remedy: fmt.Sprintf("skip_lines takes 0 to %d", maxSkip)}
		}
		if err := spell(where, table+".columns", f.Columns, everyField()); err != nil {
			return err
		}
		if err := checkUnits(where, table+".units", f.Units, everyField()); err != nil {
			return err
		}
		if err := spell(where, table+".values", f.Values, wordedFields()); err != nil {
			return err
		}
	}
	return nil
}

// everyField returns our names of the columns of all inputs.
func everyField() []string {
	var all []string
	for _, role := range intake.Roles() {
		all = append(all, role.Fields()...)
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// Mapping returns how one file of an input is read: the tables of its own name over
// those of the input, and how many lines to skip. Of several patterns that fit, an
// exact name goes before a longer pattern, and that before a shorter one.
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

// patternsOf returns the patterns that fit a file, the one that wins last.
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
