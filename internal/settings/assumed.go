package settings

import (
	"slices"
	"strings"
)

// leftAlone returns the wanted keys with an assumed default, sorted.
func (s Settings) leftAlone(wanted func(key string) bool) []string {
	never := []string{correlationKey, "stands.default_patch_acres", "stands.default_cover_percent", "drift.seed", "drift.draws"}
	if s.Plan.SetUp == 0 {
		never = append(never, "plan.site_distance_m") // does not affect figures
	}
	defaults := Default()
	var keys []string
	for _, setting := range Table() {
		ofFlood := strings.HasPrefix(setting.Key, floodPrefix) && s.Drift.Stage == BaseStage
		if setting.Origin == Assumed && wanted(setting.Key) && !ofFlood && !slices.Contains(never, setting.Key) &&
			setting.Value(&s) == setting.Value(&defaults) {
			keys = append(keys, setting.Key)
		}
	}
	slices.Sort(keys)
	return keys
}

// Given says what a batch has beyond points and streams, as far as settings matter for it.
type Given struct {
	Works    bool // planned works
	Flow     bool // a line with a flow permanence
	Previous bool // a previous batch
}

// Assumed returns the keys with an assumed default on which figures of a whole batch depend, sorted. It
// leaves out the two that replace a missing measurement, since each stand lists those, factors that the
// stage does not use, and the rules of where to survey next, which are in that list. The notice distance
// counts only if there are planned works, drift.dry_at_base if any line has a flow permanence, the lineage
// rules if there is a previous batch, and the settings of the plan if there is a budget.
func (s Settings) Assumed(given Given) []string {
	return s.leftAlone(func(key string) bool {
		switch {
		case key == noticeKey:
			return given.Works
		case key == dryKey:
			return given.Flow
		case strings.HasPrefix(key, lineagePrefix):
			return given.Previous
		case strings.HasPrefix(key, planPrefix):
			return s.Plan.Budget > 0
		case strings.HasPrefix(key, crewPrefix), strings.HasPrefix(key, reportPrefix), strings.HasPrefix(key, surveyNextPrefix):
			return false
		}
		return true
	})
}
