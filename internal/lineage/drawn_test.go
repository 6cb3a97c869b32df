package lineage

import (
	"math"
	"slices"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/linear"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
	"driftreach/internal/surveyed"
)

// drawn is a detected record with a patch drawn as a rectangle in metres of base, and its position
// in the middle.
func drawn(id string, west, south, east, north float64) survey.Record {
	return survey.Record{
		ID: id, Detected: true, Cover: 50, Position: base.Inverse(orb.Point{(west + east) / 2, (south + north) / 2}), Outline: orb.MultiPolygon{box(west, south, east, north)},
	}
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %.5f, want %.5f", what, got, want)
	}
}

// TestShareBesideWater: a patch drawn from 50 m west to 50 m east of a stream that flows north, 40
// m along it, and a line walked or boated beside it. By hand: the share of the 100 m across that is
// within reach (20 m on foot, 25 by boat) and on the surveyed bank. On foot, water 10 m wide or
// wider, and the ground beyond it, is not seen.
func TestShareBesideWater(t *testing.T) {
	before := knownOf(t, []survey.Record{drawn("d", -50, -20, 50, 20)})
	for _, test := range []struct {
		name   string
		wide   geo.Meters
		ground surveyed.Ground
		x      float64
		want   float64
	}{
		{"both banks of a creek", 4, surveyed.Ground{}, 5, 0.40},                             // -15 to 25
		{"the right bank of a creek", 4, surveyed.Ground{Bank: surveyed.RightBank}, 5, 0.25}, // 0 to 25
		{"the left bank of a creek", 4, surveyed.Ground{Bank: surveyed.LeftBank}, 5, 0.15},   // -15 to 0
		{"a river", 12, surveyed.Ground{}, 10, 0.24},                                         // 6 to 30
		{"as wide as is waded", 9.9, surveyed.Ground{}, 10, 0.40},                            // -10 to 30
		{"just wider", 10, surveyed.Ground{}, 10, 0.25},                                      // 5 to 30
		{"from the west", 12, surveyed.Ground{}, -10, 0.24},                                  // -30 to -6
		{"a river by boat", 12, surveyed.Ground{Method: surveyed.Boat}, 10, 0.50},            // -15 to 35
		{"in the channel", 12, surveyed.Ground{}, 3, 0.40},                                   // -17 to 23
		{"a bank by boat", 12, surveyed.Ground{Method: surveyed.Boat, Bank: surveyed.RightBank}, 10, 0.35},
		{"no water at all", 0, surveyed.Ground{Bank: surveyed.LeftBank}, 5, 0.40}, // away from streams it is on the bank
	} {
		for stream, lines := range map[string][]orb.LineString{
			"past the line": {path(0, -900, 0, 900)},
			// the same ground beside the patch, whatever happens at the ends
			"ends before it":   {path(0, -300, 0, 400)},
			"begins before it": {path(0, -400, 0, 300)},
			"in two lines":     {path(0, -300, 0, 0), path(0, 0, 0, 400)},
			"after a gap":      {path(0, -300, 0, 400), path(0, 400.5, 0, 900)},
		} {
			t.Run(test.name+", "+stream, func(t *testing.T) {
				g := test.ground
				g.Lines = orb.MultiLineString{append(path(test.x, -500, test.x, 0), path(test.x, 0, test.x, 500)...)}
				e := Evidence{Given: true, Ground: []surveyed.Ground{g}}
				if test.wide > 0 {
					e.Water = Water{Paths: linear.LinesOf(lines), Half: slices.Repeat([]geo.Meters{test.wide / 2}, len(lines))}
				}
				l := Trace(before, Now{}, e, DefaultSettings(), 1)
				near(t, "share", l.Looks[0].Share, test.want, 1e-3)
				left := l.Looks[0].Left
				if len(left) != 1 || len(left[0].Patch) == 0 {
					t.Fatalf("%+v", left)
				}
				near(t, "acreage left", float64(earth.Area(left[0].Patch)), 4000*(1-test.want), 4)
				if !within(left[0].Patch, left[0].At) {
					t.Errorf("%v is not on what is left", left[0].At)
				}
			})
		}
	}
}

