package restated

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"driftreach/internal/correction"
	"driftreach/internal/earlier"
	"driftreach/internal/followup"
	"driftreach/internal/intake"
	"driftreach/internal/lineage"
	"driftreach/internal/mapfile"
	"driftreach/internal/observed"
	"driftreach/internal/result"
	"driftreach/internal/settings"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// withOneGone is quarterBefore with a stand C of one patch, last mapped in 2026Q1 and not detected since
// 2026Q2, 8 km off; and with a record z1 of this quarter that found nothing there.
func withOneGone(t *testing.T) (observed.Quarter, *earlier.Batch, settings.Stages) {
	in, p, rules := quarterBefore(t)
	seen := patches("c1", on(2, 3), 8.0)
	k := lineage.Known{Stand: stand.Build(seen, []int32{0}, rules.Stands), Quarter: quarter(2026, 1), Absent: true, Since: quarter(2026, 2), StreamID: "s", WaterBody: "Long Water", RiverKm: 2}
	k.ID, k.Zone, k.Memory, k.Members = "2026Q1-0003", k.Infested/2, lineage.Memory{Ever: k.Infested.Grains(), Missing: k.Infested.Grains()}, nil
	p.Known, p.Then = append(p.Known, k), append(p.Then, result.Then{StreamID: "s", WaterBody: "Long Water"})
	p.Followup = append(p.Followup, followup.Row{StandID: k.ID})
	p.LookChanges = []result.LookChange{{StandID: k.ID, Quarter: quarter(2026, 1), Name: "came"}, {StandID: k.ID, Quarter: quarter(2026, 2), Name: "went"}, {StandID: "2026Q1-0001", Quarter: quarter(2026, 2), Name: "grew"}}
	nothing := patches("z1", on(7, 5), 8.0)[0]
	nothing.Detected, nothing.PatchArea = false, 0
	in.Records.Listed = append(in.Records.Listed, nothing)
	return in, p, rules
}

// rulingsOf says which finds and stands are ruled to be the same or not.
func rulingsOf(in observed.Quarter) string {
	r := in.Rulings
	return fmt.Sprintf("same %v, not %v, apart %v, new %d", r.Same, r.Finds, r.Apart, r.Given)
}

