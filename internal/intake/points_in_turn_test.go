package intake

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"driftreach/internal/survey"
	"driftreach/internal/testkit"
)

// feature is a feature of GeoJSON: a point or an outline, with properties.
func feature(drawn bool, i int, properties string) string {
	at := fmt.Sprintf("[-117.%d,34.1]", 20000+i)
	geometry := `{"type":"Point","coordinates":` + at + `}`
	if drawn {
		geometry = fmt.Sprintf(`{"type":"Polygon","coordinates":[[%s,[-117.%d,34.2],[-117.3,34.2],%[1]s]]}`, at, 20000+i)
	}
	return fmt.Sprintf(`{"type":"Feature","properties":{%s},"geometry":%s}`, properties, geometry)
}

// longTexts returns files of more than two blocks of records, by name, each wrong in its way.
func longTexts() map[string]string {
	const n = 2500 // more than two blocks
	table := func(head string, row func(i int) string) string {
		var b strings.Builder
		b.WriteString(head + "\n")
		for i := range n {
			b.WriteString(row(i) + "\n")
		}
		return b.String()
	}
	drawn := func(properties func(i int) string, drawn func(i int) bool) string {
		all := make([]string, n)
		for i := range all {
			all[i] = feature(drawn(i), i, properties(i))
		}
		return `{"type":"FeatureCollection","features":[` + strings.Join(all, ",") + `]}`
	}
	of := func(i int, words ...string) string { return words[i%len(words)] }
	every := func(int) bool { return true }
	return map[string]string{
		"days.csv": table("decimalLongitude,decimalLatitude,eventDate", func(i int) string {
			return fmt.Sprintf("-117.%d,%s,%s", 20000+i, of(i, "34.1", "34.2", "x"), of(i, "", "2026-07-01", "2026-07-02", "soon"))
		}),
		"few.csv": table("occurrenceID,decimalLongitude,decimalLatitude,eventDate", func(i int) string {
			return fmt.Sprintf("a%d,-117.%d,34.1,%s", i, 20000+i, of(i/50, "2026-07-01", "2026-07-01", "2026-07-01", ""))
		}),
		"no.csv":   table("occurrenceID,decimalLongitude,decimalLatitude,height", func(i int) string { return fmt.Sprintf("a%d,-117.%d,34.1,%d", i, 20000+i, i) }),
		"none.csv": "occurrenceID,decimalLongitude,decimalLatitude,height\n",
		"found.csv": table("occurrenceID,decimalLongitude,decimalLatitude,Plant found,area,height_ft", func(i int) string {
			return fmt.Sprintf("a%d,-117.%d,34.1,%s,30,%d", i, 20000+i, of(i, "yes", "no", "no"), i)
		}),
		"late.geojson": drawn(func(i int) string {
			if i < 2000 {
				return `"occurrenceID":"a"`
			}
			return `"occurrenceID":"a","eventDate":"2026-07-01"`
		}, func(int) bool { return false }),
		"drawn.geojson":  drawn(func(i int) string { return fmt.Sprintf(`"area":%d,"zeal":"%s"`, i, of(i, "a", "b")) }, every),
		"one.geojson":    drawn(func(i int) string { return fmt.Sprintf(`"area":%d`, i) }, func(i int) bool { return i != 1500 }),
		"absent.geojson": drawn(func(i int) string { return fmt.Sprintf(`"area":%d,"found":"%s"`, i, of(i, "yes", "no")) }, func(i int) bool { return i%2 == 0 }),
		"bare.geojson":   drawn(func(i int) string { return fmt.Sprintf(`"area":%d,"found":"%s"`, i, of(i, "no", "yes")) }, func(i int) bool { return i%2 == 0 }),
		"ours.geojson": drawn(func(i int) string {
			return fmt.Sprintf(`"area":%d,"occurrenceStatus":"%s"`, i, of(i, "detected", "notDetected"))
		}, func(i int) bool { return i%2 == 0 }),
		"blank.geojson": drawn(func(i int) string {
			if i < 2 {
				return fmt.Sprintf(`"area":%d,"found":"%s"`, i, of(i, "yes", "no"))
			}
			return fmt.Sprintf(`"area":%d`, i)
		}, every),
	}
}

// TestFindingsInTurn: whatever is found of a file is found of it in turn, and what is told of the file is
// the same: dates that lack, in some records, in all and in a column that comes late; rows that are
// rejected; patches that are drawn, where that is known only with the words of a whole column.
func TestFindingsInTurn(t *testing.T) {
	for name, text := range longTexts() {
		o := testOptions()
		o.Limits.FindingsAlike = 100
		want, findings, failed := ReadPoints(testkit.Source(name, strings.NewReader(text)), o)
		read := 0
		got, told, err := ReadPointsInTurn(testkit.Source(name, strings.NewReader(text)), o, func(block []survey.Record) error { read += len(block); return nil })
		if failed != nil || err != nil {
			if failed == nil || err == nil {
				t.Errorf("%s: %v, at once %v", name, err, failed)
			}
			continue
		}
		if read != len(want.Records) {
			t.Errorf("%s: %d records, at once %d", name, read, len(want.Records))
		}
		if diff := cmp.Diff(findings, told); diff != "" {
			t.Errorf("%s (-at once +in turn)\n%s", name, diff)
		}
		if diff := cmp.Diff(want.File, got.File); diff != "" {
			t.Errorf("%s, of the file (-at once +in turn)\n%s", name, diff)
		}
		if diff := cmp.Diff(want.Extra, ColumnsInTurn([]PointsInTurn{got}), cmpopts.EquateEmpty()); diff != "" {
			t.Errorf("%s, carried columns (-at once +in turn)\n%s", name, diff)
		}
		o.Quiet = true
		if _, told, err = ReadPointsInTurn(testkit.Source(name, strings.NewReader(text)), o, func([]survey.Record) error { return nil }); err != nil || len(told) > 0 {
			t.Errorf("%s, quiet: %v, %v", name, told, err)
		}
		if len(findings) == 0 {
			t.Errorf("%s: nothing was found", name)
		}
	}
}
