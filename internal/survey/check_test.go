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
	return Record{ID: id, File: "dir/p.csv", Row: row, Position: orb.Point{lon, lat}, Begin: DayOf(q3.Begin()), End: DayOf(q3.Begin()), Detected: true, Cover: math.NaN(), StemHeight: geo.Meters(math.NaN())}
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
	one, two := at("a", 1, 1, 1), at("a", 2, 1, 1.001)
	two.Notes = Notes{Remarks: "seen elsewhere"}.Pack()
	first, _ := Check([]Record{one, two}, DefaultOptions(q3))
	second, _ := Check([]Record{two, one}, DefaultOptions(q3))
	if first[0].Remarks() != "" || second[0].Remarks() != "" || first[1].Remarks() != "seen elsewhere" || second[1].ID != "a~2" {
		t.Errorf("%+v\n%+v", first, second)
	}
}

// on returns a good record of a day, so many metres north of 1, 1; by hand, a
// degree of latitude there is 110 574 m.
func on(id, day string, north float64) Record {
	d, err := time.Parse(time.DateOnly, day)
	if err != nil {
		panic(err)
	}
	r := at(id, int(d.Unix()/86400)*10+int(north), 1, 1+north/110_574)
	r.Begin, r.End = DayOf(d), DayOf(d)
	return r
}

func but(r Record, change func(*Record)) Record {
	change(&r)
	return r
}

func absent(r *Record) { r.Detected = false }

// TestNewestLook: of one id within position uncertainty, 5 m where none is
// recorded, the newest look stays; by hand.
func TestNewestLook(t *testing.T) {
	for _, c := range []struct {
		name    string
		records []Record
		days    string // of what is kept, by id
		told    string
		aside   int
	}{
		{"looked at again", []Record{on("a", "2026-07-02", 0), on("a", "2026-08-02", 9)}, "a 2026-08-02", "a record-seen-again", 1},
		{"three times", []Record{on("a", "2026-07-02", 0), on("a", "2026-08-02", 3), on("a", "2026-09-02", 6)}, "a 2026-09-02", "a record-seen-again; a record-seen-again", 2},
		{"two crews that number from 1", []Record{on("1", "2026-07-02", 0), on("1", "2026-08-02", 11)}, "1 2026-07-02; 1~2 2026-08-02", "1 id-duplicate", 0},
		{"the same, each looked at again", []Record{on("1", "2026-07-02", 0), on("1", "2026-08-02", 1), on("1", "2026-07-02", 50), on("1", "2026-08-02", 51)}, "1 2026-08-02; 1~2 2026-08-02", "1 record-seen-again; 1 record-seen-again; 1 id-duplicate", 2},
		{"recorded uncertainty", []Record{on("a", "2026-07-02", 0), but(on("a", "2026-08-02", 30), func(r *Record) { r.Uncertainty = 26 })}, "a 2026-08-02", "a record-seen-again", 1},
		{"uncertain beyond telling", []Record{on("a", "2026-07-02", 0), but(on("a", "2026-08-02", 110), func(r *Record) { r.Uncertainty = 500 })}, "a 2026-07-02; a~2 2026-08-02", "a id-duplicate", 0},
		{"no day is neither older nor newer", []Record{but(on("a", "2026-07-02", 0), func(r *Record) { r.Begin, r.End = 0, 0 }), on("a", "2026-07-01", 1)}, "a 0001-01-01; a~2 2026-07-01", "a id-duplicate", 0},
		{"a slip in the number", []Record{but(on("a", "2026-07-02", 1), func(r *Record) { r.PatchArea = 7 }), on("a", "2026-07-02", 0)}, "a 2026-07-02; a~2 2026-07-02", "a id-duplicate", 0},
		{"found after an absence", []Record{but(on("a", "2026-07-02", 0), absent), on("a", "2026-08-02", 1)}, "a 2026-08-02", "a record-seen-again", 1},
		{"an absence does not stand for a find", []Record{on("a", "2026-07-02", 0), but(on("a", "2026-08-02", 1), absent)}, "a 2026-07-02; a~2 2026-08-02", "a id-duplicate", 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			for range 2 { // in both orders
				slices.Reverse(c.records)
				done := Examine(slices.Clone(c.records), DefaultOptions(q3))
				var days []string
				for _, r := range done.Records {
					days = append(days, r.ID+" "+r.End.String())
				}
				aside := 0
				for _, a := range done.Aside {
					aside += a.Records
				}
				if strings.Join(days, "; ") != c.days || told(done.Findings) != c.told || aside != c.aside {
					t.Errorf("%s with %s, %d set aside; want %s with %s, %d", days, told(done.Findings), aside, c.days, c.told, c.aside)
				}
			}
		})
	}
}

