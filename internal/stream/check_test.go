package stream

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/internal/check"
)

// line returns a valid centerline with only a path recorded.
func line(id string, row int, path ...orb.Point) Centerline {
	n := math.NaN()
	return Centerline{ID: id, File: "dir/s.geojson", Row: row, Path: path, Sequence: n, FlowShare: geo.Share(n), MeanVelocity: geo.MetersPerSecond(n), Drainage: geo.SquareKilometers(n),
		Discharge: geo.CubicMetersPerSecond(n), MeanDischarge: geo.CubicMetersPerSecond(n), Slope: n, BarrierPass: geo.Share(n), LocalArea: geo.SquareKilometers(n)}
}

func told(findings []check.Finding) string {
	var out []string
	for _, f := range findings {
		out = append(out, strings.TrimSpace(f.Record+" "+f.Rule.Code))
	}
	return strings.Join(out, "; ")
}

// TestCheckPath: the checked path, or a rejection; by hand.
func TestCheckPath(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		name string
		path orb.LineString
		want orb.LineString // nil when rejected
		told string
	}{
		{"good", orb.LineString{{1, 2}, {3, 4}}, orb.LineString{{1, 2}, {3, 4}}, ""},
		{"empty", nil, nil, "a line-empty"},
		{"one vertex", orb.LineString{{1, 2}}, nil, "a line-one-vertex"},
		{"zero length", orb.LineString{{1, 2}, {1, 2}}, nil, "a line-zero-length"},
		{"repeated", orb.LineString{{1, 2}, {1, 2}, {3, 4}, {3, 4}, {3, 4}}, orb.LineString{{1, 2}, {3, 4}}, "a line-vertex-repeated"},
		{"NaN", orb.LineString{{1, 2}, {3, nan}}, nil, "a line-not-finite"},
		{"infinite", orb.LineString{{1, 2}, {math.Inf(-1), 4}}, nil, "a line-not-finite"},
		{"edges of the range", orb.LineString{{180, 90}, {-180, -90}}, orb.LineString{{180, 90}, {-180, -90}}, ""},
		{"latitude too large", orb.LineString{{170, 2}, {170, 91}}, nil, "a line-out-of-range"},
		{"all past 180", orb.LineString{{181, 2}, {182, 3}}, nil, "a line-out-of-range"},
		{"east past 180", orb.LineString{{179.5, 2}, {180.5, 3}}, orb.LineString{{179.5, 2}, {-179.5, 3}}, "a line-longitude-wrapped"},
		{"west past -180", orb.LineString{{-180.5, 2}, {-179.5, 3}}, orb.LineString{{179.5, 2}, {-179.5, 3}}, "a line-longitude-wrapped"},
		{"swapped", orb.LineString{{45, 120}, {46, 121}}, nil, "a line-swapped"},
		{"projected", orb.LineString{{4e5, 5e6}, {4e5, 5.1e6}}, nil, "a line-projected"},
		{"closed", orb.LineString{{1, 1}, {2, 1}, {2, 2}, {1, 1}}, orb.LineString{{1, 1}, {2, 1}, {2, 2}, {1, 1}}, "a line-closed"},
		{"self-crossing", orb.LineString{{0, 0}, {2, 2}, {2, 0}, {0, 2}}, orb.LineString{{0, 0}, {2, 2}, {2, 0}, {0, 2}}, "a line-self-crossing"},
	} {
		t.Run(c.name, func(t *testing.T) {
			lines, findings := Check([]Centerline{line("a", 1, c.path...)}, Options{})
			var got orb.LineString
			if len(lines) > 0 {
				got = lines[0].Path
			}
			if !slices.Equal(got, c.want) || told(findings) != c.told {
				t.Errorf("path %v with %s, want %v with %s", got, told(findings), c.want, c.told)
			}
			for _, f := range findings {
				if (f.Rule.Severity == check.Error) != (c.want == nil) {
					t.Errorf("%+v", f)
				}
			}
		})
	}
}

