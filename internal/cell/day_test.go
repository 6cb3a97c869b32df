package cell

import "testing"

// TestSerialDays: 2026-01-01 is day 46023 of a spreadsheet (LibreOffice 7.4 and
// by hand: 126 years of 365 days, 31 leap days, and the day 0 two before 1900), and
// 2026-07-01 comes 181 days later.
func TestSerialDays(t *testing.T) {
	for text, want := range map[string]string{
		"46023": "2026-01-01", "46204": "2026-07-01", "46204.75": "2026-07-01", " 46234 ": "2026-07-31", "36526": "2000-01-01", "73050": "2099-12-31",
		"36525": "", "73051": "", "4620": "", "462044": "", "46204.": "", "46204.x": "", "4620a": "", "": "",
	} {
		day, ok := serialDay(text)
		if ok != (want != "") || ok && day.Format("2006-01-02") != want {
			t.Errorf("%q is %v, %v, want %q", text, day, ok, want)
		}
	}
}
