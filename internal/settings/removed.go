package settings

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"driftreach/internal/check"
)

// removedSettings are keys of the previous release that have no effect any more. They are accepted with
// a finding for one release, so that a programme's file still works; CHANGELOG.md lists them. After
// that they are deleted, with their fields.
var removedSettings = []struct {
	key, instead string
	at           func(*Settings) *any
}{
	{"lineage.seen_distance_m", "lineage.found_m and lineage.absent_m", func(s *Settings) *any { return &s.Lineage.SeenDistance }},
	{"lineage.surveyed_share", "lineage.unseen_share", func(s *Settings) *any { return &s.Lineage.SurveyedShare }},
}

var ruleRemoved = check.Rule{Code: "setting-removed", Severity: check.Warning, Remedy: "remove the line from the settings; the next release refuses it"}

// Rules returns the rules for findings about settings.
func Rules() []check.Rule { return []check.Rule{ruleRemoved} }

// takeRemoved turns values given for removed settings into findings in Removed. name is the name of the
// file or flag.
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
