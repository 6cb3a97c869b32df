package survey

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/check"
)

var q3 = Quarter{2026, 3}

// at returns a good record.
func at(id string, row int, lon, lat float64) Record {
	return Record{ID: id, File: "dir/p.csv", Row: row, Position: orb.Point{lon, lat}, Begin: DayOf(q3.Begin()), End: DayOf(q3.Begin()), Detected: true, Cover: math.NaN(), StemHeight: math.NaN()}
}

func told(findings []check.Finding) string {
	var out []string
	for _, f := range findings {
		out = append(out, strings.TrimSpace(f.Record+" "+f.Rule.Code))
	}
	return strings.Join(out, "; ")
}

func ids(records []Record) string {
	var out []string
	for _, r := range records {
		out = append(out, r.ID)
	}
	return strings.Join(out, " ")
}

// TestCheckIdentity: ids of a batch; by hand.
func TestCheckIdentity(t *testing.T) {
	other := at("a", 3, 5, 6)
	elsewhere := at("", 1, 7, 8)
	elsewhere.File = "other/p.csv"
	for _, c := range []struct {
		name    string
		records []Record
		ids     string
		told    string
	}{
		{"none", nil, "", ""},
		{"sorted by byte", []Record{at("b", 1, 1, 1), at("a10", 2, 2, 2), at("a9", 3, 3, 3), at("B", 4, 4, 4)}, "B a10 a9 b", ""},
		{"long shared beginning", []Record{at("survey-2026-b", 1, 1, 1), at("survey-2026-a", 2, 2, 2), at("survey-2026-", 3, 3, 3)}, "survey-2026- survey-2026-a survey-2026-b", ""},
		{"zero bytes", []Record{at("a\x00", 1, 1, 1), at("a", 2, 2, 2)}, "a a\x00", ""},
		{"made", []Record{at("a", 1, 1, 1), at("", 2, 2, 2)}, "a p#2", "row 2 id-missing"},
		{"made for a whole file", []Record{at("", 1, 1, 1), at("", 2, 2, 2)}, "p#1 p#2", "id-missing"},
		{"made alike in two files", []Record{at("", 1, 1, 1), elsewhere}, "p#1 p#1~2", "id-missing; id-missing"},
		{"repeated", []Record{at("a", 1, 1, 1), other}, "a a~2", "a id-duplicate"},
		{"repeated, name taken", []Record{at("a", 1, 1, 1), other, at("a~2", 4, 9, 9)}, "a a~2 a~3", "a id-duplicate"},
		{"three times", []Record{at("a", 1, 1, 1), other, at("a", 7, 2, 2)}, "a a~2 a~3", "a id-duplicate; a id-duplicate"},
		{"copy", []Record{at("a", 1, 1, 1), at("a", 2, 1, 1)}, "a", "a record-duplicate"},
		{"copy and another", []Record{other, at("a", 1, 1, 1), at("a", 2, 1, 1)}, "a a~2", "a record-duplicate; a id-duplicate"},
		{"a name between", []Record{at("a", 1, 1, 1), other, at("a!", 5, 7, 7), at("a!", 6, 8, 8), at("a~2", 7, 9, 9)}, "a a! a!~2 a~2 a~3", "a id-duplicate; a! id-duplicate"},
		{"same sighting", []Record{at("b", 1, 1, 1), at("a", 2, 1, 1)}, "a b", "b sighting-repeated"},
	} {
		t.Run(c.name, func(t *testing.T) {
			for range 3 { // in three orders
				records, findings := Check(slices.Clone(c.records), DefaultOptions(q3))
				if ids(records) != c.ids || told(findings) != c.told {
					t.Errorf("ids %q with %q, want %q with %q", ids(records), told(findings), c.ids, c.told)
				}
				if len(c.records) > 1 {
					c.records = append(c.records[1:], c.records[0])
				}
			}
		})
	}
}

// TestCheckKeepsFirstByContent: of two records with one id the same keeps it
// whatever the order of the rows.
func TestCheckKeepsFirstByContent(t *testing.T) {
	one, two := at("a", 1, 1, 1), at("a", 2, 1, 1)
	two.Notes = &Notes{Remarks: "seen again"}
	first, _ := Check([]Record{one, two}, DefaultOptions(q3))
	second, _ := Check([]Record{two, one}, DefaultOptions(q3))
	if first[0].Told().Remarks != "" || second[0].Told().Remarks != "" || first[1].Told().Remarks != "seen again" || second[1].ID != "a~2" {
		t.Errorf("%+v\n%+v", first, second)
	}
}

// TestCheckPatchSizes: patches that nobody measures so are kept and told of.
func TestCheckPatchSizes(t *testing.T) {
	for area, want := range map[float64]string{1e-5: "a patch-implausible", 1e-4: "", 1e6: "", 1.1e6: "a patch-implausible"} {
		r := at("a", 1, 1, 1)
		r.PatchArea = geo.SquareMeters(area)
		records, findings := Check([]Record{r}, DefaultOptions(q3))
		if len(records) != 1 || float64(records[0].PatchArea) != area || told(findings) != want {
			t.Errorf("%g m2: %q, want %q", area, told(findings), want)
		}
	}
}

