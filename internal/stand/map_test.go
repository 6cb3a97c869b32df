package stand

import (
	"fmt"
	"math"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/shape"
	"driftreach/internal/survey"
)

var quarter = survey.Quarter{Year: 2026, Number: 3}

// places are where a programme may work: the same ground must give the same acres anywhere.
var places = map[string]orb.Point{
	"mid north":            {-98, 38},
	"equator":              {20, 0},
	"south of the equator": {-60, -35.2},
	"seventy north":        {25, 70},
	"on the antimeridian":  {180, -17},
	"just west of it":      {-179.9999, 52},
}

// record is one detected record at metres from a middle, nothing measured.
func record(id string, middle orb.Point, x, y float64) survey.Record {
	at := earth.NewFrame(middle).Inverse(orb.Point{x, y})
	at[0] = earth.Wrap(at[0])
	return survey.Record{ID: id, Position: at, Detected: true, Cover: math.NaN(), StemHeight: geo.Meters(math.NaN())}
}

// rectangle is a drawn patch between two corners, in metres from a middle.
func rectangle(middle orb.Point, x0, y0, x1, y1 float64) orb.MultiPolygon {
	ring := orb.Ring{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}, {x0, y0}}
	return earth.NewFrame(middle).Unproject(orb.MultiPolygon{{ring}})
}

func mapped(t testing.TB, records []survey.Record, s Settings) []Stand {
	t.Helper()
	stands, _, err := Map(records, quarter, s, 1)
	if err != nil {
		t.Fatal(err)
	}
	return stands
}

// One unmeasured record is 0.1 acre, all of it infested, with 60 % canopy: the defaults, by hand.
func TestMapOneRecord(t *testing.T) {
	for name, middle := range places {
		t.Run(name, func(t *testing.T) {
			stands := mapped(t, []survey.Record{record("a", middle, 0, 0)}, DefaultSettings())
			if len(stands) != 1 {
				t.Fatalf("%d stands, want 1", len(stands))
			}
			st := stands[0]
			got := []float64{float64(st.Infested.Acres()), float64(st.Gross.Acres()), float64(st.Canopy.Acres()), st.CoverPercent}
			if diff := cmp.Diff([]float64{0.1, 0.1, 0.06, 60}, got, cmpopts.EquateApprox(1e-9, 0)); diff != "" {
				t.Errorf("infested, gross, canopy acres and cover: (-want +got)\n%s", diff)
			}
			if !st.Isolated || st.ID != "2026Q3-0001" {
				t.Errorf("isolated %v, id %q; want true, 2026Q3-0001", st.Isolated, st.ID)
			}
			if diff := cmp.Diff([]string{AssumedCover, AssumedPatch}, st.Assumed); diff != "" {
				t.Errorf("assumed: (-want +got)\n%s", diff)
			}
			// the outline on the map, measured on the ellipsoid; packed to a
			// millimetre, 71 m of it may be off by 4e-3 m2
			if area := earth.Area(st.Footprint.Polygons()).Acres(); math.Abs(float64(area)-0.1) > 1e-6 {
				t.Errorf("footprint covers %.9f ac, want 0.1", area)
			}
		})
	}
}

// Three records 20 m apart in a row make one stand. By hand: circles of 0.1
// acre have r = 11.3497 m; neighbours overlap in a lens of
// 2 r^2 acos(d/2r) - d/2 sqrt(4r^2 - d^2), the outer two do not meet.
func TestMapDissolvesOverlap(t *testing.T) {
	r := math.Sqrt(0.1 * 4046.8564224 / math.Pi)
	lens := 2*r*r*math.Acos(10/r) - 10*math.Sqrt(4*r*r-400)
	want := 3*math.Pi*r*r - 2*lens
	for name, middle := range places {
		t.Run(name, func(t *testing.T) {
			stands := mapped(t, []survey.Record{
				record("a", middle, 0, -20), record("b", middle, 0, 0), record("c", middle, 0, 20),
			}, DefaultSettings())
			if len(stands) != 1 || stands[0].Isolated {
				t.Fatalf("got %d stands, want one that is not isolated", len(stands))
			}
			if got := float64(stands[0].Infested); math.Abs(got/want-1) > 1e-7 {
				t.Errorf("infested %.6f m2, want %.6f", got, want)
			}
			if stands[0].Gross <= stands[0].Infested {
				t.Errorf("gross %.3f m2 does not close the waists of %.3f", stands[0].Gross, stands[0].Infested)
			}
		})
	}
}

