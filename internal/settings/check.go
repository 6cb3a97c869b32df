package settings

import (
	"fmt"
	"maps"
	"path"
	"slices"
	"strings"

	"driftreach/internal/intake"
)

// Validate returns the first setting that is out of range, as an *Error.
func (s Settings) Validate() error {
	own := s.clone()
	return own.validate("")
}

func (s *Settings) validate(where string) error {
	for _, setting := range Table() {
		if at := setting.at(s); !setting.bounds.allow(at) {
			return outOfRange(where, setting, valueText(at))
		}
	}
	return s.checkMaps(where)
}

func outOfRange(where string, s Setting, found string) *Error {
	allowed := s.bounds.String()
	if s.Unit != "" {
		allowed += " (" + s.Unit + ")"
	}
	return &Error{
		Where:   where,
		Problem: fmt.Sprintf("%s cannot be %s", s.Key, found),
		Remedy:  fmt.Sprintf("%s takes %s", s.Key, allowed),
	}
}

// checkMaps checks the tables of columns, units, values and files, and gives our names their usual
// spelling.
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

// checkFiles checks the tables of files.
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

// maxSkip is the largest skip_lines. Our choice: no title is longer than a page.
const maxSkip = 100

// everyField returns our names of the columns of all inputs.
func everyField() []string {
	var all []string
	for _, role := range intake.Roles() {
		all = append(all, role.Fields()...)
	}
	slices.Sort(all)
	return slices.Compact(all)
}