// TestCheckMeasures: what cannot be true is blanked and the record kept.
func TestCheckMeasures(t *testing.T) {
	r := at("a", 1, 1, 1)
	r.Uncertainty, r.PatchArea, r.Cover, r.StemHeight = -1, -2, 100.5, 0
	records, findings := Check([]Record{r}, DefaultOptions(q3))
	got := records[0]
	if got.Uncertainty != 0 || got.PatchArea != 0 || !math.IsNaN(got.Cover) || !math.IsNaN(got.StemHeight) {
		t.Errorf("%+v", got)
	}
	if told(findings) != "a cover-out-of-range; a uncertainty-not-positive; a patch-not-positive; a height-not-positive" {
		t.Errorf("%s", told(findings))
	}
	for _, f := range findings {
		if f.Rule.Severity != check.Warning || f.Position == nil || *f.Position != (orb.Point{1, 1}) {
			t.Errorf("%+v", f)
		}
	}
	r.Cover, r.PatchArea, r.Uncertainty, r.StemHeight = math.Inf(1), 0, 0, math.NaN()
	if _, findings := Check([]Record{r}, DefaultOptions(q3)); told(findings) != "a cover-out-of-range" {
		t.Errorf("%s", told(findings))
	}
}

// TestCheckDates: only what begins after the quarter is rejected.
func TestCheckDates(t *testing.T) {
	for _, c := range []struct {
		begin, end time.Time
		kept       int
		told       string
	}{
		{time.Time{}, time.Time{}, 1, ""},
		{q3.End(), q3.End().AddDate(0, 0, 9), 1, ""},
		{q3.Next().Begin(), q3.Next().Begin(), 0, "a date-after-quarter"},
		{q3.Previous().Begin(), q3.Begin(), 1, ""},
		{q3.Previous().Begin(), q3.Previous().End(), 1, "a date-before-quarter"},
	} {
		r := at("a", 1, 1, 1)
		r.Begin, r.End = DayOf(c.begin), DayOf(c.end)
		records, findings := Check([]Record{r}, DefaultOptions(q3))
		if len(records) != c.kept || told(findings) != c.told {
			t.Errorf("%v to %v: kept %d with %s", c.begin, c.end, len(records), told(findings))
		}
		if records, findings := Check([]Record{r}, Options{}); len(records) != 1 || len(findings) != 0 {
			t.Errorf("without a quarter: kept %d with %s", len(records), told(findings))
		}
	}
}

// TestCheckPositions: edges of the range of degrees; by hand.
func TestCheckPositions(t *testing.T) {
	for p, want := range map[orb.Point]string{
		{180, 90}: "", {-180, -90}: "", {0, 1e-9}: "", {1e-9, 0}: "", {180.0001, 5}: "a position-out-of-range", {5, 90.0001}: "a position-swapped", {90.0001, 90.0001}: "a position-out-of-range",
		{89, 179}: "a position-swapped", {0, 0}: "a position-zero", {math.NaN(), 1}: "a position-missing", {math.Inf(1), 1}: "a position-projected", {361, 5}: "a position-projected", {4e5, 5e6}: "a position-projected",
	} {
		_, findings := Check([]Record{at("a", 1, p[0], p[1])}, DefaultOptions(q3))
		if told(findings) != want {
			t.Errorf("%v: %s, want %s", p, told(findings), want)
		}
	}
}

// TestRules: every rule has code, remedy and a code of its own.
func TestRules(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range Rules() {
		if r.Code == "" || r.Remedy == "" || seen[r.Code] || strings.ToLower(r.Code) != r.Code || strings.ContainsAny(r.Code, " _") {
			t.Errorf("%+v", r)
		}
		seen[r.Code] = true
	}
	if len(seen) != 20 {
		t.Errorf("%d rules", len(seen))
	}
}

func TestOptions(t *testing.T) {
	if err := DefaultOptions(q3).Validate(); err != nil {
		t.Error(err)
	}
	for _, o := range []Options{{Quarter: Quarter{2026, 5}}, {Quarter: q3, LargestPatch: -1}, {Quarter: q3, SmallestPatch: -1}} {
		if o.Validate() == nil {
			t.Errorf("%+v is valid", o)
		}
	}
}

func TestWords(t *testing.T) {
	for _, s := range Statuses() {
		if back, ok := ParseStatus(s.String()); !ok || back != s {
			t.Errorf("%v reads back as %v", s, back)
		}
	}
	for text, want := range map[string]Status{" Treated ": Treated, "standing dead": StandingDead, "Standing-Dead": StandingDead, "RESPROUT": Resprout} {
		if s, ok := ParseStatus(text); !ok || s != want {
			t.Errorf("%q reads as %v, %v", text, s, ok)
		}
	}
	if _, ok := ParseStatus("dead"); ok {
		t.Error("dead is a status")
	}
	for text, want := range map[string]string{"detected": "true true", "PRESENT": "true true", "notDetected": "false true", "not detected": "false true", "Not_Detected": "false true", "absent": "false true", "": "false false", "yes": "false false"} {
		if detected, ok := ParseOccurrence(text); fmt.Sprint(detected, ok) != want {
			t.Errorf("%q reads as %v, %v", text, detected, ok)
		}
	}
}

// TestCoverTables: published midpoints (Daubenmire 1959; BLM TR 1734-4, table 2).
func TestCoverTables(t *testing.T) {
	for name, want := range map[string]string{
		"daubenmire":          "1=2.5 2=15 3=37.5 4=62.5 5=85 6=97.5",
		"modified_daubenmire": "0=0 1=3 2=15 3=37.5 4=62.5 5=85 6=97.5 T=0.5",
	} {
		table, ok := FindCoverTable(strings.ToUpper(name))
		var got []string
		for _, class := range table.Classes() {
			v, _ := table.Midpoint(strings.ToLower(class))
			got = append(got, fmt.Sprintf("%s=%v", class, v))
		}
		if !ok || strings.Join(got, " ") != want || table.Source == "" {
			t.Errorf("%s: %v", name, got)
		}
	}
	if _, ok := FindCoverTable("none"); ok {
		t.Error("there is a table called none")
	}
	if _, ok := (CoverTable{}).Midpoint("1"); ok {
		t.Error("a table without classes has class 1")
	}
}
