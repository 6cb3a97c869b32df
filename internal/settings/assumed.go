package settings

import (
	"slices"
	"strings"
)

// Assumed returns the keys left at an assumed default on which figures of the
// whole batch rest, sorted. The two that stand in for a missing measurement are
// not among them: each stand names those itself. So is a factor that the stage
// leaves unused, what only rests on inputs that not every batch has, and the rules of
// where to look next, which its list tells.
func (s Settings) Assumed() []string {
	return s.leftAlone(func(key string) bool {
		return key != noticeKey && key != dryKey && !strings.HasPrefix(key, lineagePrefix) && !strings.HasPrefix(key, planPrefix) && !strings.HasPrefix(key, crewPrefix) && !strings.HasPrefix(key, reportPrefix) && !strings.HasPrefix(key, surveyNextPrefix)
	})
}

// leftAlone returns the wanted keys left at an assumed default, sorted.
func (s Settings) leftAlone(wanted func(key string) bool) []string {
	never := []string{correlationKey, "stands.default_patch_acres", "stands.default_cover_percent", "drift.seed", "drift.draws"}
	if s.Drift.Stage == BaseStage {
		never = append(never, "drift.flood_factor", "drift.flood_discharge_ratio", "drift.flood_release", "drift.flood_source_width_m",
			"drift.flood_overtop.dam", "drift.flood_overtop.reservoir", "drift.flood_overtop.weir", "drift.flood_overtop.culvert")
	}
	if s.Plan.SetUp == 0 {
		never = append(never, "plan.site_distance_m") // nothing is shared
	}
	defaults := Default()
	var keys []string
	for _, setting := range Table() {
		if setting.Origin == Assumed && wanted(setting.Key) && !slices.Contains(never, setting.Key) &&
			setting.Value(&s) == setting.Value(&defaults) {
			keys = append(keys, setting.Key)
		}
	}
	slices.Sort(keys)
	return keys
}

// Given is what a batch has beyond points and streams that settings are needed for.
type Given struct {
	Works    bool // planned works
	Flow     bool // a line that says how long it has water
	Previous bool // a batch before
}

// AssumedFor returns what a batch rests on: Assumed, the notice distance where
// there are planned works, which lines are dry where any says how long it flows, and
// the rules of lineage where there is a batch before, and what a plan rests on where there
// is a budget.
func (s Settings) AssumedFor(given Given) []string {
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