// TestCheckMeasures: values that cannot be true are blanked and the line is kept.
func TestCheckMeasures(t *testing.T) {
	l := line("a", 1, orb.Point{1, 2}, orb.Point{3, 4})
	l.Divergence, l.FlowShare, l.BarrierPass, l.Barrier = 3, 1.01, -0.01, "log jam"
	l.Order, l.BankfullWidth, l.Length = -1, -1, -1
	l.MeanVelocity, l.Drainage, l.Discharge, l.MeanDischarge, l.Slope, l.LocalArea = -1, -1, -1, geo.CubicMetersPerSecond(math.Inf(-1)), -9998, -1
	lines, findings := Check([]Centerline{l}, Options{})
	got := lines[0]
	if got.Divergence != NoDivergence || got.Barrier != NoBarrier || got.Order != 0 || got.BankfullWidth != 0 || got.Length != 0 {
		t.Errorf("%+v", got)
	}
	for i, v := range []float64{float64(got.FlowShare), float64(got.BarrierPass), float64(got.MeanVelocity), float64(got.Drainage), float64(got.Discharge), float64(got.MeanDischarge), got.Slope, float64(got.LocalArea)} {
		if !math.IsNaN(v) {
			t.Errorf("value %d is %v, want NaN", i, v)
		}
	}
	if len(findings) != 13 || check.Count(findings, check.Warning) != 13 {
		t.Errorf("%d findings: %s", len(findings), told(findings))
	}
	l = line("a", 1, orb.Point{1, 2}, orb.Point{3, 4})
	l.Divergence, l.FlowShare, l.BarrierPass, l.Barrier, l.Order, l.BankfullWidth, l.Slope = 2, 0, 1, "Culvert", 9, 0.5, 0
	lines, findings = Check([]Centerline{l}, Options{})
	if len(findings) != 0 || lines[0].Barrier != Culvert || lines[0].FlowShare != 0 || lines[0].Slope != 0 {
		t.Errorf("%+v, %s", lines[0], told(findings))
	}
}

// TestCheckBounds: values beyond the largest of any stream, such as a source's code for unknown,
// are left out; values just within stay.
func TestCheckBounds(t *testing.T) {
	for _, unknown := range []float64{9999, 65535.5, 3.4e38, 1e300, math.Inf(1)} {
		l := line("a", 1, orb.Point{1, 2}, orb.Point{3, 4})
		l.BankfullWidth, l.MeanVelocity, l.Slope, l.Length = geo.Meters(unknown), geo.MetersPerSecond(unknown), unknown, geo.Meters(1000*unknown)
		if unknown < 1e9 {
			l.Order = int(unknown)
		}
		if unknown > 1e9 {
			l.Drainage, l.Discharge, l.MeanDischarge, l.LocalArea = geo.SquareKilometers(unknown), geo.CubicMetersPerSecond(unknown), geo.CubicMetersPerSecond(unknown), geo.SquareKilometers(unknown)
		}
		lines, findings := Check([]Centerline{l}, Options{})
		got := lines[0]
		if got.BankfullWidth != 0 || got.Length != 0 || got.Order != 0 {
			t.Errorf("%g: %+v", unknown, got)
		}
		for i, v := range []float64{float64(got.MeanVelocity), got.Slope, float64(got.Drainage), float64(got.Discharge), float64(got.MeanDischarge), float64(got.LocalArea)} {
			if !math.IsNaN(v) {
				t.Errorf("%g: value %d is %v, want NaN", unknown, i, v)
			}
		}
		if want := 5; unknown > 1e9 && len(findings) != 8 || unknown < 1e9 && len(findings) != want {
			t.Errorf("%g: %d findings: %s", unknown, len(findings), told(findings))
		}
	}
	l := line("a", 1, orb.Point{1, 2}, orb.Point{3, 4})
	l.BankfullWidth, l.MeanVelocity, l.Slope, l.Order = MostWidth, mostVelocity, mostSlope, mostOrder
	l.Drainage, l.Discharge, l.MeanDischarge, l.LocalArea = mostDrainage, mostDischarge, mostDischarge, mostDrainage
	if lines, findings := Check([]Centerline{l}, Options{}); len(findings) != 0 || lines[0].Order != 12 || lines[0].BankfullWidth != 5000 {
		t.Errorf("%+v, %s", lines[0], told(findings))
	}
}

