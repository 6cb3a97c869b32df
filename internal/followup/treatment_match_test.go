package followup

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"

	"driftreach/geo/earth"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
	"driftreach/internal/treatment"
)

// places are where the tests are set: metres of a frame centred there are converted to degrees.
var places = map[string]orb.Point{"south": {-20.5, -34.25}, "far north": {25, 70}, "antimeridian": {180, -17.5}}

// square is a stand with a square footprint of the given half side around x, y metres.
func square(frame earth.Frame, id string, x, y, half float64) Subject {
	ring := orb.Ring{
		{x - half, y - half}, {x + half, y - half}, {x + half, y + half}, {x - half, y + half}, {x - half, y - half},
	}
	for i, xy := range ring {
		ring[i] = frame.Inverse(xy)
	}
	for i := range ring { // continuous past 180, as footprints are
		for ring[i][0]-ring[0][0] > 180 {
			ring[i][0] -= 360
		}
		for ring[i][0]-ring[0][0] < -180 {
			ring[i][0] += 360
		}
	}
	outline := stand.Pack(orb.MultiPolygon{{ring}})
	return Subject{
		ID: id, Earlier: []string{id}, Present: true, Look: Found, Day: day("2026-07-01"),
		Footprint: &outline, Place: Place{Position: frame.Inverse(orb.Point{x, y})},
	}
}

// TestMatchByPlace: work counts for the nearest footprint within the join distance, and for the
// smaller id where two are equally near. Distances by hand: the squares are 100 m across, 200 m
// from centre to centre.
func TestMatchByPlace(t *testing.T) {
	for name, center := range places {
		frame := earth.NewFrame(center)
		subjects := []Subject{square(frame, "A", 0, 0, 50), square(frame, "B", 200, 0, 50)}
		for _, tt := range []struct {
			at   orb.Point
			want string
		}{
			{orb.Point{0, 0}, "A"},
			{orb.Point{-79.9, 0}, "A"},
			{orb.Point{-80.1, 0}, ""},
			{orb.Point{79, 0}, "A"},
			{orb.Point{121, 0}, "B"},
			{orb.Point{100, 0}, ""},
			{orb.Point{249, 49}, "B"},
			{orb.Point{71, 71}, "A"}, // 29.7 m from the corner
			{orb.Point{72, 72}, ""},  // 31.1 m
		} {
			site := Site{Quarter: quarter("2026Q3"), Subjects: subjects, Settings: DefaultSettings(), Actions: []treatment.Treatment{
				{Date: day("2026-07-02"), Placed: true, Position: frame.Inverse(tt.at), File: "t.csv", Row: 3},
			}}
			rows, _, findings := Schedule(site)
			if got := worked(rows); got != tt.want {
				t.Errorf("%s: work at %v counts for %q, want %q", name, tt.at, got, tt.want)
			}
			if (len(findings) == 1) != (tt.want == "") {
				t.Errorf("%s: work at %v: %v", name, tt.at, findings)
			}
		}
	}
}

// TestMatchAtTheEndOfALongStand: a strip of 400 by 8 m, east to west or north to south: work at its
// ends counts, up to the join distance beyond them, by hand.
func TestMatchAtTheEndOfALongStand(t *testing.T) {
	for name, center := range places {
		frame := earth.NewFrame(center)
		for _, turned := range []bool{false, true} {
			turn := func(x, y float64) orb.Point {
				if turned {
					x, y = y, x
				}
				at := frame.Inverse(orb.Point{x, y})
				if at[0]-center[0] < -180 {
					at[0] += 360
				}
				return at
			}
			outline := stand.Pack(orb.MultiPolygon{{{turn(-200, -4), turn(200, -4), turn(200, 4), turn(-200, 4), turn(-200, -4)}}})
			long := Subject{ID: "L", Earlier: []string{"L"}, Present: true, Look: Found, Day: day("2026-07-01"), Footprint: &outline, Place: Place{Position: center}}
			for _, c := range []struct {
				x, y float64
				want string
			}{{0, 0, "L"}, {199, 3, "L"}, {-199, -3, "L"}, {229.5, 0, "L"}, {-229.5, 0, "L"}, {230.5, 0, ""}, {-230.5, 0, ""}, {150, 33.5, "L"}, {150, 34.5, ""}} {
				site := Site{Quarter: quarter("2026Q3"), Subjects: []Subject{long}, Settings: DefaultSettings(), Actions: []treatment.Treatment{
					{Date: day("2026-07-02"), Placed: true, Position: turn(c.x, c.y), File: "t.csv", Row: 3},
				}}
				if rows, _, _ := Schedule(site); worked(rows) != c.want {
					t.Errorf("%s, turned %v: work at %v, %v counts for %q, want %q", name, turned, c.x, c.y, worked(rows), c.want)
				}
			}
		}
	}
}

