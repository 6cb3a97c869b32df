package result

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/internal/followup"
	"driftreach/internal/lineage"
	"driftreach/internal/stand"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
)

// story is a stand over two quarters, as somebody would tell it: what it had, what it has, how much of
// that is on ground first looked at or found again, and what became of it.
type story struct {
	then, now, first, again float64 // acres
	what                    string
	line                    int32 // of three: Alder, Beech, and one without a name; -1 for none
	was, is                 survey.Status
}

// told makes a run of stories: stands found, new, not detected, and not visited.
func told(stories []story) *Run {
	run := &Run{Quarter: q3, Centerlines: []stream.Centerline{{ID: "a", Name: "Alder"}, {ID: "b", Name: "Beech"}, {ID: "c"}}, Previous: &Previous{Quarter: q2}}
	p := run.Previous
	for k, s := range stories {
		id := fmt.Sprintf("2026Q1-%04d", k)
		parent := int32(len(p.Known))
		fate, home := lineage.Change(""), int32(len(run.Stands))
		now := Stand{Stand: stand.Stand{ID: id, Infested: acresOf(s.now), Gross: acresOf(s.now), Status: s.is}}
		now.Zone.Line = s.line
		now.Parts = StandParts{Own: now.Infested.Grains(), FirstLooked: acresOf(s.first).Grains(), FoundAgain: acresOf(s.again).Grains()}
		switch s.what {
		case "found":
			now.Parents = []int32{parent}
		case "not visited":
			now.Parents, now.CarriedFrom, now.Change, fate = []int32{parent}, q2, lineage.NotResurveyed, lineage.NotResurveyed
			now.Parts = StandParts{Carried: now.Infested.Grains()}
		case "not detected":
			fate, home = lineage.NotDetected, -1
		}
		if s.what != "not detected" {
			run.Stands = append(run.Stands, now)
		}
		if s.what == "new" {
			continue
		}
		known := lineage.Known{Stand: stand.Stand{ID: id, Infested: acresOf(s.then), Gross: acresOf(s.then), Status: s.was}, Quarter: q2}
		if s.line >= 0 {
			known.StreamID, known.WaterBody = run.Centerlines[s.line].ID, run.Centerlines[s.line].Name
		}
		p.Known, p.Fates, p.Home = append(p.Known, known), append(p.Fates, fate), append(p.Home, home)
		grains := known.Infested.Grains()
		p.Restated, p.Then = append(p.Restated, grains), append(p.Then, Then{Infested: grains, StreamID: known.StreamID, WaterBody: known.WaterBody})
	}
	run.AcreDecimals = AcreDecimals(run)
	return run
}

// figures are the columns of change, by the dictionary's definitions.
type figures struct{ previous, infested, observed, fresh, again, first, gone, cleared, carried float64 }

// plainly adds a story to the figures of its row.
func (f *figures) plainly(s *story) {
	if s.what != "new" {
		f.previous += s.then
	}
	switch s.what {
	case "found":
		f.infested, f.first, f.again = f.infested+s.now, f.first+s.first, f.again+s.again
		f.observed += s.now - s.first - s.again - s.then
	case "new":
		f.infested, f.first = f.infested+s.now, f.first+s.first
		f.fresh += s.now - s.first
	case "not detected":
		f.gone += s.then
		if s.was == survey.Treated || s.was == survey.StandingDead {
			f.cleared += s.then
		}
	case "not visited":
		f.infested, f.carried = f.infested+s.then, f.carried+s.then
	}
}

