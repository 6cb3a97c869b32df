package report

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"driftreach/internal/mapfile"
	"driftreach/internal/result"
	"driftreach/internal/trend"
	"driftreach/internal/verify/validate"
)

// rows writes a table and reads it back; each row is a map by column.
func rows(t testing.TB, table result.Table) []map[string]string {
	t.Helper()
	var b bytes.Buffer
	if err := mapfile.WriteTable(&b, table); err != nil {
		t.Fatal(err)
	}
	if report := validate.CSV(b.Bytes()); !report.OK() {
		t.Fatalf("%s: %v", table.Name, report.Problems)
	}
	lines, err := csv.NewReader(&b).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, line := range lines[1:] {
		row := map[string]string{}
		for i, cell := range line {
			row[lines[0][i]] = cell
		}
		out = append(out, row)
	}
	return out
}

// The worked example (S -35, variance 65.6667, z -4.195719, p 2.72007e-05, tau
// -0.875, slope -0.558333), as the file has it, whole; p is rounded to 7
// decimals. least_p, by hand: S 40, variance 4 x 50/3, z 39 / 8.164966 =
// 4.776505, p 1.78e-06.
func TestTrendRowOfTheWorkedExample(t *testing.T) {
	got := rows(t, TrendTable(worked(t).Trends))
	if len(got) != 2*8 {
		t.Fatalf("%d rows", len(got))
	}
	want := map[string]string{
		"scope": "total", "name": "", "unit_id": "", "measure": "live_acres", "unit": "acres", "first_quarter": "2021Q1", "last_quarter": "2025Q4",
		"quarters": "20", "missing": "0", "first_value": "12", "last_value": "12", "slope": "-0.558333", "method": "Seasonal Kendall",
		"exact": "false", "pairs": "40", "s": "-35", "variance": "65.666667", "z": "-4.195719", "tau": "-0.875", "p": "0.0000272",
		"least_p": "0.0000018", "trend": "falling", "first_mapped": "12", "last_mapped": "12", "correlation": "0", "p_adjusted": "0.0000272", "change_doubt": "",
		"verdict": "falling: -0.56 acres a year, p < 0.0001; rests on changes between the last two looks at each place, in 20 quarters with a look; " +
			"neighbouring quarters are taken to be correlated by 0; the error of the acreage itself is not known; survey effort moves acreage too",
	}
	if d := cmp.Diff(want, got[0]); d != "" {
		t.Error(d)
	}
	if got[8]["name"] != "'=Long <Water>" || got[7]["unit"] != "km" || got[7]["measure"] != "reach_at_risk_km" {
		t.Errorf("%v\n%v", got[7], got[8])
	}
}

// By hand: five of six quarters with a rise in each are as likely as 2 of 120 orders; the stream
// has four quarters, so no test.
func TestTrendRowsOfGaps(t *testing.T) {
	got := rows(t, TrendTable(gappy(t).Trends))
	for column, want := range map[string]string{"quarters": "5", "missing": "1", "slope": "4", "p": "0.0166667", "exact": "true", "method": "Mann-Kendall", "trend": "rising"} {
		if got[trend.Gross][column] != want {
			t.Errorf("total: %s is %q, want %q", column, got[trend.Gross][column], want)
		}
	}
	for column, want := range map[string]string{"quarters": "4", "missing": "2", "slope": "4", "p": "", "s": "", "exact": "", "method": "", "least_p": "", "trend": "too few to tell"} {
		if got[8+trend.Gross][column] != want {
			t.Errorf("stream: %s is %q, want %q", column, got[8+trend.Gross][column], want)
		}
	}
}

// A place that nobody ever surveyed has no quarters and no values: 0 would mean that somebody
// looked and found nothing.
func TestTrendRowsOfPlacesNobodyLookedAt(t *testing.T) {
	row := rows(t, TrendTable([]trend.Trend{{Scope: "waterBody", Name: "Far Water"}}))[0]
	for _, column := range []string{"first_quarter", "last_quarter", "first_value", "last_value", "first_mapped", "last_mapped", "slope", "p"} {
		if value, there := row[column]; !there || value != "" {
			t.Errorf("%s is %q, %v", column, value, there)
		}
	}
	if row["quarters"] != "0" {
		t.Errorf("quarters is %q", row["quarters"])
	}
}

// Every quarter has its row, and one without a value is blank, not 0.
func TestSeriesRowsOfGaps(t *testing.T) {
	got := rows(t, SeriesTable(gappy(t)))
	var told []string
	for _, row := range got {
		told = append(told, strings.Join([]string{row["name"], row["quarter"], row["batch"], row["listed"], row["gross_acres"], row["canopy_acres"], row["reach_at_risk_km"]}, " "))
	}
	want := []string{
		" 2024Q1 true true 1 0 0.25", " 2024Q2 true true 2 0 0.25", " 2024Q3 false false   ", " 2024Q4 true true 4 0 0.25", " 2025Q1 true true 5 0 0.25", " 2025Q2 true true 6 0 0.25",
		"Side Water 2024Q1 true true 1 0 0.25", "Side Water 2024Q2 true true 2 0 0.25", "Side Water 2024Q3 false false   ",
		"Side Water 2024Q4 true true 4 0 0.25", "Side Water 2025Q1 true false   ", "Side Water 2025Q2 true true 6 0 0.25",
	}
	if d := cmp.Diff(want, told); d != "" {
		t.Error(d)
	}
}

// Any name stays in one cell and is not a formula, and p is never 0.
func TestTablesOfAnyHistory(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		h := anyHistory(t).Draw(r, "history")
		if n := len(rows(t, SeriesTable(h))); n != len(h.Quarters)*len(h.Sections) {
			r.Fatalf("%d rows", n)
		}
		for _, row := range rows(t, TrendTable(h.Trends)) {
			if p := row["p"]; p == "0" || p == "" != (row["method"] == "") {
				r.Fatalf("p %q of %v", p, row)
			}
		}
	})
}

// A century of steady rise: the probability is far below the smallest printed one.
func TestPIsNeverZero(t *testing.T) {
	if got := chance(1e-30).String(); got != "0.0000001" {
		t.Error(got)
	}
	if got := chance(1).String(); got != "1" {
		t.Error(got)
	}
}

func TestDictionaryIsWhole(t *testing.T) {
	for _, table := range Tables(&trend.History{}) {
		seen := map[string]bool{}
		for _, f := range table.Fields {
			if seen[f.Name] || f.Label == "" || f.Kind == result.Null || !strings.HasSuffix(f.Definition, ".") || f.Value == nil {
				t.Errorf("%s.%s is not whole", table.Name, f.Name)
			}
			if f.Kind == result.Number && f.Unit == result.NoUnit {
				t.Errorf("%s.%s is a number without a unit", table.Name, f.Name)
			}
			seen[f.Name] = true
		}
	}
}
