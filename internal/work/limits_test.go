package work

import (
	"fmt"
	"testing"
	"time"

	"github.com/paulmach/orb"
)

// Each value tells two works apart, in this order: kind, start, end, contact, place; file, row and id do
// not.
func TestContentOfWorks(t *testing.T) {
	line := orb.LineString{{10, -20}, {10.1, -20}}
	for name, change := range map[string]func(w *Work){
		"kind": func(w *Work) { w.Kind = "z" }, "start": func(w *Work) { w.Start = w.Start.AddDate(0, 0, 1) }, "end": func(w *Work) { w.End = w.End.AddDate(0, 0, 1) },
		"contact": func(w *Work) { w.Contact = "Z" }, "point": func(w *Work) { w.Points = orb.MultiPoint{{10, -19}} }, "line": func(w *Work) { w.Lines = orb.MultiLineString{line} },
		"area": func(w *Work) { w.Areas = orb.MultiPolygon{{{{10, -20}, {11, -20}, {11, -19}, {10, -20}}}} },
	} {
		a, b := good(), good()
		if change(&b); compareContent(&a, &b) != -1 || compareContent(&b, &a) != 1 {
			t.Errorf("%s: %d", name, compareContent(&a, &b))
		}
	}
	a, b := good(), good()
	b.ID, b.File, b.Row = "z", "z", 9
	if compareContent(&a, &b) != 0 {
		t.Error("file, row or id tell two works apart")
	}
}

// Kinds in any writing, by hand; others are kept as entered.
func TestKindsAreReadAsTheyAreWritten(t *testing.T) {
	for text, want := range map[string]string{
		"MOWING": Mowing, "earth-work": "earth-work", "Earthwork": Earthwork, "channel__work": ChannelWork, " channel work ": ChannelWork, "Channel-Work": ChannelWork, "fence": "fence", "": "",
	} {
		w := good()
		w.Kind = text
		kept, findings := Check([]Work{w}, Options{})
		known := want == Mowing || want == Earthwork || want == ChannelWork
		if kept[0].Kind != want || (len(findings) == 0) != known {
			t.Errorf("%q is read as %q with %q", text, kept[0].Kind, codes(findings))
		}
	}
}

// A work is over on the day after its last, by the calendar; one without an end never is.
func TestOver(t *testing.T) {
	w := good() // to 9 October
	for text, want := range map[string]bool{"2026-10-08": false, "2026-10-09": false, "2026-10-10": true, "2027-01-01": true} {
		if got := w.Over(day(text)); got != want {
			t.Errorf("on %s: %v", text, got)
		}
	}
	if w.Over(time.Time{}) || (&Work{Start: day("2020-01-01")}).Over(day("2030-01-01")) {
		t.Error("over without a day")
	}
	// on one day, and a day before its start
	for _, tt := range []struct {
		end, want string
	}{{"2026-10-05", ""}, {"2026-10-04", "b work-dates-reversed"}} {
		w := good()
		w.End = day(tt.end)
		if _, findings := Check([]Work{w}, Options{}); codes(findings) != tt.want {
			t.Errorf("to %s: %q", tt.end, codes(findings))
		}
	}
}

// The paths of a work: points, then lines, then every ring.
func TestPaths(t *testing.T) {
	w := Work{
		Points: orb.MultiPoint{{1, 1}, {2, 2}}, Lines: orb.MultiLineString{{{3, 3}, {4, 4}}},
		Areas: orb.MultiPolygon{{{{5, 5}, {6, 5}, {5, 6}, {5, 5}}, {{5.1, 5.1}, {5.2, 5.1}, {5.1, 5.1}}}},
	}
	want := "[[[1 1]] [[2 2]] [[3 3] [4 4]] [[5 5] [6 5] [5 6] [5 5]] [[5.1 5.1] [5.2 5.1] [5.1 5.1]]]"
	if got := fmt.Sprint(w.Paths()); got != want {
		t.Errorf("%s, want %s", got, want)
	}
	for name, alone := range map[string]Work{"points": {Points: w.Points}, "lines": {Lines: w.Lines}, "areas": {Areas: w.Areas}} {
		if n, want := len(alone.Paths()), map[string]int{"points": 2, "lines": 1, "areas": 2}[name]; n != want {
			t.Errorf("of %s alone there are %d paths, want %d", name, n, want)
		}
	}
}