// within says whether a place is in one of some areas in degrees.
func within(areas orb.MultiPolygon, at orb.Point) bool {
	in := false
	for _, polygon := range areas {
		for _, ring := range polygon {
			for i := 0; i+1 < len(ring); i++ {
				a, b := ring[i], ring[i+1]
				if (a[1] > at[1]) != (b[1] > at[1]) && at[0] < a[0]+(at[1]-a[1])/(b[1]-a[1])*(b[0]-a[0]) {
					in = !in
				}
			}
		}
	}
	return in
}

// TestDrawnPatchesSee: how much of one patch is seen, by hand. A record of "not detected" that drew
// its east half saw that half. A find that drew the westernmost 10 m saw 30 m around that, the join
// distance, so 60 m remain; with surveyed ground it saw only its own patch; and a find of a stand
// without a link saw nothing.
func TestDrawnPatchesSee(t *testing.T) {
	before := knownOf(t, []survey.Record{drawn("d", -50, -20, 50, 20)})
	nothing := drawn("z", 0, -20, 50, 20)
	nothing.Detected = false
	nothing.Begin, nothing.End = survey.DayOf(time.Date(2026, 5, 1, 0, 0, 0, 0, time.UTC)), survey.DayOf(time.Date(2026, 5, 2, 0, 0, 0, 0, time.UTC))
	farther := drawn("y", 20, -20, 50, 20)
	farther.Detected = false
	find := drawn("f", -50, -20, -40, 20)
	find.Begin, find.End = survey.DayOf(time.Date(2026, 5, 3, 0, 0, 0, 0, time.UTC)), survey.DayOf(time.Date(2026, 5, 4, 0, 0, 0, 0, time.UTC))
	far := drawn("f", -400, -20, -390, 20)
	for _, test := range []struct {
		name    string
		records []survey.Record
		given   bool
		want    float64
		day     string
	}{
		{"nothing in a half", []survey.Record{nothing}, false, 0.5, "2026-05-02"},
		{"a find", []survey.Record{find}, false, 0.4, "2026-05-04"},
		{"a find and surveyed ground", []survey.Record{find}, true, 0.1, "2026-05-04"},
		{"a find of another", []survey.Record{far}, false, 0, "0001-01-01"},
		{"both", []survey.Record{find, nothing}, false, 1, "2026-05-04"}, // the rest is within 10 m of the seen ground
		{"both, farther apart", []survey.Record{find, farther}, false, 0.7, "2026-05-04"},
	} {
		t.Run(test.name, func(t *testing.T) {
			l := Trace(before, mappedNow(t, test.records), Evidence{Given: test.given}, DefaultSettings(), 1)
			near(t, "share", l.Looks[0].Share, test.want, 2e-3)
			if got := l.Looks[0].Day.Format(time.DateOnly); got != test.day {
				t.Errorf("looked at on %s, want %s", got, test.day)
			}
		})
	}
}