// TestRecordedLength: a recorded length counts unless the drawn one contradicts it. By hand: 0.01
// degrees of the equator are 1.113 km.
func TestRecordedLength(t *testing.T) {
	for _, c := range []struct {
		lon, km float64
		kept    bool
	}{
		{0.01, 1.113, true}, {0.01, 1.66, true}, {0.01, 1.68, false}, {0.01, 0.75, true}, {0.01, 0.73, false},
		{0.01, 1113, false}, // metres in a kilometre column
		{0.01, 0.0011, false},
		{0.00005, 0.01, true}, // 5.6 m, rounded up
		{0.00005, 0.02, false},
	} {
		l := line("a", 1, orb.Point{1, 0}, orb.Point{1 + c.lon, 0})
		l.Length = geo.Meters(1000 * c.km)
		lines, findings := Check([]Centerline{l}, Options{})
		want := "a stream-length-disagrees"
		if c.kept {
			want = ""
		}
		if (lines[0].Length != 0) != c.kept || told(findings) != want {
			t.Errorf("%g km over %g degrees: %v with %s", c.km, c.lon, lines[0].Length, told(findings))
		}
	}
}

// TestCheckIdentity: ids of a batch, in three orders; by hand.
func TestCheckIdentity(t *testing.T) {
	one, two := line("a", 1, orb.Point{1, 2}, orb.Point{3, 4}), line("a", 2, orb.Point{5, 6}, orb.Point{7, 8})
	for _, c := range []struct {
		name      string
		lines     []Centerline
		ids, told string
	}{
		{"sorted", []Centerline{line("b", 1, orb.Point{1, 2}, orb.Point{3, 5}), one}, "a b", ""},
		{"made", []Centerline{line("", 7, orb.Point{1, 2}, orb.Point{3, 5}), one}, "a s#7", "row 7 stream-id-missing"},
		{"made for a whole file", []Centerline{line("", 7, orb.Point{1, 2}, orb.Point{3, 4}), line("", 8, orb.Point{1, 2}, orb.Point{3, 5})}, "s#7 s#8", "stream-id-missing"},
		{"made for parts of one feature", []Centerline{line("", 7, orb.Point{1, 2}, orb.Point{3, 4}), line("", 7, orb.Point{1, 2}, orb.Point{3, 5})}, "s#7 s#7~2", "stream-id-missing"},
		{"repeated", []Centerline{one, two}, "a a~2", "a stream-id-duplicate"},
		{"repeated, name taken", []Centerline{one, two, line("a~2", 3, orb.Point{5, 6}, orb.Point{7, 9})}, "a a~2 a~3", "a stream-id-duplicate"},
		{"copy", []Centerline{one, one}, "a", "a line-duplicate"},
		{"copy under another id", []Centerline{one, line("b", 4, orb.Point{1, 2}, orb.Point{3, 4})}, "a", "b line-copy"},
		{"copy drawn back", []Centerline{one, line("b", 4, orb.Point{3, 4}, orb.Point{1, 2})}, "a", "b line-copy"},
	} {
		for range 3 {
			lines, findings := Check(clone(c.lines), Options{})
			var ids []string
			for _, l := range lines {
				ids = append(ids, l.ID)
			}
			if strings.Join(ids, " ") != c.ids || told(findings) != c.told {
				t.Errorf("%s: %v with %s, want %s with %s", c.name, ids, told(findings), c.ids, c.told)
			}
			c.lines = append(c.lines[1:], c.lines[0])
		}
	}
}

func clone(lines []Centerline) []Centerline {
	out := slices.Clone(lines)
	for i := range out {
		out[i].Path = slices.Clone(out[i].Path)
	}
	return out
}

