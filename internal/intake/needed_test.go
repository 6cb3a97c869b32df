package intake

import (
	"fmt"
	"strings"
	"testing"

	"driftreach/internal/format"
	"driftreach/internal/survey"
	"driftreach/internal/testkit"
)

// TestColumnsThatRowsNeed: a table is refused for its header, with rows or without; features are refused
// from the first one on, and a collection of none is no fault. By hand: a correction needs what it is
// and a record or a stand, a rule a stand or a parcel.
func TestColumnsThatRowsNeed(t *testing.T) {
	feature := func(properties string) string {
		return `{"type":"Feature","geometry":null,"properties":{` + properties + `}}`
	}
	all := func(features ...string) string {
		return `{"type":"FeatureCollection","features":[` + strings.Join(features, ",") + `]}`
	}
	for _, c := range []struct{ role, text, want string }{
		{RoleCorrections, "date,correction,occurrenceID\n", ""}, {RoleCorrections, "date,correction,stand_id\n", ""}, {RoleCorrections, all(), ""},
		{RoleCorrections, "date,occurrenceID\n", "there is no column that says what is corrected among: date, occurrenceID"},
		{RoleCorrections, "date,occurrenceID\n2026-07-01,a\n", "there is no column that says what is corrected among: date, occurrenceID"},
		{RoleCorrections, "date,correction\n", "there is no column for the record and none for the stand among: date, correction"},
		{RoleCorrections, all(feature(`"date":"2026-07-01","occurrenceID":"a"`)), "there is no column that says what is corrected among: date, occurrenceID"},
		{RoleCorrections, all(feature(`"correction":"look-alike"`)), "there is no column for the record and none for the stand among: correction"},
		{RoleCorrections, all(feature(`"correction":"look-alike","occurrenceID":"a"`)), ""},
		{RoleCorrections, all(feature(`"correction":"look-alike"`), feature(`"correction":"look-alike","stand_id":"2026Q1-0001"`)), ""},
		{RoleTreatable, "stand_id,permission\n", ""}, {RoleTreatable, "parcel,permission\n", ""}, {RoleTreatable, all(), ""},
		{RoleTreatable, "permission\n", "there is no column for the stand and none for the parcel among: permission"},
		{RoleTreatable, "permission\ngiven\n", "there is no column for the stand and none for the parcel among: permission"},
		{RoleTreatable, all(feature(`"permission":"given"`)), "there is no column for the stand and none for the parcel among: permission"},
		{RoleTreatable, all(feature(`"permission":"given","parcel":"7"`)), ""},
		{RoleTreatments, all(), ""}, {RoleTreatments, "date,stand_id,method\n", ""},
		{RoleWorks, all(), ""}, {RoleValues, all(), ""}, {RoleBarriers, all(), ""}, {RoleUnits, all(), ""}, {RoleSurveyed, all(), ""}, {RoleWater, all(), ""}, {RoleStreams, all(), ""},
	} {
		r, _ := RoleOf(c.role)
		_, err := r.Read(Given{Sources: []format.Source{testkit.Source("f", strings.NewReader(c.text))}, Options: func(format.Source) (Options, error) { return testOptions(), nil }})
		said := ""
		if err != nil {
			said = err.Error()
		}
		if (err != nil) != (c.want != "") || !strings.Contains(said, c.want) {
			t.Errorf("%s, %s: %q, want %q", c.role, c.text, said, c.want)
		}
	}
}

// TestGeometryInTheFirstColumn: a table of any role may have its places in its first column, as WKT,
// or in its last. Without one, the table is refused.
func TestGeometryInTheFirstColumn(t *testing.T) {
	for role, columns := range map[string]string{
		RolePoints: "eventDate", RoleTreatments: "date,method", RoleWorks: "work,begin", RoleValues: "name,weight", RoleBarriers: "kind",
		RoleUnits: "name", RoleSurveyed: "date", RoleWater: "name", RoleStreams: "name",
	} {
		r, _ := RoleOf(role)
		read := func(text string) error {
			_, err := r.Read(Given{Sources: []format.Source{testkit.Source("f", strings.NewReader(text))}, Options: func(format.Source) (Options, error) { return testOptions(), nil }})
			return err
		}
		place, row := `"POLYGON ((10 50, 10.01 50, 10.01 50.01, 10 50))"`, strings.Repeat("x,", strings.Count(columns, ","))+"x"
		if role == RoleStreams {
			place = `"LINESTRING (10 50, 10.01 50.01)"`
		}
		for _, text := range []string{"WKT," + columns + "\n" + place + "," + row + "\n", columns + ",WKT\n" + row + "," + place + "\n"} {
			if err := read(text); err != nil && strings.Contains(err.Error(), "column") {
				t.Errorf("%s, %s: %v", role, text, err)
			}
		}
		if err := read(columns + "\n" + row + "\n"); err == nil || !strings.Contains(err.Error(), "column") {
			t.Errorf("%s, %s: no error", role, columns)
		}
	}
}