// The join distance is inclusive and min points counts the record itself.
func TestMapJoins(t *testing.T) {
	middle := places["south of the equator"]
	tests := []struct {
		name string
		gap  float64
		want int
	}{{"just within 30 m", 29.999999, 1}, {"just beyond", 30.000001, 3}}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			records := []survey.Record{
				record("a", middle, -tt.gap, 0), record("b", middle, 0, 0), record("c", middle, tt.gap, 0),
			}
			if got := len(mapped(t, records, DefaultSettings())); got != tt.want {
				t.Errorf("%d stands, want %d", got, tt.want)
			}
		})
	}
}

// A record of "not detected" makes no stand; dead canopy counts 0 acres; cover is weighted by area.
// By hand: 100 m2 at 80 % and 300 m2 at 40 % make 50 %.
func TestMapCanopy(t *testing.T) {
	middle := places["mid north"]
	make3 := func(status survey.Status) []survey.Record {
		records := []survey.Record{record("a", middle, 0, 0), record("b", middle, 25, 0), record("c", middle, 0, 25)}
		records[0].PatchArea, records[0].Cover = 100, 80
		records[1].PatchArea, records[1].Cover, records[1].Status = 300, 40, status
		records[2].Detected = false
		return records
	}
	s := DefaultSettings()
	s.MinPoints = 2
	live := mapped(t, make3(survey.Untreated), s)
	if len(live) != 1 || math.Abs(live[0].CoverPercent-50) > 1e-9 {
		t.Fatalf("live: %+v, want one stand of 50 %% cover", live)
	}
	dead := mapped(t, make3(survey.StandingDead), s)
	if math.Abs(dead[0].CoverPercent-20) > 1e-9 || dead[0].Status != survey.Untreated {
		t.Errorf("half dead: cover %g, status %v; want 20 and untreated", dead[0].CoverPercent, dead[0].Status)
	}
	if len(live[0].Assumed) != 0 {
		t.Errorf("all measured but assumed %v", live[0].Assumed)
	}
}

// The first and last day, the tallest stem and the most urgent status of the
// members.
func TestMapCarriesMembers(t *testing.T) {
	middle := places["equator"]
	records := []survey.Record{record("a", middle, 0, 0), record("b", middle, 10, 0), record("c", middle, 0, 10)}
	date := func(m time.Month, d int) time.Time { return time.Date(2026, m, d, 0, 0, 0, 0, time.UTC) }
	records[0].Begin, records[0].End, records[0].StemHeight = survey.DayOf(date(7, 9)), survey.DayOf(date(7, 10)), 3
	records[1].Begin, records[1].End, records[1].StemHeight = survey.DayOf(date(7, 2)), survey.DayOf(date(7, 2)), 5.5
	records[1].Status = survey.Treated
	records[2].Status = survey.Resprout
	st := mapped(t, records, DefaultSettings())[0]
	if !st.First.Equal(date(7, 2)) || !st.Last.Equal(date(7, 10)) || st.StemHeight != 5.5 || st.Status != survey.Resprout {
		t.Errorf("first %v, last %v, height %g, status %v", st.First, st.Last, st.StemHeight, st.Status)
	}
}

