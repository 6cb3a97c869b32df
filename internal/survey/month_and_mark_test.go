package survey

import "testing"

// A date of a year and month has a month from 1 to 12 and two digits for it; a mark of a written date
// stands between its parts and not before them. By hand.
func TestMonthsAndMarks(t *testing.T) {
	for text, want := range map[string]string{
		"2026-01": "2026-01-01 2026-01-31", "2026-12": "2026-12-01 2026-12-31", "2024-02": "2024-02-01 2024-02-29", "2026-00": "", "2026-13": "", "2026-1x": "", "2026-x1": "", "2026-+1": "",
		"13.7.2026": "2026-07-13 2026-07-13", "/7/13/2026": "", ".13.7.2026": "", "-7-13-2026": "", "Jul 13 2026": "2026-07-13 2026-07-13",
	} {
		begin, end, err := ParseDate(text)
		got := ""
		if err == nil {
			got = begin.Format("2006-01-02") + " " + end.Format("2006-01-02")
		}
		if got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}