// TestEarlierSetAside: records before the first day that counts; by hand.
func TestEarlierSetAside(t *testing.T) {
	records := []Record{on("a", "2026-06-30", 0), on("b", "2026-07-01", 500), on("c", "2025-12-24", 900), but(on("d", "2026-07-01", 1500), func(r *Record) { r.Begin, r.End = 0, 0 })}
	across := on("e", "2026-06-02", 3000)
	across.End = on("e", "2026-07-01", 0).End
	done := Examine(append(records, across), DefaultOptions(q3))
	if ids(done.Records) != "b d e" || told(done.Findings) != "date-before-quarter" || fmt.Sprint(done.Aside) != "[{dir/p.csv 2}]" {
		t.Errorf("%s with %s, aside %v", ids(done.Records), told(done.Findings), done.Aside)
	}
	if f := done.Findings[0]; f.Rule.Severity != check.Warning || f.Value != "2025-12-24/2026-06-30" || !strings.Contains(f.Message, "2 records are earlier than 2026-07-01") {
		t.Errorf("%+v", f)
	}
	if got := fmt.Sprint(done.Quarters); got != "[{0000Q0 1} {2025Q4 1} {2026Q2 2} {2026Q3 1}]" {
		t.Error(got)
	}
}

// TestSettleAbsences: a later absence at the place of a find wins only when work
// lies between; by hand, positions are off by 5 m where they say nothing.
func TestSettleAbsences(t *testing.T) {
	day := func(text string) Day { return on("", text, 0).End }
	for _, c := range []struct {
		name    string
		records []Record
		work    Day // at every place; 0 for none
		kept    string
		told    string
	}{
		{"a second observer misses it", []Record{on("a", "2026-07-02", 0), but(on("b", "2026-08-02", 9), absent)}, 0, "a b", "a absence-overruled"},
		{"where the plants end", []Record{on("a", "2026-07-02", 0), but(on("b", "2026-07-02", 9), absent)}, day("2026-07-02"), "a b", ""},
		{"another observer on the same day", []Record{on("a", "2026-07-02", 0), but(on("b", "2026-07-02", 9), func(r *Record) { r.Detected, r.Notes = false, Notes{RecordedBy: "B"}.Pack() })}, day("2026-07-02"), "a b", "a absence-overruled"},
		{"looked for before it was found", []Record{on("a", "2026-07-02", 0), but(on("b", "2026-07-01", 9), absent)}, 0, "a b", ""},
		{"farther off than the positions say", []Record{on("a", "2026-07-02", 0), but(on("b", "2026-08-02", 11), absent)}, day("2026-07-09"), "a b", ""},
		{"work between", []Record{on("a", "2026-07-02", 0), but(on("b", "2026-08-02", 9), absent)}, day("2026-07-09"), "b", "a find-gone-after-work"},
		{"work on the day it was found", []Record{on("a", "2026-07-02", 0), but(on("b", "2026-08-02", 9), absent)}, day("2026-07-02"), "b", "a find-gone-after-work"},
		{"work before it was found", []Record{on("a", "2026-07-02", 0), but(on("b", "2026-08-02", 9), absent)}, day("2026-07-01"), "a b", "a absence-overruled"},
		{"work after the absence", []Record{on("a", "2026-07-02", 0), but(on("b", "2026-08-02", 9), absent)}, day("2026-08-03"), "a b", "a absence-overruled"},
		{"the latest absence counts", []Record{on("a", "2026-07-02", 0), but(on("b", "2026-07-04", 1), absent), but(on("c", "2026-08-02", 2), absent)}, day("2026-07-09"), "b c", "a find-gone-after-work"},
		{"found again after the work", []Record{on("a", "2026-07-02", 0), but(on("b", "2026-08-02", 1), absent), on("c", "2026-09-02", 2)}, day("2026-07-09"), "b c", "a find-gone-after-work"},
		{"an absence without a day", []Record{on("a", "2026-07-02", 0), but(on("b", "2026-08-02", 1), func(r *Record) { r.Detected, r.Begin, r.End = false, 0, 0 })}, day("2026-07-09"), "a b", ""},
		{"a find without a day", []Record{but(on("a", "2026-07-02", 0), func(r *Record) { r.Begin, r.End = 0, 0 }), but(on("b", "2026-08-02", 1), absent)}, day("2026-07-09"), "a b", "a absence-overruled"},
	} {
		t.Run(c.name, func(t *testing.T) {
			worked := func(_ *Record, from, to Day) bool { return c.work != 0 && from <= c.work && c.work <= to }
			got := SettleAbsences(slices.Clone(c.records), worked, DefaultOptions(q3))
			if ids(got.Records) != c.kept || told(got.Findings) != c.told || len(got.Aside) != len(c.records)-len(got.Records) {
				t.Errorf("%s with %s, aside %v; want %s with %s", ids(got.Records), told(got.Findings), got.Aside, c.kept, c.told)
			}
		})
	}
}