// TestSummaryOfAnyStory: for any stands over two quarters the summary's columns of change are what
// their definitions say, added up in the plainest way, to a few last digits in a row and to the last
// digit in the total; as printed each row's parts lead from its previous to its present acres, and
// the rows add up.
func TestSummaryOfAnyStory(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		var stories []story
		rows := map[string]*figures{"total ": {}}
		for range rapid.IntRange(0, 12).Draw(r, "stands") {
			acres := rapid.OneOf(rapid.Float64Range(0.01, 3), rapid.SampledFrom([]float64{0.00007, 0.5, 1}))
			s := story{
				what: rapid.SampledFrom([]string{"found", "new", "not detected", "not visited"}).Draw(r, "what"), line: int32(rapid.IntRange(-1, 2).Draw(r, "line")),
				then: acres.Draw(r, "then"), now: acres.Draw(r, "now"), was: survey.Status(rapid.IntRange(0, 3).Draw(r, "was")), is: survey.Status(rapid.IntRange(0, 3).Draw(r, "is")),
			}
			switch part := rapid.Float64Range(0, 1).Draw(r, "part"); s.what {
			case "not visited":
				s.now = s.then
			case "found":
				s.first, s.again = s.now*part/2, s.now*(1-part)/2
			case "new":
				s.first = s.now * part
			}
			stories = append(stories, s)
			name := []string{"noStream ", "waterBody Alder", "waterBody Beech", "unnamed "}[s.line+1]
			if rows[name] == nil {
				rows[name] = &figures{}
			}
			rows[name].plainly(&s)
			rows["total "].plainly(&s)
		}
		run := told(stories)
		holdFigures(r, run, rows)
	})
}

// holdFigures compares the printed summary with the figures of its rows.
func holdFigures(r *rapid.T, run *Run, rows map[string]*figures) {
	table := SummaryTable(run, Summarize(run))
	if table.Rows != len(rows) {
		r.Fatalf("%d rows, want %d", table.Rows, len(rows))
	}
	columns := []string{"previous_acres", "infested_acres", "observed_change_acres", "new_acres", "found_again_acres", "first_looked_at_acres", "not_detected_acres", "cleared_acres", "carried_acres"}
	sums := map[string]int64{}
	for i := range table.Rows {
		got := map[string]Value{}
		for k, f := range table.Fields {
			got[f.Name] = table.Cell(run, i, k)
		}
		name := got["scope"].Text + " " + got["name"].Text
		want := rows[name]
		if want == nil {
			r.Fatalf("a row %q", name)
		}
		digit := math.Pow10(-int(run.AcreDecimals))
		for c, exact := range []float64{want.previous, want.infested, want.observed, want.fresh, want.again, want.first, want.gone, want.cleared, want.carried} {
			off := 0.51*digit + 1e-9
			if i > 0 || c >= 2 { // rounded so that all add up
				off = 12.01 * digit
			}
			if math.Abs(got[columns[c]].Float()-exact) > off {
				r.Fatalf("%s: %s is %v, want %v", name, columns[c], got[columns[c]], exact)
			}
			if i > 0 {
				sums[columns[c]] -= got[columns[c]].Int
			} else {
				sums[columns[c]] = got[columns[c]].Int
			}
		}
		n := func(c string) int64 { return got[c].Int }
		if n("previous_acres")+n("restated_acres")+n("observed_change_acres")+n("new_acres")+n("found_again_acres")+n("first_looked_at_acres")-n("not_detected_acres") != n("infested_acres") {
			r.Fatalf("%s: the parts of change do not lead to %v acres: %v", name, got["infested_acres"], got)
		}
		more := int64(ones(i > 0)) // a last digit in a row, so that the rows add up (printInside)
		if n("cleared_acres") > n("not_detected_acres") || n("carried_acres") > n("infested_acres")+more || n("previous_acres") < 0 {
			r.Fatalf("%s: cleared %v of %v, carried %v of %v, %v before", name, got["cleared_acres"], got["not_detected_acres"], got["carried_acres"], got["infested_acres"], got["previous_acres"])
		}
	}
	for c, left := range sums {
		if left != 0 {
			r.Fatalf("%s: the rows are %d last digits off the total", c, left)
		}
	}
}

