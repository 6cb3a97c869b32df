package restated

import (
	"testing"
	"time"

	"driftreach/internal/correction"
	"driftreach/internal/observed"
	"driftreach/internal/survey"
)

// TestAbsenceWrong: of three records of this quarter, those that found nothing and are not later
// than the given day are set aside, also the first and the last; by hand.
func TestAbsenceWrong(t *testing.T) {
	day := func(d int) survey.Day { return survey.DayOf(time.Date(2026, 8, d, 0, 0, 0, 0, time.UTC)) }
	for _, c := range []struct {
		record string
		fresh  bool
		aside  bool
		code   string // of the finding; blank for none
	}{
		{"a", true, true, ""}, {"a", false, true, ""}, {"c", true, true, ""},
		{"b", true, false, "correction-without-effect"}, {"b", false, false, ""},
		{"late", true, false, "correction-record-later"}, {"late", false, false, "correction-record-later"},
		{"none", true, false, "correction-not-found"}, {"none", false, false, ""},
	} {
		k := corrector{gone: map[int32]bool{}, aside: map[string]int{}, in: observed.Quarter{Records: survey.Records{Listed: []survey.Record{
			{ID: "a", File: "p.csv", Begin: day(1), End: day(1)}, {ID: "b", File: "p.csv", Detected: true, Begin: day(1), End: day(1)},
			{ID: "c", File: "p.csv", Begin: day(10), End: day(10)}, {ID: "late", File: "p.csv", Begin: day(11), End: day(11)},
		}}}}
		row := &correction.Correction{Kind: correction.AbsenceWrong, RecordID: c.record, Date: time.Date(2026, 8, 10, 0, 0, 0, 0, time.UTC)}
		if got := k.absenceWrong(row, c.fresh); got != c.aside || k.aside["p.csv"] != map[bool]int{true: 1}[c.aside] {
			t.Errorf("%s, fresh %v: %v, %v set aside", c.record, c.fresh, got, k.aside)
		}
		code := ""
		for _, f := range k.log.Findings() {
			code += f.Rule.Code
		}
		if code != c.code {
			t.Errorf("%s, fresh %v: %q, want %q", c.record, c.fresh, code, c.code)
		}
	}
}
