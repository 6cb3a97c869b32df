package batch

import "slices"

// Assumed returns the keys left at an assumed default on which figures of the
// whole batch rest, sorted. The two that stand in for a missing measurement are
// not among them: each stand names those itself. So is a factor that the stage
// leaves unused, and what only notices of planned works rest on.
func (s Settings) Assumed() []string {
	byStand := []string{"stands.default_patch_acres", "stands.default_cover_percent"}
	defaults := DefaultSettings()
	var keys []string
	for _, setting := range SettingsTable() {
		unused := setting.Key == "drift.flood_factor" && s.Drift.Stage == BaseStage || setting.Key == noticeKey || setting.Key == "drift.seed" || setting.Key == "drift.draws"
		if setting.Origin == Assumed && !unused && !slices.Contains(byStand, setting.Key) &&
			valueText(setting.at(&s)) == valueText(setting.at(&defaults)) {
			keys = append(keys, setting.Key)
		}
	}
	slices.Sort(keys)
	return keys
}

// noticeKey is the setting that notices rest on.
const noticeKey = "treatment.notice_m"

// assumedFor returns what a batch rests on: Assumed and, where there are planned
// works, the notice distance.
func (s Settings) assumedFor(works bool) []string {
	keys := s.Assumed()
	if works && s.Treatment.Notice == DefaultSettings().Treatment.Notice {
		keys = append(keys, noticeKey)
		slices.Sort(keys)
	}
	return keys
}
