package intake

import (
	"fmt"
	"strings"
	"testing"

	"driftreach/internal/column"
	"driftreach/internal/correction"
	"driftreach/internal/testkit"
)

// TestCorrectionFields reads every field once, in a table and in GeoJSON without
// geometry; values by hand.
func TestCorrectionFields(t *testing.T) {
	if f := fmt.Sprint(column.FieldNames(correctionFields)); f != "[correction_id date correction occurrenceID stand_id other_stand_id reason]" {
		t.Error("fields", f)
	}
	for name, text := range map[string]string{
		"table":   "date,correction,occurrenceID,stand_id,other_stand_id,reason\n2026-08-10,look-alike,a4,,,a grass\n2026-08-11,same as,,2026Q2-0001,2026Q1-0004,\n",
		"geojson": `{"type":"FeatureCollection","features":[{"type":"Feature","geometry":null,"properties":{"date":"2026-08-10","correction":"look-alike","occurrenceID":"a4","reason":"a grass"}},{"type":"Feature","geometry":null,"properties":{"date":"2026-08-11","correction":"same as","stand_id":"2026Q2-0001","other_stand_id":"2026Q1-0004"}}]}`,
	} {
		file, findings, err := ReadCorrections(testkit.Source("c", strings.NewReader(text)), testOptions())
		if err != nil || len(findings) > 0 || len(file.Rows) != 2 {
			t.Fatalf("%s: %d rows, %v, %v", name, len(file.Rows), findings, err)
		}
		a, b := file.Rows[0], file.Rows[1]
		if a.Kind != correction.Misidentified || a.RecordID != "a4" || a.Reason != "a grass" || a.Date.Format("2006-01-02") != "2026-08-10" || a.Row != 1 {
			t.Errorf("%s: first row %+v", name, a)
		}
		if b.Kind != correction.SameStand || b.StandID != "2026Q2-0001" || b.OtherID != "2026Q1-0004" {
			t.Errorf("%s: second row %+v", name, b)
		}
	}
}

// TestCorrectionsProposed: column names of other lists are recognised, a user's words are mapped,
// and a table without corrections is refused.
func TestCorrectionsProposed(t *testing.T) {
	const text = "Reviewed,Verdict,Record ID,Stand,Same as,Why\n2026-08-10,hedge,a4,,,x\n2026-08-11,hedge,a5,,,y\n"
	o := testOptions()
	o.Trial = true
	file, _, err := ReadCorrections(testkit.Source("c.csv", strings.NewReader(text)), o)
	if err != nil {
		t.Fatal(err)
	}
	if got := fmt.Sprint(file.Proposals); got != "[{date Reviewed } {correction Verdict } {occurrenceID Record ID } {stand_id Stand } {other_stand_id Same as } {reason Why }]" {
		t.Error("proposed", got)
	}
	if len(file.Stops) != 1 || !strings.Contains(file.Stops[0].Error(), "no column that says what is corrected") {
		t.Error("stops", file.Stops)
	}
	o = testOptions()
	o.Mapping.Columns = map[string]column.Names{"date": {"Reviewed"}, "correction": {"Verdict"}, "occurrenceID": {"Record ID"}}
	o.Mapping.Values = map[string]map[string]string{"correction": {"Hedge": "misidentified"}}
	file, _, err = ReadCorrections(testkit.Source("c.csv", strings.NewReader(text)), o)
	if err != nil || len(file.Rows) != 2 || file.Rows[1].Kind != correction.Misidentified || file.Rows[1].RecordID != "a5" {
		t.Errorf("mapped: %+v, %v", file.Rows, err)
	}
	if _, _, err := ReadCorrections(testkit.Source("c.csv", strings.NewReader("date,correction\n2026-08-10,misidentified\n")), testOptions()); err == nil {
		t.Error("a table that names nothing is read")
	}
}
