package followup

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/shape"
	"driftreach/internal/survey"
	"driftreach/internal/treatment"
)

// By hand: 1 of 4 acres treated is a quarter; work before the survey counts for nothing; and all of
// it.
func TestPartByAcres(t *testing.T) {
	work := func(days string, acres float64) treatment.Treatment {
		return treatment.Treatment{Date: day(days), TreatedAcres: acres}
	}
	for _, c := range []struct {
		name string
		work []treatment.Treatment
		want float64
	}{
		{"none", nil, 0},
		{"a quarter", []treatment.Treatment{work("2026-08-10", 1)}, 0.25},
		{"two days of it", []treatment.Treatment{work("2026-08-10", 1), work("2026-08-11", 1)}, 0.5},
		{"before the survey", []treatment.Treatment{work("2026-08-09", 1)}, 0},
		{"acres not told", []treatment.Treatment{work("2026-08-10", 1), work("2026-08-12", math.NaN())}, 1},
		{"nearly all", []treatment.Treatment{work("2026-08-10", 3.6)}, 1},
		{"more than all", []treatment.Treatment{work("2026-08-10", 9)}, 1},
	} {
		if got := partOf(&Subject{Acres: 4}, c.work, day("2026-08-10")); got.Share != c.want || got.Cut != nil {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// A stand of 4 acres of which 1 was treated after the survey has two parts in the schedule: the rest
// waits in the order, and the treated part is looked at again.
func TestTreatedInPart(t *testing.T) {
	sub := Subject{ID: "S", Present: true, Look: Found, Day: day("2026-08-01"), Acres: 4, Order: 2}
	site := Site{Quarter: quarter("2026Q3"), Subjects: []Subject{sub}, Settings: DefaultSettings(),
		Actions: []treatment.Treatment{{Date: day("2026-08-20"), StandID: "S", TreatedAcres: 1}}}
	rows, _, _ := Schedule(site)
	r := rows[0]
	if r.State != ToTreat || r.Done.Share != 0.25 || !r.Due.IsZero() || !r.Again.Equal(day("2027-08-20")) {
		t.Fatalf("%+v", r)
	}
	if got := r.What(site.Settings); got != "treat the rest, number 2 in the order; look again by 2027-08-20 at what was treated" {
		t.Error(got)
	}
	// Nobody looks in the next quarter: it keeps two parts; found live, all of it grows again.
	sub.Look, sub.Earlier = Nobody, []string{"S"}
	rows, _, _ = Schedule(Site{Quarter: quarter("2026Q4"), Subjects: []Subject{sub}, Before: rows, Since: day("2026-09-30"), Settings: site.Settings})
	if r := rows[0]; r.State != ToTreat || !r.Again.Equal(day("2027-08-20")) {
		t.Fatalf("%+v", r)
	}
	sub.Look, sub.Day, sub.Status = Found, day("2027-01-20"), survey.Untreated
	rows, _, _ = Schedule(Site{Quarter: quarter("2027Q1"), Subjects: []Subject{sub}, Before: rows, Since: day("2026-12-31"), Settings: site.Settings})
	if r := rows[0]; r.State != TreatAgain || !r.Due.Equal(day("2027-05-30")) || !r.Again.Equal(day("2027-08-20")) {
		t.Fatalf("%+v", r)
	}
}

// area is a rectangle in degrees, from metres of a frame.
func area(frame earth.Frame, west, south, east, north float64) orb.MultiPolygon {
	return frame.Unproject(orb.MultiPolygon{{{{west, south}, {east, south}, {east, north}, {west, north}, {west, south}}}})
}

// TestPartByGround: work drawn as areas on a square of 100 m; by hand. The frame is exact in area
// within 1e-6 there.
func TestPartByGround(t *testing.T) {
	const acres = 10_000 / 4046.8564224
	for name, center := range places {
		frame := earth.NewFrame(center)
		sub := square(frame, "A", 0, 0, 50)
		sub.Acres = acres
		drawn := func(west, south, east, north, acres float64) treatment.Treatment {
			return treatment.Treatment{Date: day("2026-08-10"), Ground: area(frame, west, south, east, north), TreatedAcres: acres}
		}
		none := math.NaN()
		for _, c := range []struct {
			name           string
			work           []treatment.Treatment
			share, byAcres float64
			ground         bool
		}{
			{"a quarter", []treatment.Treatment{drawn(-50, -50, 0, 0, none)}, 0.25, 0, true},
			{"its acres are not asked", []treatment.Treatment{drawn(-50, -50, 0, 0, 7)}, 0.25, 0, true},
			{"beyond the stand counts no more", []treatment.Treatment{drawn(-500, -500, 0, 0, none)}, 0.25, 0, true},
			{"two areas that overlap count once", []treatment.Treatment{drawn(-50, -50, 0, 0, none), drawn(-50, -50, 0, 20, none)}, 0.35, 0, true},
			{"another by its acres", []treatment.Treatment{drawn(-50, -50, 0, 0, none), {Date: day("2026-08-11"), TreatedAcres: acres / 4}}, 0.5, 0.25, true},
			{"nearly all", []treatment.Treatment{drawn(-50, -50, 50, 41, none)}, 1, 0, false},
			{"all", []treatment.Treatment{drawn(-90, -90, 90, 90, none)}, 1, 0, false},
			{"another of unknown acres", []treatment.Treatment{drawn(-50, -50, 0, 0, none), {Date: day("2026-08-11"), TreatedAcres: none}}, 1, 0, false},
			{"before the survey", []treatment.Treatment{{Date: day("2026-08-09"), Ground: area(frame, -50, -50, 0, 0), TreatedAcres: none}}, 0, 0, false},
			// no ground of the stand: counted by its acres, or else by those of the area, but never as
			// the whole stand
			{"beside it", []treatment.Treatment{drawn(60, 0, 80, 50, acres/5)}, 0.2, 0.2, false},
			{"beside it, acres not told", []treatment.Treatment{drawn(60, 0, 80, 50, none)}, 0.1, 0.1, false},
			{"it touches", []treatment.Treatment{drawn(50, 0, 70, 50, none)}, 0.1, 0.1, false},
			{"a metre and a half of it", []treatment.Treatment{drawn(49, 0, 50, 1.5, none)}, 0.00015, 0, true},
			{"less than a square metre of it", []treatment.Treatment{drawn(49.1, 0, 60.1, 1, none)}, 0.0011, 0.0011, false},
		} {
			got := partOf(&sub, c.work, day("2026-08-10"))
			if math.Abs(got.Share-c.share) > 1e-5 || math.Abs(got.ByAcres-c.byAcres) > 1e-5 || (got.Cut != nil) != c.ground {
				t.Errorf("%s, %s: %+v", name, c.name, got)
				continue
			}
			if !c.ground {
				continue
			}
			treated, rest := frame.Project(got.Cut.Ground), frame.Project(got.Cut.Rest)
			if !shape.Contains(treated, frame.Forward(got.Cut.At)) || !shape.Contains(rest, frame.Forward(got.Cut.RestAt)) {
				t.Errorf("%s, %s: the places to go to, %v and %v, lie outside of their parts", name, c.name, got.Cut.At, got.Cut.RestAt)
			}
			if sum := geo.PolygonArea(treated) + geo.PolygonArea(rest); math.Abs(float64(sum)-10_000) > 0.1 {
				t.Errorf("%s, %s: the parts have %v m2", name, c.name, sum)
			}
		}
	}
}

// TestAreaOverStands: an area counts for every stand with ground in it, and not for a neighbour;
// work that names a stand counts for that stand alone; by hand.
func TestAreaOverStands(t *testing.T) {
	for name, center := range places {
		frame := earth.NewFrame(center)
		subjects := []Subject{square(frame, "A", 0, 0, 50), square(frame, "B", 120, 0, 50), square(frame, "C", 240, 0, 50)}
		for i := range subjects {
			subjects[i].Acres = 10_000 / 4046.8564224
		}
		for _, c := range []struct {
			id     string
			ground [4]float64
			want   string
		}{
			{"", [4]float64{25, -50, 95, 50}, "A 0.25, B 0.25, C 0.00"},
			{"A", [4]float64{25, -50, 95, 50}, "A 0.25, B 0.00, C 0.00"},
			{"", [4]float64{-999, -999, 999, 999}, "A 1.00, B 1.00, C 1.00"},
			{"", [4]float64{175, -50, 185, -40}, "A 0.00, B 0.01, C 0.00"}, // 5 m from either
			{"C", [4]float64{25, -50, 95, 50}, "A 0.00, B 0.00, C 0.70 treatment-area-elsewhere"},
		} {
			a := treatment.Treatment{Date: day("2026-08-10"), StandID: c.id, Ground: area(frame, c.ground[0], c.ground[1], c.ground[2], c.ground[3]), TreatedAcres: math.NaN()}
			a.Placed, a.Position = true, frame.Inverse(orb.Point{(c.ground[0] + c.ground[2]) / 2, (c.ground[1] + c.ground[3]) / 2})
			rows, _, findings := Schedule(Site{Quarter: quarter("2026Q3"), Subjects: slices.Clone(subjects), Settings: DefaultSettings(), Actions: []treatment.Treatment{a}})
			slices.SortFunc(rows, func(a, b Row) int { return strings.Compare(a.StandID, b.StandID) })
			var parts []string
			for i := range rows {
				parts = append(parts, fmt.Sprintf("%s %.2f", rows[i].StandID, rows[i].Done.Share))
			}
			got := strings.Join(parts, ", ")
			for _, f := range findings {
				got += " " + f.Rule.Code
			}
			if got != c.want {
				t.Errorf("%s, %q %v: %s, want %s", name, c.id, c.ground, got, c.want)
			}
		}
	}
}

// TestWorkToldBefore: where nobody looks in the next quarter, work known to an earlier batch still
// keeps the treated part separate, under the present identities; a find ends that.
func TestWorkToldBefore(t *testing.T) {
	frame := earth.NewFrame(places["south"])
	sub := square(frame, "A", 0, 0, 50)
	sub.Acres, sub.Day = 10_000/4046.8564224, day("2026-08-01")
	work := treatment.Treatment{Date: day("2026-08-20"), StandID: "A", Ground: area(frame, -50, -50, 50, 0), TreatedAcres: math.NaN()}
	site := Site{Quarter: quarter("2026Q3"), Subjects: []Subject{sub}, Settings: DefaultSettings(), Actions: []treatment.Treatment{work}}
	before, _, _ := Schedule(site)
	later := square(frame, "B", 0, 0, 50)
	later.Acres, later.Earlier, later.Look = sub.Acres, []string{"A"}, Nobody
	next := Site{Quarter: quarter("2026Q4"), Subjects: []Subject{later}, Before: before, Since: day("2026-09-30"), Settings: DefaultSettings(), Told: []Told{{work, []string{"A"}}}}
	rows, _, _ := Schedule(next)
	if r := rows[0]; r.State != ToTreat || math.Abs(r.Done.Share-0.5) > 1e-5 || !r.Again.Equal(day("2027-08-20")) || frame.Forward(r.Place.Position)[1] < 0 || frame.Forward(r.Done.Cut.At)[1] > 0 {
		t.Errorf("%+v", r)
	}
	later.Look, later.Day = Found, day("2026-11-02")
	next.Subjects = []Subject{later}
	rows, _, _ = Schedule(next)
	if r := rows[0]; r.State != TreatAgain || r.Done.Share != 0 {
		t.Errorf("%+v", r)
	}
}
