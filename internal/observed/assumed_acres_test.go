package observed

import (
	"math"
	"testing"
	"time"

	"driftreach/geo"
	"driftreach/internal/column"
	"driftreach/internal/intake"
	"driftreach/internal/mapfile"
	"driftreach/internal/settings"
	"driftreach/internal/survey"
)

// TestOneRecordTakes: messages are in the singular for one record and in the plural for several; by
// hand.
func TestOneRecordTakes(t *testing.T) {
	s, in := settings.Default(), &Quarter{}
	for finds, want := range map[int][2]string{
		1: {"patch area: no column; 1 record takes 0.1 ac each, 0.10 acres in all", "date: no column; 1 record counts as of the quarter, 0.10 acres"},
		3: {"patch area: no column; 1 record of 3 takes 0.1 ac each, 0.10 acres in all of 0.30", "date: no column; 3 records count as of the quarter, 0.30 acres"},
	} {
		all := 0.1 * float64(finds)
		w := weighed{finds: finds, noArea: 1, noDate: finds, all: all, assumed: 0.1, undated: all}
		if got := [2]string{w.patchLine(in, s), w.dateLine(in)}; got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// TestWeighCountsFinds: a measured find, a find without measurements, and a place where nothing was
// found; by hand: the default patch is 0.1 acre, the default cover 50 %.
func TestWeighCountsFinds(t *testing.T) {
	s := settings.Default()
	s.Stands.DefaultPatch, s.Stands.DefaultCover = 0.1, 50
	acre := float64(geo.Acres(1).SquareMeters())
	in := &Quarter{Records: survey.Records{Listed: []survey.Record{
		{ID: "a", Detected: true, PatchArea: geo.SquareMeters(2 * acre), Cover: 40, Begin: survey.DayOf(time.Date(2026, 8, 1, 0, 0, 0, 0, time.UTC))},
		{ID: "b", Detected: true, Cover: math.NaN()},
		{ID: "c", Cover: math.NaN()},
	}}}
	want := weighed{finds: 2, noArea: 1, noCover: 1, noDate: 1, all: 2.1, assumed: 0.1, uncovered: 0.1, undated: 0.1, shade: 0.05}
	got := in.weigh(s)
	for _, f := range []*float64{&got.all, &got.assumed, &got.uncovered, &got.undated, &got.shade} {
		*f = math.Round(*f*1e9) / 1e9
	}
	if got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
}

// TestFilesThatDoNotSay: reports only finds in files of points without the column, and no file of
// another kind; by hand.
func TestFilesThatDoNotSay(t *testing.T) {
	said := []column.Report{{Field: "occurrenceStatus", Column: "found"}}
	in := &Quarter{
		Files:         []mapfile.File{{Role: "points"}, {Role: "points"}, {Role: "works"}},
		ColumnReports: []intake.File{{Name: "says.csv", Columns: said}, {Name: "silent.csv"}, {Name: "works.csv"}},
		Records: survey.Records{Listed: []survey.Record{
			{File: "says.csv", Detected: true}, {File: "silent.csv", Detected: true}, {File: "silent.csv", Detected: true}, {File: "silent.csv"},
			{File: "works.csv", Detected: true}, // only points have finds
		}},
	}
	w := weighed{finds: 3, all: 0.3}
	if got, want := w.foundLine(in), "found or not: no column; 2 records of 3, all count as found"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// TestColumnOfPointsAlone: a measurement has no column if only a file of another kind has one, and
// is not in every record if only one of several files of points has it; by hand.
func TestColumnOfPointsAlone(t *testing.T) {
	measured := []column.Report{{Field: "patch_diameter_m", Column: "diameter"}}
	for name, test := range map[string]struct {
		files []mapfile.File
		of    []intake.File
		want  string
	}{
		"works have it":         {[]mapfile.File{{Role: "points"}, {Role: "works"}}, []intake.File{{}, {Columns: measured}}, "no column; 2 records of 5 take"},
		"one of the points has": {[]mapfile.File{{Role: "points"}, {Role: "points"}, {Role: "works"}}, []intake.File{{}, {Columns: measured}, {}}, "not in every record; 2 records of 5 take"},
	} {
		in := &Quarter{Files: test.files, ColumnReports: test.of}
		if got := lacking(in, 2, 5, "take", "patch_area_m2", "patch_length_m", "patch_diameter_m"); got != test.want {
			t.Errorf("%s: %q, want %q", name, got, test.want)
		}
	}
}