// TestDaysOverdue: a visit has a date or none, and is overdue from the day after it was due, by the last
// day of the quarter; by hand. The columns say so too, in days.
func TestDaysOverdue(t *testing.T) {
	day := func(month time.Month, d int) time.Time { return time.Date(2026, month, d, 0, 0, 0, 0, time.UTC) }
	run := &Run{Quarter: q3} // to 2026-09-30
	var want []string
	for _, c := range []struct {
		due  time.Time
		days int
	}{
		{time.Time{}, 0}, {day(9, 30), 0}, {day(9, 29), 1}, {day(10, 1), 0}, {day(7, 1), 91}, {day(6, 30), 92}, {time.Date(2025, 9, 30, 0, 0, 0, 0, time.UTC), 365},
	} {
		run.Visits = append(run.Visits, Visit{Stand: -1, Row: &followup.Row{Due: c.due}})
		due := ""
		if !c.due.IsZero() {
			due = c.due.Format(time.DateOnly)
		}
		want = append(want, fmt.Sprintf("%s %v %d", due, c.days > 0, c.days))
	}
	if got := VisitsDue(run); got != (Calls{Due: 6, Overdue: 4}) {
		t.Errorf("%+v, want 6 due, 4 overdue", got)
	}
	table := FollowupTable(run)
	var got []string
	for i := range table.Rows {
		cells := map[string]string{}
		for k, f := range table.Fields {
			cells[f.Name] = table.Cell(run, i, k).String()
		}
		got = append(got, cells["due"]+" "+cells["overdue"]+" "+cells["days_overdue"])
	}
	if strings.Join(got, "; ") != strings.Join(want, "; ") {
		t.Errorf("%q, want %q", got, want)
	}
	if got := VisitsDue(&Run{Quarter: q3}); got != (Calls{}) {
		t.Errorf("without visits: %+v", got)
	}
}

// TestWhatIsShown: what a reader sees of a figure has fewer digits than the file, never none of a
// figure that is not 0, and never more acres than two digits off; for any figure.
func TestWhatIsShown(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		unit := rapid.SampledFrom([]Unit{Kilometers, Percent, AcreFeetYearly, Meters}).Draw(r, "unit")
		v := Value{Kind: Number, Decimals: unit.Decimals(), Int: rapid.Int64Range(-1e9, 1e9).Draw(r, "n")}
		shown := Shown(v, unit)
		places := 1
		if unit == Meters {
			places = 0
		}
		if strings.HasPrefix(shown, "<") {
			if limit := 0.5 * math.Pow10(-places); math.Abs(v.Float()) >= limit || v.Int == 0 {
				r.Fatalf("%v %s is shown as %s", v, unit, shown)
			}
			return
		}
		x, ok := parseFixed(shown)
		if !ok || math.Abs(x.Float()-v.Float()) > 0.5000001*math.Pow10(-places) || (x.Int == 0) != (v.Int == 0) {
			r.Fatalf("%v %s is shown as %s", v, unit, shown)
		}
	})
	if got := Shown(Value{Kind: Number, Decimals: 4, Int: geo.Acres(1).SquareMeters().Grains() / 1e6}, Acres); got != "1.00" {
		t.Errorf("an acre is shown as %s", got)
	}
}

// TestStandOnAnotherStream, by hand: a stand of an acre on Alder goes on with 1.5 acres, which now lie
// nearest to Beech. What it had counts on Alder as printed then, and on Beech as restated, so that
// Beech has half an acre of observed change and Alder none; the change since the last look is on Beech
// too.
func TestStandOnAnotherStream(t *testing.T) {
	run := told([]story{{what: "found", then: 1, now: 1.5, line: 0}})
	run.Stands[0].Zone.Line = 1
	want := map[string]Parts{"total ": {Previous: 1e10, Observed: 5e9}, "waterBody Alder": {Previous: 1e10, Restated: -1e10}, "waterBody Beech": {Restated: 1e10, Observed: 5e9}}
	since := map[string]int64{"total ": 5e9, "waterBody Beech": 5e9}
	sums := Summarize(run)
	for _, s := range sums {
		name := string(s.Scope) + " " + s.Name
		if s.Change != want[name] || s.Since.Infested() != since[name] {
			t.Errorf("%s: %+v, %d since the last look, want %+v and %d", name, s.Change, s.Since.Infested(), want[name], since[name])
		}
	}
	if len(sums) != len(want) {
		t.Errorf("%d rows", len(sums))
	}
}