// TestShareOnWiderGround: footprints beside a known one of 100 m by 100 m whose positions are off
// by 5 m: two positions are at most 2 sqrt(2) 5 = 14.14 m apart, or the join distance if that is
// less; by hand.
func TestShareOnWiderGround(t *testing.T) {
	known := Known{Stand: stand.Stand{Footprint: stand.Pack(orb.MultiPolygon{box(0, 0, 100, 100)}), Center: base.Inverse(orb.Point{50, 50})}}
	s := DefaultSettings()
	near10 := s
	near10.JoinDistance = 10
	for _, test := range []struct {
		name string
		s    Settings
		box  orb.Polygon
		want float64
	}{
		{"the same", s, box(0, 0, 100, 100), 1}, {"inside", s, box(20, 20, 40, 40), 1}, {"beside", s, box(100, 0, 200, 100), 0.14142},
		{"beside, joined at 10 m", near10, box(100, 0, 200, 100), 0.1}, {"far off", s, box(120, 0, 200, 100), 0}, {"all but a sliver", s, box(-14, 0, 114, 100), 1},
		{"half of it", s, box(60, 0, 168.2843, 100), 0.5}, // 60 to 114.14 of 108.28
	} {
		near(t, test.name, known.ShareOn(stand.Pack(orb.MultiPolygon{test.box}), test.s), test.want, 1e-4)
	}
	if got := known.ShareOn(stand.Outline{}, s); got != 0 {
		t.Errorf("of nothing %g lies on it", got)
	}
	if got := (&Known{}).ShareOn(stand.Pack(orb.MultiPolygon{box(0, 0, 1, 1)}), s); got != 0 {
		t.Errorf("%g lies on nothing", got)
	}
}

// TestGroundLookedAt: the surveyed ground of a quarter, in square metres, by hand. A drawn patch of
// 100 m by 100 m has a margin of 30 m, with round corners of a sixteen-sided circle, 8 sin(22.5)
// r2. With surveyed ground the margin is twice its uncertainty. A record of "not detected" has
// none. Along surveyed lines tall cane is seen 50 m to either side and beyond the ends, from the
// air 100 m; ground covered by an image is drawn as an area, not as a flight line.
func TestGroundLookedAt(t *testing.T) {
	round := func(r float64) float64 { return 8 * math.Sin(math.Pi/8) * r * r }
	find := drawn("d", 0, 0, 100, 100)
	nothing, sure, unsure := find, find, find
	nothing.Detected = false
	sure.Uncertainty, unsure.Uncertainty = 2, 40
	line := orb.MultiLineString{path(0, 1000, 400, 1000)}
	fine := func(r float64) float64 { return 16 * math.Sin(math.Pi/16) * r * r } // thirty-two sides
	area := surveyed.Ground{Areas: orb.MultiPolygon{box(0, 1000, 400, 1200)}}
	for _, test := range []struct {
		name    string
		records []survey.Record
		ground  []surveyed.Ground // nil for not given
		want    float64
	}{
		{"a find", []survey.Record{find}, nil, 10_000 + 400*30 + round(30)},
		{"a find, with ground", []survey.Record{find}, []surveyed.Ground{}, 10_000 + 400*10 + round(10)},
		{"a sure one", []survey.Record{sure}, []surveyed.Ground{}, 10_000 + 400*4 + round(4)},
		{"an unsure one", []survey.Record{unsure}, []surveyed.Ground{}, 10_000 + 400*30 + round(30)},
		{"nothing there", []survey.Record{nothing}, nil, 10_000},
		{"on foot", nil, []surveyed.Ground{{Lines: line}}, 400*100 + fine(50)},
		{"by boat", nil, []surveyed.Ground{{Lines: line, Method: surveyed.Boat}}, 400*100 + fine(50)},
		{"by air", nil, []surveyed.Ground{{Lines: line, Method: surveyed.Air}}, 400*200 + fine(100)},
		{"an image", nil, []surveyed.Ground{{Lines: line, Method: surveyed.Image}}, 0},
		{"an area", nil, []surveyed.Ground{area}, 80_000},
		{"an area and a line along its edge", nil, []surveyed.Ground{{Areas: area.Areas, Lines: line}}, 80_000 + 400*50 + fine(50)/2 + fine(50)/2},
		{"two pieces and a find", []survey.Record{find}, []surveyed.Ground{area, {Lines: orb.MultiLineString{path(0, 3000, 400, 3000)}}}, 10_000 + 400*10 + round(10) + 80_000 + 400*100 + fine(50)},
	} {
		t.Run(test.name, func(t *testing.T) {
			e := Evidence{Given: test.ground != nil, Ground: test.ground}
			got := SurveyedNow(Now{Records: test.records}, e, DefaultSettings(), 2)
			near(t, "m2", float64(earth.Area(got)), test.want, 1e-3*test.want)
		})
	}
	known := []Known{{Stand: stand.Stand{Footprint: stand.Pack(orb.MultiPolygon{box(0, 0, 100, 100)}), Center: base.Inverse(orb.Point{50, 50})}}, {}}
	near(t, "about a stand, m2", float64(earth.Area(Around(known, DefaultSettings(), 2))), 10_000+400*30+round(30), 10)
}

