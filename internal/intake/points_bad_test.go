package intake

import (
	"testing"
)

const header = "occurrenceID,decimalLongitude,decimalLatitude,eventDate"

// TestBadPoints checks that each kind of bad row gives its finding. A good row beside each bad one
// must be kept. Expected results follow from the field table and the rules; derived by hand.
func TestBadPoints(t *testing.T) {
	for _, c := range []struct {
		name, columns, row string
		kept               int
		want               string
	}{
		{"good", "", "b,2,3,2026-07-02", 2, ""},
		{"swapped", "", "b,45,117,2026-07-02", 1, "b position-swapped"},
		{"latitude out of range", "", "b,170,95,2026-07-02", 1, "b position-out-of-range"},
		{"longitude out of range", "", "b,200,45,2026-07-02", 1, "b position-out-of-range"},
		{"projected", "", "b,500123.5,4649776.2,2026-07-02", 1, "b position-projected"},
		{"null island", "", "b,0,0,2026-07-02", 1, "b position-zero"},
		{"null island written long", "", "b,0.000000,-0.0,2026-07-02", 1, "b position-zero"},
		{"blank longitude", "", "b,,3,2026-07-02", 1, "b position-missing"},
		{"blank latitude", "", "b,2,NA,2026-07-02", 1, "b position-missing"},
		{"word for a position", "", "b,two,3,2026-07-02", 1, "b position-unreadable"},
		{"NaN position", "", "b,NaN,3,2026-07-02", 1, "b position-unreadable"},
		{"Inf position", "", "b,2,-inf,2026-07-02", 1, "b position-unreadable"},
		{"huge exponent", "", "b,2,1e999,2026-07-02", 1, "b position-unreadable"},
		{"hexadecimal", "", "b,0x10,3,2026-07-02", 1, "b position-unreadable"},
		{"blank id", "", ",2,3,2026-07-02", 2, "row 2 id-missing"},
		{"repeated id", "", "a,2,3,2026-07-02", 2, "a id-duplicate"},
		{"exact copy", "", "a,1,2,2026-07-01", 1, "a record-duplicate"},
		{"same sighting, other id", "", "b,1,2,2026-07-01", 2, "b sighting-repeated"},
		{"future date", "", "b,2,3,2026-10-01", 1, "b date-after-quarter"},
		{"last day of the quarter", "", "b,2,3,2026-09-30", 2, ""},
		{"earlier date", "", "b,2,3,2026-06-30", 1, "date-before-quarter"},
		{"year that holds the quarter", "", "b,2,3,2026", 2, ""},
		{"no date", "", "b,2,3,", 2, "b date-missing"},
		{"day-first date", "", "b,2,3,15/07/2026", 2, "b date-unreadable"},
		{"31 June", "", "b,2,3,2026-06-31", 2, "b date-unreadable"},
		{"spreadsheet day number", "", "b,2,3,46218", 2, "date-serial"},
		{"too few cells", "", "b,2,3", 1, "b row-ragged"},
		{"too many cells", "", "b,2,3,2026-07-02,x", 1, "b row-ragged"},
		{"too few cells, no id", "", ",2", 1, "row 2 row-ragged"},
		{"trailing separators", "", "b,2,3,2026-07-02,,", 2, ""},
		{"quoted row", "", `"b","2","3","2026-07-02"`, 2, ""},
		{"cover above 100", "canopy_cover_percent", "b,2,3,2026-07-02,110", 2, "b cover-out-of-range"},
		{"cover below 0", "canopy_cover_percent", "b,2,3,2026-07-02,-1", 2, "b cover-out-of-range"},
		{"cover with unit", "canopy_cover_percent", "b,2,3,2026-07-02,40%", 2, ""},
		{"cover NaN", "canopy_cover_percent", "b,2,3,2026-07-02,NaN", 2, "b number-not-finite"},
		{"cover 0 and 100 are good", "canopy_cover_percent", "b,2,3,2026-07-02,100", 2, ""},
		{"unknown cover class", "canopy_cover_class", "b,2,3,2026-07-02,7", 2, "b cover-class-unknown"},
		{"negative area", "patch_area_m2", "b,2,3,2026-07-02,-4", 2, "b patch-not-positive"},
		{"zero area", "patch_area_m2", "b,2,3,2026-07-02,0", 2, "b patch-not-positive"},
		{"infinite area", "patch_area_m2", "b,2,3,2026-07-02,Infinity", 2, "b number-not-finite"},
		{"huge area", "patch_area_m2", "b,2,3,2026-07-02,2e6", 2, "b patch-implausible"},
		{"length without width", "patch_length_m", "b,2,3,2026-07-02,4", 2, "b patch-incomplete"},
		{"negative diameter", "patch_diameter_m", "b,2,3,2026-07-02,-2", 2, "b patch-not-positive"},
		{"zero uncertainty", "coordinateUncertaintyInMeters", "b,2,3,2026-07-02,0", 2, "b uncertainty-not-positive"},
		{"negative uncertainty", "coordinateUncertaintyInMeters", "b,2,3,2026-07-02,-5", 2, "b uncertainty-not-positive"},
		{"negative height", "stem_height_m", "b,2,3,2026-07-02,-1", 2, "b height-not-positive"},
		{"thousands separator", "patch_area_m2", `b,2,3,2026-07-02,"1,200"`, 2, "b number-unreadable"},
		{"unknown occurrence", "occurrenceStatus", "b,2,3,2026-07-02,maybe", 1, "b occurrence-unknown"},
		{"absent", "occurrenceStatus", "b,2,3,2026-07-02,ABSENT", 2, ""},
		{"unknown status", "management_status", "b,2,3,2026-07-02,burnt", 2, "b status-unknown"},
		{"status in another case", "management_status", "b,2,3,2026-07-02,Standing Dead", 2, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			head, good := header, "a,1,2,2026-07-01"
			if c.columns != "" {
				head += "," + c.columns
				good += ","
			}
			records, findings, _ := readPoints(t, head+"\n"+good+"\n"+c.row+"\n", testOptions())
			if len(records) != c.kept || codes(findings) != c.want {
				t.Errorf("kept %d with %q, want %d with %q", len(records), codes(findings), c.kept, c.want)
			}
			for _, f := range findings {
				if f.Message == "" || f.Rule.Remedy == "" || f.File != "points" {
					t.Errorf("finding without message, remedy or file: %+v", f)
				}
			}
		})
	}
}