// TestRowsAboutStandsAndFinds: what each row does, with its effect in words or the finding that says why
// it has none; by hand. A has two patches of 400 m2, B and C one; C was gone before.
func TestRowsAboutStandsAndFinds(t *testing.T) {
	const a, b, c = "2026Q1-0001", "2026Q1-0002", "2026Q1-0003"
	const stands = "26Q1-0001 800 zone 200; 26Q1-0002 400 zone 100; 26Q1-0003 400 zone 200"
	const due = " | 26Q1-0001 26Q1-0002 26Q1-0003"
	const all, plain = " | f1 f2 z1", "same [], not [], apart [], new 0"
	row := func(kind correction.Kind, record, stand, other string, day time.Time) correction.Correction {
		return correction.Correction{File: "c.csv", Row: 1, Kind: kind, RecordID: record, StandID: stand, OtherID: other, Date: day}
	}
	for _, x := range []struct {
		row                     correction.Correction
		after, rulings, message string
	}{
		// a search that was wrong
		{row(correction.AbsenceWrong, "z1", "", "", on(8, 1)), stands + " | f1 f2" + due, plain, "record z1 found nothing and was wrong: it was set aside"},
		{row(correction.AbsenceWrong, "z1", "", "", on(7, 4)), stands + all + due, plain, "z1"},
		{row(correction.AbsenceWrong, "f1", "", "", on(8, 1)), stands + all + due, plain, "the record is a find"},
		{row(correction.AbsenceWrong, "q9", "", "", on(8, 1)), stands + all + due, plain, "q9"},
		{row(correction.AbsenceWrong, "", c, "", on(8, 1)), stands + all + due, plain, "stand 2026Q1-0003 stands again as last known in 2026Q1: 0.0988 acres restated"},
		{row(correction.AbsenceWrong, "", c, "", on(3, 31)), stands + all + due, plain, "stand 2026Q1-0003 is not detected since 2026Q2, which is later"},
		{row(correction.AbsenceWrong, "", c, "", on(4, 1)), stands + all + due, plain, "stand 2026Q1-0003 stands again"},
		{row(correction.AbsenceWrong, "", a, "", on(6, 30)), stands + all + due, plain, "stand 2026Q1-0001 is on the map of 2026Q2"},
		{row(correction.AbsenceWrong, "", a, "", on(7, 1)), stands + all + due, plain, "looks at stand 2026Q1-0001 that found nothing up to that day do not count"},
		{row(correction.AbsenceWrong, "", "2020Q1-0001", "", on(8, 1)), stands + all + due, plain, "2020Q1-0001"},
		// two that are one
		{row(correction.SameStand, "f1", a, "", on(8, 1)), stands + all + due, "same [[f1 2026Q1-0001]], not [], apart [], new 0", "what record f1 found is stand 2026Q1-0001"},
		{row(correction.SameStand, "z1", a, "", on(8, 1)), stands + all + due, plain, "the record found nothing"},
		{row(correction.SameStand, "q9", a, "", on(8, 1)), stands + all + due, plain, "q9"},
		{row(correction.SameStand, "f1", "2020Q1-0001", "", on(8, 1)), stands + all + due, plain, "2020Q1-0001"},
		{row(correction.SameStand, "a1", a, "", on(8, 1)), stands + all + due, plain, "it is one stand already"},
		{row(correction.SameStand, "b1", a, "", on(8, 1)), "26Q1-0001 1200 zone 300 is also 2026Q1-0002; 26Q1-0002 0 zone 0 out: same stand; 26Q1-0003 400 zone 200" + all + due, plain,
			"stand 2026Q1-0002 became part of stand 2026Q1-0001, with 0.0988 acres"},
		{row(correction.SameStand, "", c, b, on(8, 1)), "26Q1-0001 800 zone 200; 26Q1-0002 400 zone 100 is also 2026Q1-0003; 26Q1-0003 0 zone 0 out: same stand" + all + due, plain,
			"stand 2026Q1-0003 became part of stand 2026Q1-0002, with 0 acres"},
		{row(correction.SameStand, "", b, c, on(8, 1)), "26Q1-0001 800 zone 200; 26Q1-0002 0 zone 0 out: same stand; 26Q1-0003 400 zone 100 is also 2026Q1-0002" + all + due, plain,
			"stand 2026Q1-0002 became part of stand 2026Q1-0003, with 0.0988 acres"},
		// two that are not
		{row(correction.NotSameStand, "f1", a, "", on(8, 1)), stands + all + due, "same [], not [[f1 2026Q1-0001]], apart [], new 0", "what record f1 found is not stand 2026Q1-0001"},
		{row(correction.NotSameStand, "", a, b, on(8, 1)), stands + all + due, "same [], not [], apart [[2026Q1-0001 2026Q1-0002]], new 0", "stand 2026Q1-0001 and stand 2026Q1-0002 are kept apart"},
		{row(correction.NotSameStand, "b1", a, "", on(8, 1)), stands + all + due, "same [], not [], apart [[2026Q1-0002 2026Q1-0001]], new 0", "stand 2026Q1-0002 and stand 2026Q1-0001 are kept apart"},
		{row(correction.NotSameStand, "a2", a, "", on(6, 19)), stands + all + due, plain, "a2"},
		{row(correction.NotSameStand, "a2", a, "", on(6, 20)), "26Q1-0001 400 zone 100; 26Q1-0002 400 zone 100; 26Q1-0003 400 zone 200; 26Q3-0001 400 zone 100" + all + due,
			"same [], not [], apart [[2026Q3-0001 2026Q1-0001]], new 1", "record a2 is not of stand 2026Q1-0001: it is stand 2026Q3-0001"},
		{row(correction.NotSameStand, "b1", b, "", on(8, 1)), "26Q1-0001 800 zone 200; 26Q1-0002 0 zone 0 out: not the same stand; 26Q1-0003 400 zone 200; 26Q3-0001 400 zone 100" + all + " | 26Q1-0001 26Q1-0003 26Q3-0001",
			"same [], not [], apart [[2026Q3-0001 2026Q1-0002]], new 1", "record b1 is not of stand 2026Q1-0002: it is stand 2026Q3-0001"},
		{row(correction.NotSameStand, "q9", a, "", on(8, 1)), stands + all + due, plain, "q9"},
		{row(correction.NotSameStand, "", "2020Q1-0001", a, on(8, 1)), stands + all + due, plain, "2020Q1-0001"},
		{row(correction.NotSameStand, "", a, "2020Q1-0001", on(8, 1)), stands + all + due, plain, "2020Q1-0001"},
	} {
		in, p, rules := withOneGone(t)
		in.Corrections = []correction.Correction{x.row}
		out := Apply(in, p, nil, rules)
		name := fmt.Sprintf("%s %s %s %s %s", x.row.Kind, x.row.RecordID, x.row.StandID, x.row.OtherID, x.row.Date.Format("2006-01-02"))
		if got := after(out, p); got != x.after {
			t.Errorf("%s:\n%s, want\n%s", name, got, x.after)
		}
		if got := rulingsOf(out); got != x.rulings {
			t.Errorf("%s: %s, want %s", name, got, x.rulings)
		}
		var told []string
		for _, f := range out.Findings {
			told = append(told, f.Value+" "+f.Message)
		}
		if len(out.Corrections) == 1 {
			told = append(told, out.Corrections[0].Effect)
		}
		if got := strings.Join(told, "; "); !strings.Contains(got, x.message) {
			t.Errorf("%s: %s, want %q", name, got, x.message)
		}
	}
}