// TestPresenceInWords: the finding names every word of the column with how often it stands and how it
// was read, in the order of the words; by hand. A word that stands nowhere is not named, nor is a blank.
// Of the words, those that say something are counted.
func TestPresenceInWords(t *testing.T) {
	for _, c := range []struct {
		words         []string
		found, counts string
		told          string
	}{
		{[]string{"yes", "no", "no"}, "+--", "no notDetected 2, yes detected 1", "no 2 times as not found, yes 1 times as found"},
		{[]string{"no", "yes", "yes", ""}, "-+++", "yes detected 2, no notDetected 1", "blank 1 times as found, no 1 times as not found, yes 2 times as found"},
		{[]string{"", "no", ""}, "+-+", "no notDetected 1", "blank 2 times as found, no 1 times as not found"},
		{[]string{"no"}, "-", "no notDetected 1", "no 1 times as not found"},
		{[]string{"yes", "Yes", "NO"}, "++-", "NO notDetected 1, Yes detected 1, yes detected 1", "NO 1 times as not found, Yes 1 times as found, yes 1 times as found"},
	} {
		p, findings, err := ReadPoints(testkit.Source("points", strings.NewReader(sheet("Found", c.words...))), testOptions())
		if err != nil || len(findings) != 1 || found(p) != c.found {
			t.Errorf("%q: %s, want %s; %v, %v", c.words, found(p), c.found, findings, err)
			continue
		}
		if want := `the column "Found" was read as occurrenceStatus by its name and words: ` + c.told; findings[0].Message != want {
			t.Errorf("%q: %q, want %q", c.words, findings[0].Message, want)
		}
		var counts []string
		for _, w := range p.Words {
			counts = append(counts, fmt.Sprintf("%s %s %d", w.Word, w.Meaning, w.Count))
		}
		if got := strings.Join(counts, ", "); got != c.counts {
			t.Errorf("%q: counted %s, want %s", c.words, got, c.counts)
		}
	}
}

// TestPointsGivenInBlocks: 2,050 records come in two blocks of 1,024 and one of 2, each once and in the
// order of the file, whose places go on from block to block; what was given is kept no longer.
func TestPointsGivenInBlocks(t *testing.T) {
	words := make([]string, 2050)
	for i := range words {
		words[i] = []string{"yes", "no", "no"}[i%3]
	}
	var sizes []int
	var all []survey.Record
	turn, _, err := ReadPointsInTurn(testkit.Source("points", strings.NewReader(sheet("Found", words...))), testOptions(), func(block []survey.Record) error {
		sizes, all = append(sizes, len(block)), append(all, block...)
		return nil
	})
	if err != nil || len(sizes) != 3 || sizes[0] != 1024 || sizes[1] != 1024 || sizes[2] != 2 || turn.Read != 2050 {
		t.Fatalf("blocks of %v, %d read, %v", sizes, turn.Read, err)
	}
	finish := FinishersOf([]PointsInTurn{turn})[0]
	for i := range all {
		finish.Finish(&all[i], i)
		if all[i].Row != i+1 || all[i].Detected != (i%3 == 0) {
			t.Fatalf("record %d is row %d, found %v", i, all[i].Row, all[i].Detected)
		}
	}
	p := newPointReader(testOptions())
	p.give = func([]survey.Record) error { return errTaken }
	p.before, p.records, p.badDate = 3, []survey.Record{{ID: "a"}, {ID: "b"}}, map[int]bool{1: true}
	err = p.giveAll()
	if held := p.records[:2]; err != errTaken || p.before != 5 || len(p.records) != 0 || held[0].ID != "" || held[1].ID != "" || len(p.badDate) != 0 {
		t.Errorf("%v, %d before, holds %+v, %v", err, p.before, held, p.badDate)
	}
}
