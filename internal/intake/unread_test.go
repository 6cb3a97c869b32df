package intake

import (
	"strings"
	"testing"

	"driftreach/internal/check"
	"driftreach/internal/column"
	"driftreach/internal/testkit"
)

// TestColumnsThatWereNotRead: a column that looks like a measure or a status and that
// nobody mapped is reported once; not one that is mapped, named as something else, cut
// short, or beside patches that are drawn.
func TestColumnsThatWereNotRead(t *testing.T) {
	const finds = "occurrenceID,eventDate,decimalLongitude,decimalLatitude,Acres,Condition,Colour\na,2026-07-01,1.00001,2.00001,1.5,live,red\nb,2026-07-02,1.00002,2.00002,2,dead,blue\nc,2026-07-02,1.00003,2.00003,2,dead,green\n"
	drawn := `{"type":"Feature","properties":{"occurrenceID":"a","eventDate":"2026-07-01","Shape_Area":5.5,"Cover":40},"geometry":{"type":"Polygon","coordinates":[[[1,2],[1.001,2],[1.001,2.001],[1,2]]]}}`
	streams := `{"type":"Feature","properties":{"stream_id":"a","BFW_ft":30},"geometry":{"type":"LineString","coordinates":[[1,2],[1.001,2]]}}`
	for _, c := range []struct {
		name, text string
		columns    map[string]column.Names
		streams    bool
		field      string
	}{
		{"nobody asked", finds, nil, false, `management_status = "Condition"; patch_area_m2 = "Acres"`},
		{"one is mapped", finds, map[string]column.Names{"patch_area_m2": {"Acres"}}, false, `management_status = "Condition"`},
		{"one is something else", finds, map[string]column.Names{"management_status": {""}}, false, `patch_area_m2 = "Acres"`},
		{"patches are drawn", drawn, nil, false, `canopy_cover_percent = "Cover"`},
		{"streams", streams, nil, true, `bankfull_width_m = "BFW_ft"`},
		{"ours alone", strings.NewReplacer("Acres", "patch_area_m2", "Condition", "management_status").Replace(finds), nil, false, ""},
	} {
		o := testOptions()
		o.Mapping.Columns = c.columns
		var told []check.Finding
		var err error
		if c.streams {
			_, told, err = ReadStreams(testkit.Source("f", strings.NewReader(c.text)), o)
		} else {
			_, told, err = ReadPoints(testkit.Source("f", strings.NewReader(c.text)), o)
		}
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		var fields []string
		for _, f := range told {
			if f.Rule.Code == "column-not-read" {
				fields = append(fields, f.Field)
			}
		}
		if got := strings.Join(fields, " and "); got != c.field {
			t.Errorf("%s: %q was told of, want %q", c.name, got, c.field)
		}
	}
}
