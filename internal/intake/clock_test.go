package intake

import (
	"strings"
	"testing"

	"driftreach/internal/testkit"
)

// TestClocksOfWork: a time of day is kept as it was entered; a fraction of a day, as spreadsheets store
// times, becomes hours and minutes, to the nearest minute: 0.375 of 24 hours are 9 hours.
func TestClocksOfWork(t *testing.T) {
	for text, want := range map[string]string{
		"9:30": "9:30", "0.375": "09:00", "0.5": "12:00", ".5": "12:00", "0.0003": "00:00", "0.0007": "00:01", "0.99999": "00:00", "0.999": "23:59", "0.3958333": "09:30",
		"1.5": "1.5", "1.0": "1", "0.0": "0", "-0.5": "-0.5", "0": "0", "930": "930", "n/a": "", "": "",
	} {
		f, _, err := ReadTreatments(testkit.Source("t.csv", strings.NewReader("date,stand_id,method,start_time\n2026-07-02,a,cut,"+text+"\n")), DefaultOptions())
		if err != nil || len(f.Actions) != 1 || f.Actions[0].Start != want {
			t.Errorf("%q: %+v, %v, want %q", text, f.Actions, err, want)
		}
	}
}