// TestMatchOfEquals: of equally near stands the first by id has the work, whether the work names
// their common origin or no stand. By hand: two on the same ground, 10 m from the work.
func TestMatchOfEquals(t *testing.T) {
	frame := earth.NewFrame(places["south"])
	a, b := square(frame, "A", 0, 0, 50), square(frame, "B", 0, 0, 50)
	a.Earlier, b.Earlier = []string{"A", "Z"}, []string{"B", "Z"}
	for _, id := range []string{"", "Z"} {
		_, done, _ := Schedule(Site{Quarter: quarter("2026Q3"), Subjects: []Subject{b, a}, Settings: DefaultSettings(), Before: []Row{{StandID: "Z"}}, Actions: []treatment.Treatment{
			{Date: day("2026-07-02"), StandID: id, Placed: true, Position: frame.Inverse(orb.Point{60, 0})},
		}})
		if len(done) != 1 || !slices.Equal(done[0], []string{"A"}) {
			t.Errorf("work that names %q was done on %v", id, done)
		}
	}
}

// worked names the stands with work, sorted by id.
func worked(rows []Row) string {
	var ids []string
	for i := range rows {
		if rows[i].Work.Days > 0 {
			ids = append(ids, rows[i].StandID)
		}
	}
	slices.Sort(ids)
	out := ""
	for _, id := range ids {
		out += id
	}
	return out
}

// TestMatchByName: a name takes precedence over a position and also means the stands that came from
// the named one; an unknown name is reported.
func TestMatchByName(t *testing.T) {
	frame := earth.NewFrame(places["south"])
	a, b, c := square(frame, "A", 0, 0, 50), square(frame, "B", 500, 0, 50), square(frame, "C", 900, 0, 50)
	b.Earlier = []string{"B", "D"}
	c.Earlier = []string{"B"}
	before := []Row{{StandID: "A"}, {StandID: "B"}, {StandID: "D", Earlier: []string{"E"}}}
	there := frame.Inverse(orb.Point{0, 0})
	for _, tt := range []struct {
		name, id string
		placed   bool
		want     string
		code     string
	}{
		{"its own", "A", false, "A", ""},
		{"its own, though the place is another's", "B", true, "BC", ""},
		{"one that was split counts for all parts", "B", false, "BC", ""},
		{"one that grew into another", "D", false, "B", ""},
		{"one that grew into that before", "E", false, "B", ""},
		{"nobody's, placed", "X", true, "A", "treatment-stand-unknown"},
		{"nobody's", "X", false, "", "treatment-stand-unknown"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			rows, _, findings := Schedule(Site{
				Quarter: quarter("2026Q3"), Subjects: []Subject{a, b, c}, Before: before, Since: day("2026-06-30"), Settings: DefaultSettings(),
				Actions: []treatment.Treatment{{Date: day("2026-07-02"), StandID: tt.id, Placed: tt.placed, Position: there, File: "t.csv", Row: 3}},
			})
			if got := worked(rows); got != tt.want {
				t.Errorf("counts for %q, want %q", got, tt.want)
			}
			var codes string
			for _, f := range findings {
				codes += f.Rule.Code
				if f.File != "t.csv" || f.Record != "row 3" || f.Rule.Remedy == "" {
					t.Errorf("%+v", f)
				}
			}
			if codes != tt.code {
				t.Errorf("findings %q, want %q", codes, tt.code)
			}
		})
	}
}