// A drawn patch is used as it is: a square of 40 m has 1600 m2, and one that
// crosses itself is repaired into its two triangles, 800 m2.
func TestMapDrawnPatches(t *testing.T) {
	for name, middle := range places {
		t.Run(name, func(t *testing.T) {
			frame := earth.NewFrame(middle)
			draw := func(xy ...orb.Point) orb.MultiPolygon {
				ring := make(orb.Ring, len(xy))
				for i, p := range xy {
					ring[i] = frame.Inverse(p)
				}
				return orb.MultiPolygon{{append(ring, ring[0])}}
			}
			square := record("a", middle, 0, 0)
			square.Outline = draw(orb.Point{-20, -20}, orb.Point{20, -20}, orb.Point{20, 20}, orb.Point{-20, 20})
			bow := record("b", middle, 500, 0)
			bow.Outline = draw(orb.Point{480, -20}, orb.Point{520, 20}, orb.Point{520, -20}, orb.Point{480, 20})
			stands := mapped(t, []survey.Record{square, bow}, DefaultSettings())
			for i, want := range []float64{1600, 800} {
				if got := float64(stands[i].Infested); math.Abs(got-want) > 0.01 {
					t.Errorf("stand %d: %.4f m2, want %g", i, got, want)
				}
				if stands[i].Gross < stands[i].Infested {
					t.Errorf("stand %d: gross below infested", i)
				}
			}
		})
	}
}

// The acreages keep their order, every detected record is in one stand, and the result depends only
// on the set: it is the same after permuting the input, and with 8 workers.
func TestMapProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		middle := places[rapid.SampledFrom([]string{"equator", "seventy north", "on the antimeridian"}).Draw(t, "place")]
		records := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) survey.Record {
			// whole multiples of 5 m, so that ties and repeats are common
			r := record("", middle, 5*float64(rapid.IntRange(0, 30).Draw(t, "x")), 5*float64(rapid.IntRange(0, 30).Draw(t, "y")))
			r.PatchArea = geo.SquareMeters(rapid.SampledFrom([]float64{0, 4, 50, 900}).Draw(t, "area"))
			r.Cover = rapid.SampledFrom([]float64{math.NaN(), 0, 35, 100}).Draw(t, "cover")
			r.Detected = rapid.IntRange(0, 9).Draw(t, "detected") > 0
			return r
		}), 1, 40).Draw(t, "records")
		for i := range records {
			records[i].ID = fmt.Sprintf("r%03d", i)
		}
		s := DefaultSettings()
		s.MinPoints = rapid.IntRange(1, 5).Draw(t, "min points")
		stands, of, err := Map(records, quarter, s, 1)
		if err != nil {
			t.Fatal(err)
		}
		for i, st := range stands {
			if st.Canopy > st.Infested || st.Infested > st.Gross {
				t.Fatalf("stand %d: canopy %g, infested %g, gross %g m2", i, st.Canopy, st.Infested, st.Gross)
			}
		}
		for r := range records {
			if records[r].Detected != (of[r] >= 0) {
				t.Fatalf("record %d: detected %v, stand %d", r, records[r].Detected, of[r])
			}
			if of[r] >= 0 && !slices.Contains(stands[of[r]].Members, int32(r)) {
				t.Fatalf("record %d is not a member of its stand", r)
			}
		}
		again, _, err := Map(records, quarter, s, 8)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(stands, again, cmpopts.EquateNaNs(), cmp.Comparer(func(a, b geo.Meters) bool { return a == b || a != a && b != b }), cmp.AllowUnexported(Outline{}, shape.Packed{})); diff != "" {
			t.Fatalf("8 workers: (-1 +8)\n%s", diff)
		}
	})
}

