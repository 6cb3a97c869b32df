package observed

import (
	"math"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/flow"
	"driftreach/internal/column"
	"driftreach/internal/intake"
	"driftreach/internal/mapfile"
	"driftreach/internal/settings"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
)

// TestWorth: what a batch will assume, line by line, with the acres that rest on it; by hand. Of three
// finds one is measured (2 acres at 40 % of the first of May), one has nothing (a default patch of 0.1
// acre at 60 %), and one is a drawn square of 100 m without cover or day: 10,000 m2 are 2.47 acres,
// 60 % of that 1.48. Two streams of one and two kilometres lie apart; the longer, without a width, gets
// the 2 m of its order: 2000 m by 2 m are 0.988 acres.
func TestWorth(t *testing.T) {
	frame := earth.NewFrame(orb.Point{10, 50})
	at := func(x, y float64) orb.Point { return frame.Inverse(orb.Point{x, y}) }
	acre := float64(geo.Acres(1).SquareMeters())
	nan := math.NaN()
	in := &Quarter{
		Quarter: survey.Quarter{Year: 2026, Number: 2},
		Records: survey.Records{Listed: []survey.Record{
			{ID: "a", File: "p.csv", Detected: true, PatchArea: geo.SquareMeters(2 * acre), Cover: 40, Begin: survey.DayOf(time.Date(2026, 5, 1, 0, 0, 0, 0, time.UTC))},
			{ID: "b", File: "p.csv", Detected: true, Cover: nan},
			{ID: "c", File: "p.csv", Detected: true, Cover: nan, Outline: orb.MultiPolygon{{{at(0, 0), at(100, 0), at(100, 100), at(0, 100), at(0, 0)}}}},
			{ID: "d", File: "p.csv", Cover: nan},
		}},
		Files:         []mapfile.File{{Name: "p.csv", Role: "points"}},
		ColumnReports: []intake.File{{Name: "p.csv", Columns: []column.Report{{Field: "patch_area_m2", Column: "area"}, {Field: "eventDate", Column: "day"}}}},
	}
	lines := []stream.Centerline{
		{ID: "1", Path: orb.LineString{at(0, 0), at(0, 1000)}, BankfullWidth: 7, FlowShare: geo.Share(nan), BarrierPass: geo.Share(nan)}, {ID: "2", Path: orb.LineString{at(5000, 0), at(5000, 2000)}, FlowShare: geo.Share(nan), BarrierPass: geo.Share(nan)},
	}
	net, _ := stream.Connect(lines, nil, nil, flow.Options{Snap: 1})
	got := in.Worth(settings.Default(), net)
	want := []string{
		"patch area: not in every record; 1 record of 3 takes 0.1 ac each, 0.10 acres in all of 4.57",
		"canopy cover: no column; 2 records of 3 take 60 % of 2.57 acres, 1.54 acres of canopy",
		"date: not in every record; 2 records of 3 count as of 2026Q2, 2.57 acres of 4.57",
		"found or not: no column; 3 records, all count as found, 4.57 acres",
		"status: no column; 3 records, all count as untreated, 4.57 acres",
		"bankfull width: 1 of 2 lines without one, 2 of 3 km; by stream order, 0.99 acres between the banks",
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
	for name, none := range map[string]*stream.Network{"no network": nil, "no lines": {}} {
		if got := in.Worth(settings.Default(), none); len(got) != 5 {
			t.Errorf("%s: %q", name, got)
		}
	}
	lines[1].BankfullWidth = 3
	net, _ = stream.Connect(lines, nil, nil, flow.Options{Snap: 1})
	in.Records.Listed = in.Records.Listed[:1]
	in.ColumnReports[0].Columns = append(in.ColumnReports[0].Columns, column.Report{Field: "occurrenceStatus"})
	if got, want := strings.Join(in.Worth(settings.Default(), net), "; "), "status: no column; 1 record, which counts as untreated, 2.00 acres"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// TestFirstDay: evidence begins with the quarter, with the day after the batch before, or on the day that
// the settings name, if that is earlier; by hand.
func TestFirstDay(t *testing.T) {
	q := survey.Quarter{Year: 2026, Number: 3}
	day := func(text string) survey.Day {
		d, err := time.Parse(time.DateOnly, text)
		if err != nil {
			t.Fatal(err)
		}
		return survey.DayOf(d)
	}
	for _, c := range []struct {
		in    Inputs
		since string
		want  survey.Day
	}{
		{Inputs{Quarter: q}, "", day("2026-07-01")}, {Inputs{Quarter: q, After: survey.Quarter{Year: 2026, Number: 1}}, "", day("2026-04-01")},
		{Inputs{Quarter: q}, "2026-06-15", day("2026-06-15")}, {Inputs{Quarter: q}, "2026-08-15", day("2026-07-01")}, {Inputs{}, "2026-06-15", 0},
	} {
		s := settings.Default()
		s.Survey.Since = c.since
		if got := c.in.firstDay(s); got != c.want {
			t.Errorf("%+v since %q: %s, want %s", c.in, c.since, got, c.want)
		}
	}
}

// TestWhatIsGiven: what a batch has beyond points and streams.
func TestWhatIsGiven(t *testing.T) {
	dry := []stream.Centerline{{}, {Permanence: stream.Ephemeral}}
	for _, c := range []struct {
		in   Quarter
		want settings.Given
	}{
		{Quarter{Centerlines: dry[:1]}, settings.Given{}}, {Quarter{Centerlines: dry}, settings.Given{Flow: true}}, {Quarter{WorksGiven: true}, settings.Given{Works: true}},
	} {
		if got := c.in.Given(); got != c.want {
			t.Errorf("%+v, want %+v", got, c.want)
		}
	}
}

// TestRecordsSetAsideAreCounted: records that are set aside count in their file of points, which then has
// accepted what is left and rejected the rest; by hand. Other files keep their totals.
func TestRecordsSetAsideAreCounted(t *testing.T) {
	in := &Quarter{
		Records:       survey.Records{Listed: []survey.Record{{File: "a.csv"}, {File: "a.csv"}, {File: "b.csv"}}},
		Files:         []mapfile.File{{Name: "a.csv", Role: "points", Read: 6, Accepted: 5}, {Name: "b.csv", Role: "points", Read: 2}, {Name: "a.csv", Role: "works", Read: 6, Accepted: 4}, {Name: "a.csv", Role: "points", Read: 6, Accepted: 4}},
		ColumnReports: make([]intake.File, 3),
	}
	in.SetAside([]survey.Aside{{File: "a.csv", Records: 2}, {File: "c.csv", Records: 1}})
	in.SetAside([]survey.Aside{{File: "a.csv", Records: 1}})
	want := []mapfile.File{{Name: "a.csv", Role: "points", Read: 6, Accepted: 2, SetAside: 3, Rejected: 1}, {Name: "b.csv", Role: "points", Read: 2, Accepted: 1, Rejected: 1}, {Name: "a.csv", Role: "works", Read: 6, Accepted: 4}, {Name: "a.csv", Role: "points", Read: 6, Accepted: 4}}
	if d := cmp.Diff(want, in.Files); d != "" {
		t.Error(d)
	}
}