// TestNewStandTakesNoOldWork: work in an earlier quarter does not count for a stand first found
// now; in the first batch any day counts, and work that names the stand counts whenever it was
// done.
func TestNewStandTakesNoOldWork(t *testing.T) {
	frame := earth.NewFrame(places["south"])
	a := square(frame, "A", 0, 0, 50)
	a.Earlier = nil
	for _, tt := range []struct {
		since, date, id, want string
	}{
		{"2026-06-30", "2026-06-30", "", ""},
		{"2026-06-30", "2026-07-01", "", "A"},
		{"2026-06-30", "2026-06-30", "A", "A"},
		{"", "2025-06-30", "", "A"},
	} {
		rows, _, _ := Schedule(Site{
			Quarter: quarter("2026Q3"), Subjects: []Subject{a}, Since: day(tt.since), Settings: DefaultSettings(),
			Actions: []treatment.Treatment{{Date: day(tt.date), StandID: tt.id, Placed: true, Position: a.Place.Position}},
		})
		if got := worked(rows); got != tt.want {
			t.Errorf("since %s, work on %s for %q counts for %q, want %q", tt.since, tt.date, tt.id, got, tt.want)
		}
	}
}

// TestMergedAndSplit: what a stand that several stands grew into takes over, and what the stands
// that one stand split into do. Expected rows by hand.
func TestMergedAndSplit(t *testing.T) {
	before := []Row{
		{StandID: "A", State: TreatAgain, Due: day("2026-06-30"), LastSeen: day("2026-05-01"), Work: Work{Days: 3, Last: day("2025-05-01"), Method: "first"}},
		{StandID: "B", State: TreatAgain, Due: day("2026-03-31"), LastSeen: day("2026-05-02"), Work: Work{Days: 1, Last: day("2026-01-01"), Method: "second"}, Earlier: []string{"Z"}},
		{StandID: "C", State: ToTreat, LastSeen: day("2026-05-03")},
		{StandID: "D", State: Watch, Due: day("2026-09-01"), Clear: Clear{Since: day("2025-09-01"), Last: day("2025-09-01"), Years: 1}},
		{StandID: "K", State: ToTreat},
	}
	subject := func(id string, earlier ...string) Subject {
		return Subject{ID: id, Earlier: earlier, Present: true, Look: Found, Day: day("2026-08-01"), Status: survey.Resprout}
	}
	rows, _, _ := Schedule(Site{Quarter: quarter("2026Q3"), Before: before, Since: day("2026-06-30"), Settings: DefaultSettings(), Subjects: []Subject{
		subject("A", "C", "A", "B", "D"), // grew together
		subject("N", "K"), subject("K", "K"),
	}})
	slices.SortFunc(rows, func(a, b Row) int { return compareID(a, b) })
	joint := Row{
		StandID: "A", Earlier: []string{"B", "C", "D", "Z"}, Present: true, State: TreatAgain, Due: day("2026-03-31"), Status: survey.Resprout,
		LastSeen: day("2026-08-01"), LastLook: day("2026-08-01"), Work: Work{Days: 3, Last: day("2026-01-01"), Method: "second"}, Lost: 1,
	}
	part := Row{StandID: "K", Present: true, State: TreatAgain, Due: day("2026-11-29"), Status: survey.Resprout, LastSeen: day("2026-08-01"), LastLook: day("2026-08-01")}
	other := part
	other.StandID = "N"
	for i := range rows {
		if len(rows[i].Earlier) == 0 {
			rows[i].Earlier = nil
		}
	}
	if diff := cmp.Diff([]Row{joint, part, other}, rows); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

func compareID(a, b Row) int {
	if a.StandID < b.StandID {
		return -1
	}
	return 1
}

// TestNothingIsForgotten: a row whose stand is not among the subjects stays unchanged.
func TestNothingIsForgotten(t *testing.T) {
	old := Row{StandID: "A", State: Watch, Due: day("2026-02-01"), Clear: Clear{Since: day("2025-02-01"), Last: day("2025-02-01"), Years: 1}, Present: true, Order: 4, Lost: 2}
	rows, _, _ := Schedule(Site{Quarter: quarter("2026Q3"), Before: []Row{old}, Since: day("2026-06-30"), Settings: DefaultSettings()})
	want := old
	want.Present, want.Look, want.Order, want.Lost = false, Nobody, 0, 0
	if diff := cmp.Diff([]Row{want}, rows); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

// TestAnyOrder: the result does not depend on the order of stands, of rows or of a day's work.
func TestAnyOrder(t *testing.T) {
	frame := earth.NewFrame(places["antimeridian"])
	random := rand.New(rand.NewPCG(1, 2))
	site := Site{Quarter: quarter("2026Q3"), Since: day("2026-06-30"), Settings: DefaultSettings()}
	for i := range 60 {
		id := fmt.Sprintf("S%02d", i)
		sub := square(frame, id, float64(i%8)*60, float64(i/8)*60, 20)
		sub.Look, sub.Order = Look(i%3), i%7
		site.Subjects = append(site.Subjects, sub)
		site.Before = append(site.Before, Row{StandID: id, State: ToTreat, LastSeen: day("2026-05-05"), LastLook: day("2026-05-05")})
	}
	for i := range 40 {
		a := treatment.Treatment{Date: site.Since.AddDate(0, 0, 1+i), Placed: true, Position: frame.Inverse(orb.Point{random.Float64() * 500, random.Float64() * 500}), File: "t.csv", Row: i}
		site.Actions = append(site.Actions, a)
	}
	rows, _, findings := Schedule(site)
	if worked(rows) == "" || len(findings) == 0 {
		t.Fatal("the site asks nothing")
	}
	for range 20 {
		shuffled := site
		shuffled.Subjects, shuffled.Before, shuffled.Actions = slices.Clone(site.Subjects), slices.Clone(site.Before), slices.Clone(site.Actions)
		random.Shuffle(len(shuffled.Subjects), func(i, j int) {
			shuffled.Subjects[i], shuffled.Subjects[j] = shuffled.Subjects[j], shuffled.Subjects[i]
		})
		random.Shuffle(len(shuffled.Before), func(i, j int) { shuffled.Before[i], shuffled.Before[j] = shuffled.Before[j], shuffled.Before[i] })
		random.Shuffle(len(shuffled.Actions), func(i, j int) { shuffled.Actions[i], shuffled.Actions[j] = shuffled.Actions[j], shuffled.Actions[i] })
		again, _, told := Schedule(shuffled)
		if diff := cmp.Diff(rows, again); diff != "" {
			t.Fatalf("(-want +got)\n%s", diff)
		}
		if diff := cmp.Diff(findings, told); diff != "" {
			t.Fatalf("(-want +got)\n%s", diff)
		}
	}
}

// BenchmarkPlan: 45 000 stands and 5000 days of work by place.
func BenchmarkPlan(b *testing.B) {
	frame := earth.NewFrame(places["south"])
	site := Site{Quarter: quarter("2026Q3"), Settings: DefaultSettings()}
	for i := range 45_000 {
		site.Subjects = append(site.Subjects, square(frame, fmt.Sprintf("S%05d", i), float64(i%200)*200, float64(i/200)*200, 20))
	}
	for i := range 5000 {
		site.Actions = append(site.Actions, treatment.Treatment{Date: day("2026-07-02"), Placed: true, Position: frame.Inverse(orb.Point{float64(i%200) * 200, float64(i/200) * 1600}), File: "t.csv", Row: i})
	}
	for b.Loop() {
		if rows, _, findings := Schedule(site); len(rows) != 45_000 || len(findings) != 0 {
			b.Fatal(len(rows), len(findings))
		}
	}
}
