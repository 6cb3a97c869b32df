package intake

import (
	"path/filepath"
	"slices"
	"testing"

	"driftreach/internal/column"
	"driftreach/internal/testkit"
)

// TestProposedWords: a proposed column is listed with its words, so that one check is enough.
func TestProposedWords(t *testing.T) {
	_, _, p := readPoints(t, "id,lon,lat,Date,Presence,Status\n1,-117.20001,34.10001,7/13/2026,Yes,Sprayed\n2,-117.20002,34.10001,7/3/2026,No,Live\n", testOptions())
	want := []column.Proposal{{Field: "occurrenceID", Column: "id"}, {Field: "eventDate", Column: "Date", Unit: "month first"}, {Field: "occurrenceStatus", Column: "Presence"}, {Field: "management_status", Column: "Status"}}
	if !slices.Equal(p.Proposals, want) {
		t.Errorf("proposals %+v", p.Proposals)
	}
	words := []column.WordCount{{Field: "management_status", Word: "Sprayed"}, {Field: "management_status", Word: "Live"}}
	if !slices.Equal(p.ProposedWords, words) {
		t.Errorf("words %+v", p.ProposedWords)
	}
}

// TestDateOrderAsked: with the proposed order the dates are read; 7/3 and 7/4 alone give no
// proposal.
func TestDateOrderAsked(t *testing.T) {
	o := testOptions()
	o.Mapping.Units = map[string]string{"eventDate": "Month First"}
	records, findings, _ := readPoints(t, "occurrenceID,lon,lat,eventDate\n1,-117.20001,34.10001,7/13/2026\n2,-117.20002,34.10001,13/7/2026\n", o)
	if len(records) != 2 || records[0].Begin.String() != "2026-07-13" || codes(findings) != "2 date-unreadable" {
		t.Errorf("%+v, %s", records, codes(findings))
	}
	_, _, p := readPoints(t, "occurrenceID,lon,lat,Date\n1,-117.20001,34.10001,7/3/2026\n2,-117.20002,34.10001,7/4/2026\n", testOptions())
	if len(p.Proposals) != 0 {
		t.Errorf("proposals %+v", p.Proposals)
	}
	if _, err := UnitFactor("eventDate", "ft"); err == nil {
		t.Error("ft is taken for an order of dates")
	}
}

// TestDatesByContent: the only column with days is proposed as the date, whatever its name; of two
// such columns neither is, nor is a column with the date of the row itself.
func TestDatesByContent(t *testing.T) {
	head, rest := "occurrenceID,lon,lat,", "-117.20001,34.10001,"
	for _, c := range []struct {
		columns, first, second string
		want                   []column.Proposal
	}{
		{"when", "2026-07-13", "2026-08-01", []column.Proposal{{Field: "eventDate", Column: "when"}}},
		{"gesehen", "13.07.2026", "1.8.2026", []column.Proposal{{Field: "eventDate", Column: "gesehen"}}},
		{"trip", "7/13/2026", "8/1/2026", []column.Proposal{{Field: "eventDate", Column: "trip", Unit: "month first"}}},
		{"trip", "13/7/2026 9:05", "1/8/2026 17:20", []column.Proposal{{Field: "eventDate", Column: "trip", Unit: "day first"}}},
		{"trip", "7/3/2026", "8/1/2026", nil}, // either order
		{"trip", "46216", "46235", nil},       // day numbers, or any number
		{"year", "2026", "2025", nil},         // not days
		{"month", "2026-07", "2026-08", nil},  // not days
		{"trip,back", "2026-07-13,2026-09-01", "2026-07-14,2026-09-02", nil},
		{"trip,due", "2026-07-13,2026-09-01", "2026-07-14,2026-09-02", []column.Proposal{{Field: "eventDate", Column: "trip"}}},
		{"Date,due", "2026-07-13,2026-09-01", "2026-07-14,2026-09-02", []column.Proposal{{Field: "eventDate", Column: "Date"}}},
		{"eventDate,due", "2026-07-13,2026-09-01", "2026-07-14,2026-09-02", nil},
		{"last_edited", "2026-07-13", "2026-08-01", nil},
		{"last_edited,when", "2026-07-13,2026-07-01", "2026-08-01,2026-07-02", []column.Proposal{{Field: "eventDate", Column: "when"}}},
	} {
		_, _, p := readPoints(t, head+c.columns+"\n1,"+rest+c.first+"\n2,"+rest+c.second+"\n", testOptions())
		if !slices.Equal(p.Proposals, c.want) {
			t.Errorf("%s of %s: proposals %+v, want %+v", c.columns, c.first, p.Proposals, c.want)
		}
	}
}

// TestStatusOfRejected: the words in a record that is rejected for another word are counted too, so
// that both can be mapped at once.
func TestStatusOfRejected(t *testing.T) {
	_, _, p := readPoints(t, "occurrenceID,lon,lat,eventDate,occurrenceStatus,management_status\n1,-117.20001,34.10001,2026-07-01,Perhaps,Sprayed\n", testOptions())
	want := []column.WordCount{{Field: "occurrenceStatus", Word: "Perhaps", Count: 1}, {Field: "management_status", Word: "Sprayed", Count: 1}}
	if !slices.Equal(p.Words, want) {
		t.Errorf("words %+v", p.Words)
	}
}

// TestProposedCutNames: our own names shortened to a Shapefile's ten letters are distinguished by
// the columns' content. GDAL writes the file.
func TestProposedCutNames(t *testing.T) {
	testkit.NeedGDAL(t)
	dir := t.TempDir()
	from := write(t, filepath.Join(dir, "p.geojson"), []byte(`{"type":"FeatureCollection","features":[
{"type":"Feature","properties":{"occurrenceID":"a","eventDate":"2026-07-01","occurrenceStatus":"detected","canopy_cover_percent":40.5,"occurrenceRemarks":"by the ford"},"geometry":{"type":"Point","coordinates":[-117.20001,34.10001]}},
{"type":"Feature","properties":{"occurrenceID":"b","eventDate":"2026-07-01","occurrenceStatus":"notDetected","canopy_cover_percent":10.5,"occurrenceRemarks":"by the ford"},"geometry":{"type":"Point","coordinates":[-117.20002,34.10001]}}]}`))
	to := filepath.Join(dir, "p.shp")
	testkit.Translate(t, to, from, "-f", "ESRI Shapefile")
	p, _, err := ReadPoints(onDisk(to, ""), testOptions())
	if err != nil {
		t.Fatal(err)
	}
	want := []column.Proposal{{Field: "occurrenceID", Column: "occurrence"}, {Field: "occurrenceStatus", Column: "occurren_1"}, {Field: "canopy_cover_percent", Column: "canopy_cov"}, {Field: "occurrenceRemarks", Column: "occurren_2"}}
	slices.SortFunc(p.Proposals, func(a, b column.Proposal) int {
		return slices.IndexFunc(want, func(w column.Proposal) bool { return w == a }) - slices.IndexFunc(want, func(w column.Proposal) bool { return w == b })
	})
	if !slices.Equal(p.Proposals, want) {
		t.Errorf("proposals %+v", p.Proposals)
	}
}
