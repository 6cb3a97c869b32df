package mapfile

import (
	"bytes"
	"encoding/csv"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"driftreach/internal/allocate"
	"driftreach/internal/lineage"
	"driftreach/internal/result"
	"driftreach/internal/survey"
	"driftreach/internal/trend"
	"driftreach/internal/verify/validate"
)

// addAbsent adds, for each site of the fixture, a stand not detected since with the footprint of a
// present stand there and texts from nasty, and one piece of surveyed ground.
func addAbsent(run *result.Run) {
	run.Surveyed = lineage.PiecesOf(run.Stands[0].Footprint.Polygons()[:1], nil)
	for k := range sites {
		known := lineage.Known{
			Stand: run.Stands[k].Stand, Quarter: survey.Quarter{Year: 2025, Number: 4}, Absent: true,
			Since: survey.Quarter{Year: 2026, Number: 1}, StreamID: nasty[k], WaterBody: nasty[k+4],
		}
		known.ID = "2025Q1-000" + string(rune('1'+k))
		run.Absent = append(run.Absent, result.Absent{Known: known, Looked: k%2 == 0})
	}
}

// goneOn returns the fixture as a batch that continues another: its first stand is carried, its
// second has grown.
func goneOn() *result.Run {
	run := fixture()
	first, second := lineage.Known{Stand: run.Stands[0].Stand}, lineage.Known{Stand: run.Stands[1].Stand}
	first.Quarter, second.Quarter = survey.Quarter{Year: 2026, Number: 1}, survey.Quarter{Year: 2026, Number: 2}
	run.Stands[0].Change, run.Stands[0].Parents, run.Stands[0].CarriedFrom = lineage.NotResurveyed, []int32{0}, first.Quarter
	run.Stands[1].Change, run.Stands[1].Parents = lineage.Grown, []int32{1}
	for i := range run.Stands {
		run.Stands[i].Parts.Own = run.Stands[i].Infested.Grains()
	}
	run.Stands[0].Parts = result.StandParts{Carried: run.Stands[0].Parts.Own}
	run.Previous = &result.Previous{
		Quarter: second.Quarter, Known: []lineage.Known{first, second}, Looks: []lineage.Look{{}, {Share: 0.75}},
		Links: []lineage.Link{{Known: 1, Stand: 1, Shared: 100, Heir: true}}, Fates: []lineage.Change{lineage.NotResurveyed, ""}, Home: []int32{0, 1},
		Restated: []int64{first.InfestedAcres(), second.InfestedAcres()},
		Then:     []result.Then{{Infested: first.InfestedAcres()}, {Infested: second.InfestedAcres()}},
		Shares:   [][]allocate.Share{run.Stands[0].Shares, run.Stands[1].Shares},
	}
	return run
}

// TestMapTellsCarriedAndAbsentApart: a carried stand has a hollow symbol and a folder of its own,
// and its name, balloon and data say that it is carried. Absent stands have a folder. The map
// conforms to the standard. Without a previous batch there is none of this.
func TestMapTellsCarriedAndAbsentApart(t *testing.T) {
	run := goneOn()
	doc := mustKML(t, run)
	text := string(doc)
	for _, want := range []string{
		"<name>Nobody visited</name>", ", as last known in 2026Q1</name>", "<styleUrl>#carried-stand-",
		"<td>Carried</td><td>yes</td>", "<td>Last surveyed in</td><td>2026Q1</td>",
		"<fill>0</fill><outline>1</outline>", "<name>Not detected since</name>", "<name>2025Q1-0001, not detected since 2026Q1</name>",
		"1 of the stands was not looked at in full this quarter",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the map lacks %q", want)
		}
	}
	if report := validate.KML(doc, validate.Bounds{West: -180, South: -90, East: 180, North: 90}); !report.OK() {
		t.Errorf("the map does not conform: %v", report.Problems)
	}
	for _, gone := range []string{"Nobody visited", "carried-stand", "Not detected since"} {
		if strings.Contains(string(mustKML(t, fixture())), gone) {
			t.Errorf("a map without a batch before speaks of %q", gone)
		}
	}
}

// TestMapThatGoesOnValidates validates this map against the schema of OGC KML 2.2.
func TestMapThatGoesOnValidates(t *testing.T) {
	if said := xmllint(t, schemaFile(t), fixtureKML(t, goneOn())); said != "" {
		t.Error(said)
	}
}

// TestLineageTellsEveryStand: the table has the link, the carried stand and the new stands; derived
// by hand from goneOn.
func TestLineageTellsEveryStand(t *testing.T) {
	run := goneOn()
	text, err := written(func(b *bytes.Buffer) error { return writeLineageCSV(b, run) })
	if err != nil {
		t.Fatal(err)
	}
	rows := strings.Split(strings.TrimSpace(string(text)), "\r\n")
	if len(rows) != 1+len(run.Stands) {
		t.Errorf("%d rows for %d stands", len(rows)-1, len(run.Stands))
	}
	for i, want := range []string{
		run.Stands[0].ID + ",2026Q3,not resurveyed," + run.Stands[0].ID + ",2026Q1,true,,,",
		run.Stands[1].ID + ",2026Q3,grown," + run.Stands[1].ID + ",2026Q2,true,0.0247,0,",
	} {
		if !strings.HasPrefix(rows[i+1], want) {
			t.Errorf("row %d is %s, want %s", i+1, rows[i+1], want)
		}
	}
}

// TestHistoryKeepsWhatWasPrinted: rows of earlier batches are repeated cell by cell, with columns
// that only they have last; the rows of this batch follow.
func TestHistoryKeepsWhatWasPrinted(t *testing.T) {
	run := fixture()
	run.History = result.History{
		Columns: []string{"name", "gone_acres", "scope", "quarter", "observed_change_acres"},
		Rows:    [][]string{{"say \"hi\", & go", "-1.5", "waterBody", "2026Q2", "-0.25"}, {"'=cmd()", "", "waterBody", "2026Q2", ""}},
	}
	text, err := written(func(b *bytes.Buffer) error { return writeHistoryCSV(b, run) })
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	own := len(result.SummaryTable(run, nil).Fields)
	if rows[0][own] != "gone_acres" || len(rows) != 3+len(result.Summarize(run)) {
		t.Fatalf("%d rows under %v", len(rows), rows[0])
	}
	cell := func(row int, name string) string { return rows[row][slices.Index(rows[0], name)] }
	for i, old := range run.History.Rows {
		for k, name := range run.History.Columns {
			if got := cell(i+1, name); got != old[k] {
				t.Errorf("row %d: %s is %q, was %q", i+1, name, got, old[k])
			}
		}
	}
	if cell(3, "scope") != "total" || cell(3, "quarter") != "2026Q3" || cell(3, "gone_acres") != "" {
		t.Errorf("this batch begins with %v", rows[3])
	}
}

// TestHistoryBatchIsTheSummary: what the page is told of this batch is what a reader of summary.csv
// finds, names with line ends and formulas included.
func TestHistoryBatchIsTheSummary(t *testing.T) {
	run := fixture()
	run.Centerlines[0].Name, run.Centerlines[1].Name = "=upper\r\nbrook", "'=quoted"
	text, err := written(func(b *bytes.Buffer) error { return WriteSummaryCSV(b, run) })
	if err != nil {
		t.Fatal(err)
	}
	want, err := trend.ReadSummary(bytes.NewReader(text), run.Quarter)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, result.HistoryBatch(run)); diff != "" {
		t.Error(diff)
	}
}