// TestCrossing: by hand.
func TestCrossing(t *testing.T) {
	for _, c := range []struct {
		name string
		path orb.LineString
		want bool
	}{
		{"straight", orb.LineString{{0, 0}, {1, 0}, {2, 0}, {3, 0}}, false},
		{"bend", orb.LineString{{0, 0}, {1, 0}, {1, 1}}, false},
		{"folds back", orb.LineString{{0, 0}, {2, 0}, {1, 0}}, true},
		{"folds back in a long line", orb.LineString{{0, 0}, {2, 0}, {1, 0}, {1, 1}, {1, 2}}, true},
		{"crosses", orb.LineString{{0, 0}, {2, 2}, {2, 0}, {0, 2}}, true},
		{"touches with its end", orb.LineString{{0, 0}, {2, 0}, {2, 1}, {1, 0}}, true},
		{"comes back to its start", orb.LineString{{0, 0}, {2, 0}, {2, 1}, {0, 0}}, false},
		{"passes a vertex of its own", orb.LineString{{0, 0}, {1, 0}, {2, 0}, {2, 1}, {1, 1}, {1, -1}}, true},
		{"north", orb.LineString{{0, 0}, {0.1, 1}, {0, 2}, {0.1, 3}}, false},
		{"across 180", orb.LineString{{179, 0}, {-179, 0}, {-179, 1}, {179, 1}}, false},
		{"crosses across 180", orb.LineString{{179, 0}, {-179, 2}, {-179, 0}, {179, 2}}, true},
		{"crosses just past 180", orb.LineString{{179, 0}, {-179.9, 0}, {-179.95, 1}, {179.95, 1}, {-179.92, -1}}, true},
		{"far sides of 180", orb.LineString{{179, 0}, {179.5, 1}, {-179.5, 0}, {-179, 1}}, false},
	} {
		var k crosser
		if p, got := k.crossing(c.path); got != c.want {
			t.Errorf("%s: %v at %v, want %v", c.name, got, p, c.want)
		}
	}
}

// TestCrossingAgainstAllPairs compares the sorted search with a comparison of all pairs of
// segments, on small grids where lines often cross, touch and fold.
func TestCrossingAgainstAllPairs(t *testing.T) {
	var k crosser
	rapid.Check(t, func(t *rapid.T) {
		point := rapid.Custom(func(t *rapid.T) orb.Point {
			return orb.Point{float64(rapid.IntRange(0, 6).Draw(t, "x")), float64(rapid.IntRange(0, 6).Draw(t, "y"))}
		})
		path := orb.LineString(slices.Compact(rapid.SliceOfN(point, 2, 12).Draw(t, "path")))
		want := false
		for i := range len(path) - 1 {
			for j := i + 1; j < len(path)-1; j++ {
				_, meet := meeting(path, i, j)
				want = want || meet
			}
		}
		if _, got := k.crossing(path); got != want {
			t.Fatalf("%v: %v, all pairs say %v", path, got, want)
		}
	})
}

// TestCrossingStaysCheap: for a line that doubles back over itself throughout, the search is given
// up instead of comparing every pair. 200 thousand segments would be 2e10 pairs.
func TestCrossingStaysCheap(t *testing.T) {
	var path orb.LineString
	for i := range 200_000 {
		path = append(path, orb.Point{float64(i % 2), float64(i) * 1e-7})
	}
	var k crosser
	if p, got := k.crossing(path); got {
		t.Errorf("a zigzag crosses itself at %v", p)
	}
}

func TestParseBarrier(t *testing.T) {
	for text, want := range map[string]Barrier{"": NoBarrier, " none ": NoBarrier, "DAM": Dam, "Reservoir": Reservoir, "weir": Weir, " culvert": Culvert} {
		if b, ok := ParseBarrier(text); !ok || b != want {
			t.Errorf("%q reads as %q, %v", text, b, ok)
		}
	}
	if b, ok := ParseBarrier("beaver"); ok || b != NoBarrier {
		t.Errorf("beaver reads as %q", b)
	}
}

// TestRules: every rule has a remedy and a code that no other rule has.
func TestRules(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range Rules() {
		if r.Code == "" || r.Remedy == "" || seen[r.Code] {
			t.Errorf("%+v", r)
		}
		seen[r.Code] = true
	}
	if len(seen) != 24 {
		t.Errorf("%d rules", len(seen))
	}
}

func BenchmarkCrossing(b *testing.B) {
	var path orb.LineString
	for i := range 1000 {
		path = append(path, orb.Point{0.01 * math.Sin(float64(i)/7), float64(i) * 1e-3})
	}
	var k crosser
	b.ReportAllocs()
	for b.Loop() {
		if _, got := k.crossing(path); got {
			b.Fatal("a meander crosses itself")
		}
	}
}