// TestInsideOfAShape: the middle of its box if that is inside, else the middle of the widest
// stretch half way up; by hand.
func TestInsideOfAShape(t *testing.T) {
	wide := orb.MultiPolygon{{{{0, 0}, {30, 0}, {30, 30}, {18, 30}, {18, 10}, {10, 10}, {10, 30}, {0, 30}, {0, 0}}}}
	if got := inside(wide); got != (orb.Point{24, 15}) { // 18 to 30 is wider than 0 to 10
		t.Error(got)
	}
	if got := inside(orb.MultiPolygon{{{{0, 0}, {4, 0}, {4, 2}, {0, 2}, {0, 0}}}}); got != (orb.Point{2, 1}) {
		t.Error(got)
	}
	hole := orb.MultiPolygon{{{{0, 0}, {10, 0}, {10, 10}, {0, 10}, {0, 0}}, {{1, 1}, {1, 9}, {7, 9}, {7, 1}, {1, 1}}}}
	if got := inside(hole); got != (orb.Point{8.5, 5}) { // 0 to 1 and 7 to 10
		t.Error(got)
	}
	apart := orb.MultiPolygon{{{{0, 0}, {1, 0}, {1, 2}, {0, 2}, {0, 0}}}, {{{9, 4}, {15, 4}, {15, 6}, {9, 6}, {9, 4}}}}
	if got := inside(apart); got != (orb.Point{12, 5}) {
		t.Error(got)
	}
}

// TestStreamsRunOn: a stream from (30, 40) to (60, 80), 50 m by hand. Where no stream joins it, it
// continues straight for the given distance, to (0, 0) upstream and (90, 120) downstream. Where
// another stream passes within a metre of its end, it continues to the nearest place of that
// stream; one farther away does not count.
func TestStreamsRunOn(t *testing.T) {
	for name, test := range map[string]struct {
		other orb.LineString
		below orb.Point
	}{
		"alone": {nil, orb.Point{90, 120}}, "joined": {path(60.6, 20, 60.6, 140), orb.Point{60.6, 80}}, "passed by": {path(62, 20, 62, 140), orb.Point{90, 120}},
	} {
		// the segments at its ends are half a metre long
		paths := []orb.LineString{append(path(30, 40, 30.3, 40.4), path(59.7, 79.6, 60, 80)...)}
		if test.other != nil {
			paths = append(paths, test.other)
		}
		w := newWitness(Before{}, Now{}, Evidence{Water: Water{linear.LinesOf(paths), []geo.Meters{2, 2}[:len(paths)]}}, DefaultSettings())
		v := w.viewer(&Known{Stand: stand.Stand{Center: orb.Point{-40, -33}}}, nil)
		for _, run := range v.water.Near(base.Inverse(orb.Point{45, 60}), 200) {
			if run.Line != 0 {
				continue
			}
			got := v.onward(run, v.frame.ProjectLine(paths[0]), 50)
			if len(got) != 2 {
				t.Fatalf("%s: %v", name, got)
			}
			for i, want := range []orb.Point{{0, 0}, test.below} {
				near(t, name+", x", got[i][1][0], want[0], 0.01)
				near(t, name+", y", got[i][1][1], want[1], 0.01)
			}
			near(t, name+", from", got[0][0][0], 30, 0.01)
			near(t, name+", from", got[1][0][1], 80, 0.01)
		}
	}
}