// TestAStandPutBack: a stand that was missed stands on the map again as last known, with one record of
// its size, cover, days and place; what it took away when it went is taken back, and it is followed
// again. By hand.
func TestAStandPutBack(t *testing.T) {
	in, p, rules := withOneGone(t)
	in.Corrections = []correction.Correction{{Kind: correction.AbsenceWrong, StandID: "2026Q1-0003", Date: on(8, 1)}}
	p.ReachApart = []string{"streams"}
	Apply(in, p, nil, rules)
	k := &p.Known[2]
	if k.Absent || !k.Since.IsZero() || k.Memory.Missing != 0 || k.Memory.Ever != k.InfestedAcres() || k.Was == nil || !k.Missed.Equal(on(8, 1)) || len(k.Members) != 1 {
		t.Errorf("%+v", k)
	}
	r := p.Records[k.Members[0]]
	day := survey.DayOf(on(2, 3))
	if r.ID != "2026Q1-0003" || !r.Detected || r.Cover != 50 || !math.IsNaN(float64(r.StemHeight)) || r.Begin != day || r.End != day || r.Status != survey.Untreated || p.From[k.Members[0]] != quarter(2026, 1) || len(r.Outline) != 1 {
		t.Errorf("%+v from %s", r, p.From[k.Members[0]])
	}
	if r.Remarks() != "stand 2026Q1-0003 as last mapped, put back by a correction" || math.Abs(r.Position[0]-(10+8/111.32)) > 1e-9 {
		t.Errorf("%+v at %v", r.Notes, r.Position)
	}
	back := fmt.Sprint(p.LookChanges[0].TakenBack, p.LookChanges[1].TakenBack, p.LookChanges[2].TakenBack)
	if want := fmt.Sprint(survey.Quarter{}, quarter(2026, 3), survey.Quarter{}); back != want || strings.Join(p.ReachApart, ", ") != "streams, corrections" {
		t.Errorf("taken back %s, want %s; reach apart for %v", back, want, p.ReachApart)
	}
	if want := (followup.Row{StandID: "2026Q1-0003"}).PutBack(rules.Followup, quarter(2026, 2)); fmt.Sprint(p.Followup[2]) != fmt.Sprint(want) {
		t.Errorf("followed as %+v, want %+v", p.Followup[2], want)
	}
	// an assumed cover stays assumed, an unknown day unknown, and an id that is taken gets its quarter
	in, p, rules = withOneGone(t)
	in.Corrections = []correction.Correction{{Kind: correction.AbsenceWrong, StandID: "2026Q1-0003", Date: on(8, 1)}}
	p.Known[2].Assumed, p.Known[2].First, p.Known[2].Last, p.Known[2].Zone = []string{stand.AssumedCover}, time.Time{}, time.Time{}, 0
	p.Records[0].ID = "2026Q1-0003"
	Apply(in, p, nil, rules)
	i := p.Known[2].Members[0]
	if r := p.Records[i]; r.ID != "2026Q1-0003@2026Q1" || !math.IsNaN(r.Cover) || !r.Begin.IsZero() || !r.End.IsZero() {
		t.Errorf("%+v", r)
	}
	if p.ReachApart != nil { // outside the zone it fed no reach
		t.Errorf("reach apart for %v", p.ReachApart)
	}
	for i := 1; i < len(p.Records); i++ {
		if p.Records[i-1].ID > p.Records[i].ID {
			t.Errorf("%s before %s", p.Records[i-1].ID, p.Records[i].ID)
		}
	}
	for k, want := range [][]string{{"2026Q1-0003", "a2"}, {"b1"}, {"2026Q1-0003@2026Q1"}} {
		var got []string
		for _, m := range p.Known[k].Members {
			got = append(got, p.Records[m].ID)
		}
		if strings.Join(got, " ") != strings.Join(want, " ") {
			t.Errorf("stand %d has %v, want %v", k, got, want)
		}
	}
}

