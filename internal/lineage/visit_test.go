package lineage

import (
	"testing"
	"time"

	"github.com/paulmach/orb"

	"driftreach/internal/effort"
	"driftreach/internal/survey"
)

// TestDayOfVisit: the last day that what makes it a visit tells of, by hand. The
// stand is 24 m across at the origin.
func TestDayOfVisit(t *testing.T) {
	c := newChain(t)
	c.step(Evidence{Records: records(patch(0, 0, 2, 2)...)})
	on := func(n int) time.Time { return time.Date(2026, 5, n, 0, 0, 0, 0, time.UTC) }
	record := func(day int, x float64, detected bool) survey.Record {
		r := survey.Record{ID: "r", Position: base.Inverse(orb.Point{x, 0}), Detected: detected}
		if day > 0 {
			r.Begin, r.End = survey.DayOf(on(1)), survey.DayOf(on(day))
		}
		return r
	}
	area := func(day int, west, east float64) effort.Ground {
		ring := base.UnprojectLine(orb.LineString{{west, -50}, {east, -50}, {east, 50}, {west, 50}, {west, -50}})
		return effort.Ground{Begin: on(1), End: on(day), Areas: orb.MultiPolygon{{orb.Ring(ring)}}}
	}
	line := func(day int, y float64) effort.Ground {
		return effort.Ground{Begin: on(1), End: on(day), Lines: orb.MultiLineString{base.UnprojectLine(orb.LineString{{-200, y}, {200, y}})}}
	}
	for _, tt := range []struct {
		name     string
		evidence Evidence
		looked   bool
		day      int // 0 for none
	}{
		{"nobody", Evidence{}, false, 0},
		{"the later of two records", Evidence{Records: []survey.Record{record(9, 0, false), record(7, 5, false), record(20, 200, false)}}, true, 9},
		{"in any order", Evidence{Records: []survey.Record{record(7, 5, false), record(20, 200, false), record(9, 0, false)}}, true, 9},
		{"a record without a date", Evidence{Records: []survey.Record{record(0, 0, false)}}, true, 0},
		{"dated and not", Evidence{Records: []survey.Record{record(0, 0, false), record(3, 0, false)}}, true, 3},
		{"two areas that cover it together", Evidence{Given: true, Ground: []effort.Ground{area(6, -50, 5), area(4, 5, 50), area(30, 400, 500)}}, true, 6},
		{"a line along it and one far off", Evidence{Given: true, Ground: []effort.Ground{line(12, 20), line(28, 400)}}, true, 12},
		{"ground and a later record", Evidence{Given: true, Ground: []effort.Ground{line(12, 20)}, Records: []survey.Record{record(15, 0, false), record(25, 0, true)}}, true, 15},
		{"too little ground for a visit", Evidence{Given: true, Ground: []effort.Ground{area(6, -50, 0)}}, false, 0},
		{"too little ground, and a record", Evidence{Given: true, Ground: []effort.Ground{area(6, -50, 0)}, Records: []survey.Record{record(2, 0, false)}}, true, 2},
	} {
		t.Run(tt.name, func(t *testing.T) {
			want := time.Time{}
			if tt.day > 0 {
				want = on(tt.day)
			}
			if v := Visits(c.known, tt.evidence, c.s, 1)[0]; v.Looked != tt.looked || !v.Day.Equal(want) {
				t.Errorf("%+v, want %v on %v", v, tt.looked, want)
			}
		})
	}
}