// TestGeoJSONPoints compares records and findings for each kind of feature; derived by hand.
func TestGeoJSONPoints(t *testing.T) {
	for _, c := range []struct {
		name, feature string
		kept          int
		want          string
	}{
		{"point", `{"type":"Feature","properties":{"occurrenceID":"b"},"geometry":{"type":"Point","coordinates":[2,3]}}`, 2, ""},
		{"members in another order", `{"geometry":{"coordinates":[2,3,99.5],"type":"Point"},"properties":{"occurrenceID":"b"},"type":"Feature"}`, 2, ""},
		{"id of the feature", `{"type":"Feature","id":17,"properties":null,"geometry":{"type":"Point","coordinates":[2,3]}}`, 2, ""},
		{"multipoint", `{"type":"Feature","properties":{"occurrenceID":"b"},"geometry":{"type":"MultiPoint","coordinates":[[2,3],[4,5]]}}`, 3, ""},
		{"polygon", `{"type":"Feature","properties":{"occurrenceID":"b"},"geometry":{"type":"Polygon","coordinates":[[[2,3],[2.001,3],[2.001,3.001],[2,3]]]}}`, 2, ""},
		{"open polygon", `{"type":"Feature","properties":{"occurrenceID":"b"},"geometry":{"type":"Polygon","coordinates":[[[2,3],[2.001,3],[2.001,3.001]]]}}`, 2, "b outline-closed"},
		{"multipolygon", `{"type":"Feature","properties":{"occurrenceID":"b"},"geometry":{"type":"MultiPolygon","coordinates":[[[[2,3],[2.001,3],[2.001,3.001],[2,3]]],[[[2.005,3],[2.006,3],[2.006,3.001],[2.005,3]]]]}}`, 2, ""},
		{"polygon of two places", `{"type":"Feature","properties":{"occurrenceID":"b"},"geometry":{"type":"Polygon","coordinates":[[[2,3],[3,3],[2,3]]]}}`, 1, "b geometry-malformed"},
		{"polygon out of range", `{"type":"Feature","properties":{"occurrenceID":"b"},"geometry":{"type":"Polygon","coordinates":[[[2,3],[3,3],[3,94],[2,3]]]}}`, 1, "b position-swapped"},
		{"line", `{"type":"Feature","properties":{"occurrenceID":"b"},"geometry":{"type":"LineString","coordinates":[[2,3],[4,5]]}}`, 1, "b geometry-kind"},
		{"collection", `{"type":"Feature","properties":{"occurrenceID":"b"},"geometry":{"type":"GeometryCollection","geometries":[{"type":"Point","coordinates":[2,3]}]}}`, 1, "b geometry-kind"},
		{"unknown kind", `{"type":"Feature","properties":{"occurrenceID":"b"},"geometry":{"type":"Circle","coordinates":[2,3]}}`, 1, "b geometry-malformed"},
		{"no geometry", `{"type":"Feature","properties":{"occurrenceID":"b"},"geometry":null}`, 1, "b geometry-empty"},
		{"no geometry, columns", `{"type":"Feature","properties":{"occurrenceID":"b","lat":"3","lon":2},"geometry":null}`, 2, ""},
		{"empty point", `{"type":"Feature","properties":{"occurrenceID":"b"},"geometry":{"type":"Point","coordinates":[]}}`, 1, "b geometry-empty"},
		{"one number", `{"type":"Feature","properties":{"occurrenceID":"b"},"geometry":{"type":"Point","coordinates":[2]}}`, 1, "b geometry-malformed"},
		{"null for a number", `{"type":"Feature","properties":{"occurrenceID":"b"},"geometry":{"type":"Point","coordinates":[2,null]}}`, 1, "b geometry-malformed"},
		{"text for a number", `{"type":"Feature","properties":{"occurrenceID":"b"},"geometry":{"type":"Point","coordinates":["2","3"]}}`, 1, "b geometry-malformed"},
		{"NaN", `{"type":"Feature","properties":{"occurrenceID":"b"},"geometry":{"type":"Point","coordinates":[NaN,3]}}`, 1, "b geometry-malformed"},
		{"Infinity", `{"type":"Feature","properties":{"occurrenceID":"b"},"geometry":{"type":"Point","coordinates":[2,-Infinity]}}`, 1, "b geometry-malformed"},
		{"number without end", `{"type":"Feature","properties":{"occurrenceID":"b"},"geometry":{"type":"Point","coordinates":[2,1e999]}}`, 1, "b geometry-malformed"},
		{"nested too deep", `{"type":"Feature","properties":{"occurrenceID":"b"},"geometry":{"type":"Point","coordinates":[[2,3]]}}`, 1, "b geometry-malformed"},
		{"nested far too deep", `{"type":"Feature","properties":{"occurrenceID":"b"},"geometry":{"type":"Point","coordinates":[[[[[[2,3]]]]]]}}`, 1, "b geometry-malformed"},
		{"swapped", `{"type":"Feature","properties":{"occurrenceID":"b"},"geometry":{"type":"Point","coordinates":[45,-117]}}`, 1, "b position-swapped"},
		{"no object", `"b"`, 1, "row 2 feature-unreadable"},
		{"no feature", `{"name":"b"}`, 1, "row 2 feature-unreadable"},
		{"bare geometry", `{"type":"Point","coordinates":[2,3]}`, 2, "row 2 id-missing"},
		{"repeated member", `{"type":"Feature","properties":{"occurrenceID":"c"},"properties":{"occurrenceID":"b"},"geometry":{"type":"Point","coordinates":[2,3]}}`, 2, ""},
		{"trailing comma", `{"type":"Feature","properties":{"occurrenceID":"b",},"geometry":{"type":"Point","coordinates":[2,3]},}`, 2, ""},
	} {
		const good = `{"type":"Feature","properties":{"occurrenceID":"a","eventDate":"2026-07-01"},"geometry":{"type":"Point","coordinates":[1,2]}}`
		for _, form := range []struct{ name, text string }{
			{"collection", `{"type":"FeatureCollection","features":[` + good + ",\n" + c.feature + "]}"},
			{"collection written last", `{"features":[` + good + "," + c.feature + ` ] , "type":"FeatureCollection"}`},
			{"lines", good + "\n" + c.feature + "\n"},
			{"sequence", "\x1e" + good + "\n\x1e" + c.feature + "\n"},
		} {
			t.Run(c.name+"/"+form.name, func(t *testing.T) {
				if c.name == "no object" && form.name != "collection" {
					return // a sequence has a text of its own for it: TestBrokenLines
				}
				o := testOptions()
				o.Quarter.Year = 0 // dates are not looked at here
				o.Quarter.Number = 0
				records, findings, _ := readPoints(t, form.text, o)
				var told []string
				for _, f := range findings {
					if f.Rule.Code != "date-missing" {
						told = append(told, f.Record+" "+f.Rule.Code)
					}
				}
				got := ""
				if len(told) > 0 {
					got = told[0]
				}
				if len(records) != c.kept || len(told) > 1 || got != c.want {
					t.Errorf("kept %d with %q, want %d with %q", len(records), told, c.kept, c.want)
				}
			})
		}
	}
}