// TestStandsJoined: the joined stand has the earlier first day, the later quarter, both memories and
// the acres of both; by hand. A stand that was gone and is the same as one on the map was never gone.
func TestStandsJoined(t *testing.T) {
	in, p, rules := withOneGone(t)
	p.Known[0].Quarter, p.Known[1].Quarter = quarter(2026, 2), quarter(2026, 1)
	p.Known[0].First, p.Known[1].First = on(5, 1), on(4, 2)
	p.Known[0].Memory.Missing, p.Known[1].Memory.Missing = 7, 4
	ever := p.Known[0].Memory.Ever + p.Known[1].Memory.Ever
	in.Corrections = []correction.Correction{{Kind: correction.SameStand, StandID: "2026Q1-0001", OtherID: "2026Q1-0002", Date: on(8, 1)}}
	Apply(in, p, nil, rules)
	into := &p.Known[1]
	if into.ID != "2026Q1-0002" || into.Quarter != quarter(2026, 2) || !into.First.Equal(on(4, 2)) || into.Memory.Ever != ever || into.Memory.Missing != 11 || len(into.Members) != 3 || into.Gross < into.Infested || into.Canopy > into.Infested || into.Was == nil {
		t.Errorf("%+v", into)
	}
	in, p, rules = withOneGone(t)
	in.Corrections = []correction.Correction{{Kind: correction.SameStand, StandID: "2026Q1-0002", OtherID: "2026Q1-0003", Date: on(8, 1)}}
	p.Known[1].StreamID, p.Known[1].WaterBody, p.Known[1].RiverKm, p.Known[1].Memory.Missing = "t", "Side Water", 4, 9
	Apply(in, p, nil, rules)
	into = &p.Known[2]
	if into.ID != "2026Q1-0003" || into.Absent || !into.Since.IsZero() || into.Quarter != quarter(2026, 2) || into.StreamID != "t" || into.WaterBody != "Side Water" || into.RiverKm != 4 || into.Memory.Missing != 9 || !into.First.Equal(on(2, 3)) {
		t.Errorf("%+v", into)
	}
	if then := p.Then[2]; then.StreamID != "s" || then.Infested != 0 {
		t.Errorf("printed %+v", then)
	}
	for _, c := range [][3]time.Time{{on(5, 1), on(4, 1), on(4, 1)}, {on(4, 1), on(5, 1), on(4, 1)}, {{}, on(5, 1), on(5, 1)}, {on(5, 1), {}, on(5, 1)}, {}} {
		if got := earliest(c[0], c[1]); !got.Equal(c[2]) {
			t.Errorf("the earlier of %v and %v is %v", c[0], c[1], got)
		}
	}
}

