package verify

import (
	"strings"
	"testing"

	"driftreach/internal/field"
)

// TestTrendAgainstItsSeries: a trend agrees with its values; otherwise the figure that differs is
// reported. By hand: the values are 10, 8, 9, 6 and 5 acres, with a quarter without a survey in
// between. The median slope of the ten pairs is -4 acres per year; one pair rises and nine fall.
func TestTrendAgainstItsSeries(t *testing.T) {
	series := strings.Join([]string{"scope", "name", field.UnitID, field.Quarter, "looked", "live_acres", "same_ground_live_acres"}, ",") + `
total,,,2025Q1,true,7,10
total,,,2025Q2,true,7.5,8
total,,,2025Q3,true,8,9
total,,,2025Q4,false,8,9
total,,,2026Q1,true,6,6
total,,,2026Q2,true,5,5
waterBody,Long,,2026Q2,true,1,1
`
	names := []string{"scope", "name", field.UnitID, "measure", "quarters", "first_quarter", field.LastQuarter, "first_value", "last_value", "first_mapped", "last_mapped", "method", "slope", "s"}
	cells := []string{"total", "", "", "live_acres", "5", "2025Q1", "2026Q2", "10", "5", "7", "5", "Mann-Kendall", "-4", "-8"}
	said := func(name, value string) string {
		row := append([]string(nil), cells...)
		for i := range names {
			if names[i] == name {
				row[i] = value
			}
		}
		values, trends := newTable([]byte(series)), newTable([]byte(strings.Join(names, ",")+"\n"+strings.Join(row, ",")+"\n"))
		trends.trend(0, values, seriesOf(values))
		return strings.Join(trends.all(), "; ")
	}
	if got := said("", ""); got != "" {
		t.Errorf("as it should be: %s", got)
	}
	if got := said("s", ""); got != "" { // S may be missing
		t.Errorf("without S: %s", got)
	}
	if got := said("slope", "-4.000004"); got != "" {
		t.Errorf("a slope within its rounding: %s", got)
	}
	for name, wrong := range map[string][2]string{
		"quarters": {"6", "has 5 values"}, field.LastQuarter: {"2026Q1", `says "2026Q2"`}, "first_value": {"7", `says "10"`}, "last_value": {"6", `says "5"`},
		"first_mapped": {"10", `says "7"`}, "last_mapped": {"6", `says "5"`}, "slope": {"-4.00001", "give -4"}, "s": {"-10", "give -8"},
	} {
		if got := said(name, wrong[0]); !strings.Contains(got, name+" is") || !strings.Contains(got, wrong[1]) || strings.Contains(got, "; ") {
			t.Errorf("%s of %s: %q", name, wrong[0], got)
		}
	}
}

// TestTrendOfWhatIsNotChained: a measure that has no column of the same ground is taken from the quarters in
// which the total was looked at: the values are 10, 8, 9, 6 and 5 km, and 7 km of a quarter without a
// survey do not count, also where a water body was looked at in it.
func TestTrendOfWhatIsNotChained(t *testing.T) {
	series := newTable([]byte(strings.Join([]string{"scope", "name", field.UnitID, field.Quarter, "looked", "reach_km"}, ",") + `
waterBody,Long,,2025Q4,true,7
total,,,2025Q1,true,10
total,,,2025Q2,true,8
total,,,2025Q3,true,9
total,,,2025Q4,false,7
total,,,2026Q1,true,6
total,,,2026Q2,true,5
`))
	trends := newTable([]byte(strings.Join([]string{"scope", "name", field.UnitID, "measure", "quarters", "first_quarter", field.LastQuarter, "first_value", "last_value", "first_mapped", "last_mapped", "method", "slope", "s"}, ",") +
		"\ntotal,,,reach_km,5,2025Q1,2026Q2,10,5,10,5,Mann-Kendall,-4,-8\n"))
	trends.trend(0, series, seriesOf(series))
	if got := trends.all(); len(got) > 0 {
		t.Errorf("%q", got)
	}
}