func TestSettingsValidate(t *testing.T) {
	if err := DefaultSettings().Validate(); err != nil {
		t.Errorf("defaults: %v", err)
	}
	nan := math.NaN()
	for name, change := range map[string]func(*Settings){
		"no join distance":  func(s *Settings) { s.JoinDistance = 0 },
		"join distance NaN": func(s *Settings) { s.JoinDistance = geo.Meters(nan) },
		"no points":         func(s *Settings) { s.MinPoints = 0 },
		"no default patch":  func(s *Settings) { s.DefaultPatch = 0 },
		"cover above 100":   func(s *Settings) { s.DefaultCover = 101 },
		"cover below 0":     func(s *Settings) { s.DefaultCover = -1 },
		"no chord":          func(s *Settings) { s.Chord = 0 },
	} {
		s := DefaultSettings()
		change(&s)
		if s.Validate() == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

// A drawn patch in a stand of points never makes gross area smaller, and infested acres are those
// of the circles plus what the square adds. By hand: a square of 20 m apart from a row of circles
// of 100 m2, and one inside a circle of 2500 m2, which adds nothing.
func TestMapPatchAmongPoints(t *testing.T) {
	middle := places["mid north"]
	var records []survey.Record
	for i := range 30 {
		r := record(fmt.Sprintf("r%02d", i), middle, 20*float64(i), 0)
		r.PatchArea = 100
		records = append(records, r)
	}
	records[0].PatchArea = 2500
	without := mapped(t, records, DefaultSettings())[0]
	for name, c := range map[string]struct{ x, y, adds float64 }{"apart": {300, 25, 400}, "inside": {-5, 0, 0}} {
		patch := record("s", middle, c.x, c.y)
		half := 10.0
		patch.Outline = earth.NewFrame(middle).Unproject(orb.MultiPolygon{{{{c.x - half, c.y - half}, {c.x + half, c.y - half}, {c.x + half, c.y + half}, {c.x - half, c.y + half}, {c.x - half, c.y - half}}}})
		got := mapped(t, append(slices.Clone(records), patch), DefaultSettings())[0]
		if off := float64(got.Infested-without.Infested) - c.adds; math.Abs(off) > 1e-3 {
			t.Errorf("%s: the patch adds %v m2, want %v", name, got.Infested-without.Infested, c.adds)
		}
		if grown := float64(got.Gross - without.Gross); grown < 0 || c.adds == 0 && grown > 1e-6 {
			t.Errorf("%s: gross %v, without the patch %v", name, got.Gross, without.Gross)
		}
	}
}

// A written outline has the stand's acres within 15 cm2, on the ellipsoid.
func TestMapWritesTheAreaStated(t *testing.T) {
	for name, middle := range places {
		var records []survey.Record
		for i := range 12 {
			records = append(records, record(fmt.Sprintf("r%02d", i), middle, 17*float64(i%4), 13*float64(i/4)))
		}
		for _, st := range mapped(t, append(records, record("z", middle, 900, 0)), DefaultSettings()) {
			// the frame's area is within 1e-7 of the geodesic one
			if off := math.Abs(float64(earth.Area(st.Footprint.Polygons()) - st.Infested)); off > 0.0015+1e-7*float64(st.Infested) {
				t.Errorf("%s: the outline is %v m2 off %v", name, off, st.Infested)
			}
		}
	}
}

// Two overlapping drawn patches count their common ground once: squares of 40 m, shifted by 20 m,
// are 60 by 40 m.
func TestMapTwoDrawnPatches(t *testing.T) {
	s := DefaultSettings()
	s.MinPoints = 2
	for name, middle := range places {
		a, b := record("a", middle, 0, 0), record("b", middle, 20, 0)
		a.Outline, b.Outline = rectangle(middle, -20, -20, 20, 20), rectangle(middle, 0, -20, 40, 20)
		stands := mapped(t, []survey.Record{a, b}, s)
		if len(stands) != 1 || math.Abs(float64(stands[0].Infested)-2400) > 0.01 {
			t.Errorf("%s: %+v, want one stand of 2400 m2", name, stands)
		}
	}
}

// A drawn patch that is only a line covers nothing: such a stand has no acres and a cover of 0, not
// NaN.
func TestMapDrawnLine(t *testing.T) {
	for name, middle := range places {
		r := record("a", middle, 0, 0)
		r.Outline, r.Cover = rectangle(middle, -20, 0, 20, 0), 80
		st := mapped(t, []survey.Record{r}, DefaultSettings())[0]
		if st.Infested != 0 || st.Gross != 0 || st.Canopy != 0 || st.CoverPercent != 0 || len(st.Footprint.Polygons()) != 0 {
			t.Errorf("%s: %+v", name, st)
		}
	}
}

// Invalid settings give an error and no stands.
func TestMapRefusesSettings(t *testing.T) {
	s := DefaultSettings()
	s.MinPoints = 0
	stands, _, err := Map([]survey.Record{record("a", places["equator"], 0, 0)}, quarter, s, 1)
	if err == nil || stands != nil {
		t.Errorf("%v, %v", stands, err)
	}
}