// TestRowsOfEarlierQuarters: a row that an earlier batch applied still rules this quarter: a stand that
// was joined is known by the other's name, a record found wrong then is set aside again, and finds stay
// apart; by hand. It is told no second time.
func TestRowsOfEarlierQuarters(t *testing.T) {
	const a, b, gone = "2026Q1-0001", "2026Q1-0002", "2025Q1-0001"
	in, p, rules := withOneGone(t)
	taken := []correction.Correction{
		{Kind: correction.SameStand, StandID: gone, OtherID: b, Stands: []string{gone}, Date: on(2, 1), Taken: "2026Q1"},
		{Kind: correction.AbsenceWrong, RecordID: "z1", Date: on(8, 1), Taken: "2026Q2"},
		{Kind: correction.Misidentified, RecordID: "f2", Date: on(8, 1), Taken: "2026Q2"},
		{Kind: correction.NotSameStand, RecordID: "f1", StandID: a, Date: on(8, 1), Taken: "2026Q2"},
		{Kind: correction.AbsenceWrong, StandID: "2020Q1-0001", Date: on(8, 1), Taken: "2026Q2"},
	}
	in.Corrections = []correction.Correction{
		{File: "c.csv", Row: 1, Kind: correction.NotSameStand, StandID: gone, OtherID: a, Date: on(8, 2)}, // by the name of before
		{File: "c.csv", Row: 2, Kind: correction.Misidentified, StandID: "2019Q1-0001", Date: on(8, 2)},
	}
	in.Files = []mapfile.File{{Name: "p.csv", Role: "points", Read: 3, Accepted: 3}, {Name: "c.csv", Role: "corrections", Read: 2, Accepted: 2}}
	in.ColumnReports = make([]intake.File, 2)
	for i := range in.Records.Listed {
		in.Records.Listed[i].File = "p.csv"
	}
	out := Apply(in, p, taken, rules)
	if got, want := after(out, p), "26Q1-0001 800 zone 200; 26Q1-0002 400 zone 100 is also 2025Q1-0001; 26Q1-0003 400 zone 200 | f1 | 26Q1-0001 26Q1-0002 26Q1-0003"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	if got, want := rulingsOf(out), "same [], not [[f1 2026Q1-0001]], apart [[2026Q1-0002 2026Q1-0001]], new 0"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	if len(out.Corrections) != 6 || len(out.Findings) != 2 {
		t.Errorf("%d rows are kept, findings %v", len(out.Corrections), out.Findings)
	}
	if f := out.Files; f[0].SetAside != 2 || f[0].Accepted != 1 || f[0].Rejected != 0 || f[1].Accepted != 1 || f[1].Rejected != 1 {
		t.Errorf("%+v", f)
	}
	if in.Files[0].SetAside != 0 {
		t.Error("the files of the quarter itself were changed")
	}
	if first := Apply(in, nil, nil, rules); len(first.Corrections) != 0 || len(first.Records.Listed) != 3 { // without a batch before nothing is known
		t.Errorf("%+v, %d records", first.Corrections, len(first.Records.Listed))
	}
}

// TestRulingsOnMappedStands: finds that are ruled to be one with a known stand are linked to it through
// the stand they lie in; two stands that are ruled apart are cut where the finds of one lie on the
// other. What names no find or no stand rules nothing.
func TestRulingsOnMappedStands(t *testing.T) {
	in, p, rules := withOneGone(t)
	records := patches("f1", on(7, 5), 0.001, "f3", on(7, 5), 0.01, "g1", on(7, 5), 5.0)
	then := lineage.Before{Known: p.Known, Records: p.Records}
	now := lineage.Now{Quarter: in.Quarter, Records: records, Stands: []stand.Stand{stand.Build(records, []int32{0, 1}, rules.Stands), stand.Build(records, []int32{2}, rules.Stands)}}
	now.Stands[0].ID, now.Stands[1].ID = "new 1", "new 2"
	linked := Rule(correction.Rulings{Given: 3, Same: [][2]string{{"f1", "2026Q1-0001"}, {"f3", "2026Q1-0002"}, {"g1", "2026Q1-0001"}, {"x", "2026Q1-0001"}, {"f1", "2020Q1-0001"}}}, then, now, rules)
	if got, want := fmt.Sprint(linked.Same), "[{0 0} {1 0} {0 1}]"; got != want || linked.Given != 3 || len(linked.Stands) != 2 {
		t.Errorf("linked %s, want %s; %d stands", got, want, len(linked.Stands))
	}
	cut := Rule(correction.Rulings{Finds: [][2]string{{"f3", "2026Q1-0001"}, {"x", "2026Q1-0001"}, {"f1", "2020Q1-0001"}}}, then, now, rules)
	var parts []string
	for _, s := range cut.Stands {
		parts = append(parts, fmt.Sprint(s.Members, s.Isolated))
	}
	if got, want := strings.Join(parts, " "), "[0] true [1] true [2] false"; got != want {
		t.Errorf("cut into %s, want %s", got, want)
	}
	for _, pair := range [][2]string{{"2026Q1-0001", "2026Q1-0001"}, {"2026Q1-0001", "2020Q1-0001"}, {"2020Q1-0001", "2026Q1-0002"}} {
		if same := Rule(correction.Rulings{Apart: [][2]string{pair}}, then, now, rules); len(same.Stands) != 2 || len(same.Barred) != 0 {
			t.Errorf("%v: %d stands", pair, len(same.Stands))
		}
	}
	p.Known[0].Out = lineage.Misidentified // what a correction took out is no stand
	if out := Rule(correction.Rulings{Same: [][2]string{{"f1", "2026Q1-0001"}}}, then, now, rules); len(out.Same) != 0 {
		t.Errorf("linked %v", out.Same)
	}
}
