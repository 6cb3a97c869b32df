package settings

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"driftreach/internal/check"
)

// removedSettings are keys of the release before that do nothing any more. For one
// release they are taken with a finding, so that a programme's file goes on working;
// CHANGELOG.md lists them. Then they go, with their fields.
var removedSettings = []struct {
	key, instead string
	at           func(*Settings) *any
}{
	{"lineage.seen_distance_m", "lineage.found_m and lineage.absent_m", func(s *Settings) *any { return &s.Lineage.SeenDistance }},
	{"lineage.surveyed_share", "lineage.unseen_share", func(s *Settings) *any { return &s.Lineage.SurveyedShare }},
}

var ruleRemoved = check.Rule{Code: "setting-removed", Severity: check.Warning, Remedy: "remove the line from the settings; the next release refuses it"}

// Rules returns the rules that a finding of settings may name.
func Rules() []check.Rule { return []check.Rule{ruleRemoved} }

// takeRemoved turns the values of removed settings, as a text gave them, into
// findings in Removed. name is the file's, or the flag.
func (s *Settings) takeRemoved(name string) {
	if !strings.HasPrefix(name, "--set") {
		name = filepath.Base(name)
	}
	for _, r := range removedSettings {
		value := r.at(s)
		if *value == nil {
			continue
		}
		s.Removed = append(slices.Clip(s.Removed), check.Finding{
			Rule: ruleRemoved, File: name, Field: r.key, Value: fmt.Sprint(*value),
			Message: fmt.Sprintf("the setting does nothing any more; what was looked at is now decided by %s", r.instead),
		})
		*value = nil
	}
}
