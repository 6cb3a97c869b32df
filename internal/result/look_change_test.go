package result

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"driftreach/internal/lineage"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// counted returns a change of infested acres, in grains, on Long Water.
func counted(stand string, quarter survey.Quarter, infested int64) LookChange {
	return LookChange{StandID: stand, Quarter: quarter, Scope: WaterBody, Name: "Long Water", acres: acreages{2 * infested, infested}}
}

// tell formats each change as a line.
func tell(all []LookChange) []string {
	var out []string
	for _, c := range all {
		s := fmt.Sprintf("%s %s %s %q %d", c.StandID, c.Quarter, c.Scope, c.Name, c.Grains()[1])
		if c.Shared {
			s += " shared"
		}
		if !c.TakenBack.IsZero() {
			s += " taken back in " + c.TakenBack.String()
		}
		out = append(out, s)
	}
	return out
}

// TestChangesGoOnWithTheirStands: by hand. The changes of a continue under a. b and c merged, and
// the stand has the changes of both. d was split, and nobody knows which part had which acres: both
// parts have a row marked shared, and only the first has the acres. e is gone, and keeps its
// changes. A change already taken back stays as it is, and so does a change of a stand that is not
// known. No stand has a stream or acres now, so the rows of this quarter are shared and 0.
func TestChangesGoOnWithTheirStands(t *testing.T) {
	var run Run
	run.Quarter = q3
	run.Previous = &Previous{Quarter: q2}
	for _, id := range []string{"a", "b", "c", "d", "e"} {
		run.Previous.Known = append(run.Previous.Known, lineage.Known{Stand: stand.Stand{ID: id}})
	}
	run.Previous.Fates = []lineage.Change{"", "", "", "", lineage.NotDetected}
	run.Previous.Home = []int32{0, 1, 1, 2, -1}
	run.Previous.Links = []lineage.Link{{Known: 0, Stand: 0}, {Known: 1, Stand: 1}, {Known: 2, Stand: 1}, {Known: 3, Stand: 2}, {Known: 3, Stand: 3}}
	for _, id := range []string{"a", "b", "d", "n"} {
		s := Stand{Stand: stand.Stand{ID: id}}
		s.Zone.Line = -1
		run.Stands = append(run.Stands, s)
	}
	back := counted("a", q1, 4)
	back.TakenBack = q2
	before := []LookChange{
		counted("e", q1, 3), counted("a", q1, 10), counted("b", q1, 5), counted("c", q1, 7), counted("d", q1, 9), back, counted("zz", q1, 2), counted("a", q2, 1), counted("a", q2, -1),
	}
	want := []string{
		`a 2026Q1 waterBody "Long Water" 10`,
		`a 2026Q1 waterBody "Long Water" 4 taken back in 2026Q2`,
		`b 2026Q1 waterBody "Long Water" 12`,
		`d 2026Q1 waterBody "Long Water" 9 shared`,
		`d 2026Q3 noStream "" 0 shared`,
		`e 2026Q1 waterBody "Long Water" 3`,
		`n 2026Q1 waterBody "Long Water" 0 shared`,
		`n 2026Q3 noStream "" 0 shared`,
		`zz 2026Q1 waterBody "Long Water" 2`,
	}
	got := LookChanges(&run, before)
	if d := cmp.Diff(want, tell(got)); d != "" {
		t.Error(d)
	}
	slices.Reverse(before)
	if d := cmp.Diff(want, tell(LookChanges(&run, before))); d != "" {
		t.Errorf("in another order: %s", d)
	}
	run.Previous = nil
	if got := LookChanges(&run, before); got != nil {
		t.Errorf("the first batch of a chain has %v", got)
	}
}