// TestCheckPatchSizes: patches of impossible size are left out and reported.
func TestCheckPatchSizes(t *testing.T) {
	for area, want := range map[float64]string{1e-5: "a patch-implausible", 1e-4: "", 1e6: "", 1.1e6: "a patch-implausible", 1e22: "a patch-implausible", math.Inf(1): "a patch-implausible"} {
		r := at("a", 1, 1, 1)
		r.PatchArea = geo.SquareMeters(area)
		records, findings := Check([]Record{r}, DefaultOptions(q3))
		left := area
		if want != "" {
			left = 0
		}
		if len(records) != 1 || float64(records[0].PatchArea) != left || told(findings) != want {
			t.Errorf("%g m2: %q, want %q; %g m2 left", area, told(findings), want, float64(records[0].PatchArea))
		}
		o := DefaultOptions(q3)
		if o.LargestPatch = 2e6; area == 1.1e6 {
			if records, findings := Check([]Record{r}, o); len(findings) > 0 || float64(records[0].PatchArea) != area {
				t.Errorf("%g m2 where 2e6 are believed: %q", area, told(findings))
			}
		}
	}
}

// TestCheckDrawnPatchSize: a square of 0.02 degrees at 34 north is 1.85 by 2.22
// km, 4.1 km2 and too large; one of 0.002 degrees is not.
func TestCheckDrawnPatchSize(t *testing.T) {
	for side, want := range map[float64]string{0.02: "a patch-implausible", 0.002: ""} {
		r := at("a", 1, 1, 34)
		r.Outline = orb.MultiPolygon{{{{1, 34}, {1 + side, 34}, {1 + side, 34 + side}, {1, 34 + side}, {1, 34}}}}
		records, findings := Check([]Record{r}, DefaultOptions(q3))
		if told(findings) != want || (records[0].Outline == nil) != (want != "") {
			t.Errorf("%g degrees: %q, %v", side, told(findings), records[0].Outline)
		}
	}
}

// TestCheckBounds: values above what a plant can have are left out.
func TestCheckBounds(t *testing.T) {
	r := at("a", 1, 1, 1)
	for _, c := range []struct {
		uncertainty, height float64
		told                string
	}{
		{100_000, 40, ""}, {100_001, 40.5, "a measure-implausible; a measure-implausible"}, {3.4e38, 65535, "a measure-implausible; a measure-implausible"},
		{math.Inf(1), math.Inf(1), "a measure-implausible; a measure-implausible"},
	} {
		r.Uncertainty, r.StemHeight = geo.Meters(c.uncertainty), geo.Meters(c.height)
		o := DefaultOptions(q3)
		records, findings := Check([]Record{r}, o)
		if got := records[0]; told(findings) != c.told || c.told != "" && (got.Uncertainty != 0 || !math.IsNaN(float64(got.StemHeight))) {
			t.Errorf("%g and %g: %q, %+v", c.uncertainty, c.height, told(findings), got)
		}
	}
}

// TestCheckMeasures: impossible values are blanked and the record is kept.
func TestCheckMeasures(t *testing.T) {
	r := at("a", 1, 1, 1)
	r.Uncertainty, r.PatchArea, r.Cover, r.StemHeight = -1, -2, 100.5, 0
	records, findings := Check([]Record{r}, DefaultOptions(q3))
	got := records[0]
	if got.Uncertainty != 0 || got.PatchArea != 0 || !math.IsNaN(got.Cover) || !math.IsNaN(float64(got.StemHeight)) {
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
	r.Cover, r.PatchArea, r.Uncertainty, r.StemHeight = math.Inf(1), 0, 0, geo.Meters(math.NaN())
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
		{q3.Previous().Begin(), q3.Previous().End(), 0, "date-before-quarter"},
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

// TestRules: every rule has a remedy and a code that no other rule has.
func TestRules(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range Rules() {
		if r.Code == "" || r.Remedy == "" || seen[r.Code] || strings.ToLower(r.Code) != r.Code || strings.ContainsAny(r.Code, " _") {
			t.Errorf("%+v", r)
		}
		seen[r.Code] = true
	}
	if len(seen) != 27 {
		t.Errorf("%d rules", len(seen))
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

// Check returns the records that Examine accepts, and what it found.
func Check(records []Record, o Options) ([]Record, []check.Finding) {
	done := Examine(records, o)
	return done.Records, done.Findings
}