// TestChangesReadBack: reading the table of changes gives the same changes, whole and taken back.
// Live acres are infested acres less treated and dead ones, by hand.
func TestChangesReadBack(t *testing.T) {
	one := LookChange{StandID: "s1", Quarter: q2, Scope: InUnit, Name: "East", UnitID: "u1", Shared: true, acres: acreages{60_000_000_000, 50_000_000_001, -3, 7, 20_000_000_000, 1_000_000_000}}
	two := LookChange{StandID: "s2", Quarter: q1, Scope: Unnamed, TakenBack: q3, acres: acreages{1, -2, 3, 4, 5, 6}}
	if got := one.Grains(); got != [7]int64{29_000_000_001, 50_000_000_001, 60_000_000_000, -3, 7, 20_000_000_000, 1_000_000_000} {
		t.Errorf("live, infested, gross, canopy, zone, treated and dead: %v", got)
	}
	if got := one.Trace(); got.Grains()[1] != 0 || !got.Shared || got.StandID != "s1" || one.Grains()[1] == 0 {
		t.Errorf("%+v", got)
	}
	run := &Run{LookChanges: []LookChange{one, two}}
	for name, test := range map[string]struct {
		table Table
		want  LookChange
	}{"counts": {StandChangeTable(run), one}, "taken back": {TakenBackTable(run), two}} {
		cells := [][]string{names(test.table)}
		for i := range test.table.Rows {
			var row []string
			for _, v := range test.table.Row(run, i, nil) {
				row = append(row, v.String())
			}
			cells = append(cells, row)
		}
		got, err := ReadLookChanges(cells)
		if err != nil || len(got) != 1 || got[0] != test.want {
			t.Errorf("%s: %+v, %v, want %+v", name, got, err, test.want)
		}
	}
	if got := TakenBack(run.LookChanges); len(got) != 1 || got[0] != two {
		t.Errorf("%+v", got)
	}
}

// TestChangesThatCannotBeRead: each fault is reported with its row.
func TestChangesThatCannotBeRead(t *testing.T) {
	header := "taken_back_in stand_id quarter scope name unit_id shared"
	for _, column := range lookChangeAcres {
		header += " " + column[0]
	}
	good := "2026Q3 s 2026Q1 total - - false 1.25 0 0 0 0 -0.0000000001"
	read := func(header, row string) ([]LookChange, error) {
		cells := [][]string{strings.Fields(header)}
		if row != "" {
			cells = append(cells, strings.Fields(good), strings.Split(row, " "))
		}
		return ReadLookChanges(cells)
	}
	got, err := read(header, good)
	if err != nil || got[1].acres != (acreages{12_500_000_000, 0, 0, 0, 0, -1}) || got[1].TakenBack != q3 || got[1].Quarter != q1 || got[1].Shared {
		t.Fatalf("%+v, %v", got, err)
	}
	if _, err := ReadLookChanges(nil); err == nil || err.Error() != "it is empty" {
		t.Error(err)
	}
	for _, test := range []struct{ header, row, want string }{
		{strings.Replace(header, "shared", "shard", 1), "", "there is no column shared"},
		{strings.Replace(header, "zone_since", "zon_since", 1), "", "there is no column zone_since_last_look_acres"},
		{header, strings.Replace(good, "2026Q1", "2026", 1), "row 2: "},
		{header, strings.Replace(good, "2026Q3", "Q3", 1), "row 2: "},
		{header, strings.Replace(good, "1.25", "1,25", 1), `row 2: no acreage is "1,25"`},
		{header, strings.Replace(good, "1.25", "900000000", 1), `row 2: no acreage is "900000000"`},
		{header, strings.Replace(good, "1.25", "-900000000.5", 1), `row 2: no acreage is "-900000000.5"`},
		{header, strings.Replace(good, "1.25", "0.12345678901", 1), `row 2: no acreage is "0.12345678901"`},
		{header, strings.Replace(good, " s ", " \t ", 1), "row 2: no stand is named"},
	} {
		if _, err := read(test.header, test.row); err == nil || !strings.HasPrefix(err.Error(), test.want) {
			t.Errorf("%s / %s: %v, want %s", test.header, test.row, err, test.want)
		}
	}
	// just below the largest value of 64 bits, in grains
	if got, err := read(header, strings.Replace(good, "1.25", "899999999.5", 1)); err != nil || got[1].acres[0] != 8_999_999_995_000_000_000 {
		t.Errorf("%+v, %v", got, err)
	}
}
