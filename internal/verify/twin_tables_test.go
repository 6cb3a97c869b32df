package verify

import (
	"strings"
	"testing"
)

// The figures of a table equal those of its layer, and the last rows of the history equal those of
// the summary; each difference is reported with its file, row and column.
func TestTablesSayWhatLayersSay(t *testing.T) {
	const (
		layer   = `{"type":"FeatureCollection","features":[{"properties":{"stand_id":"=a","acres":0.000079,"carried":false,"km":null}},{"properties":{"stand_id":"b","acres":2,"carried":true,"km":1.5,"list":["x"]}}]}`
		table   = "stand_id,acres,carried,km,list\r\n'=a,0.000079,false,,\r\nb,2,true,1.5,x\r\n"
		summary = "scope,quarter,infested_acres\r\ntotal,2026Q3,3\r\nwaterBody,2026Q3,3\r\n"
		history = "scope,quarter,infested_acres\r\ntotal,2026Q2,1\r\nwaterBody,2026Q2,1\r\ntotal,2026Q3,3\r\nwaterBody,2026Q3,3\r\n"
	)
	told := func(layer, table, history string) string {
		r := Report{Quarter: "2026Q3"}
		r.beside(map[string][]byte{standsFile: []byte(layer), "stands.csv": []byte(table), historyFile: []byte(history), summaryFile: []byte(summary)})
		var all []string
		for _, p := range r.Problems {
			all = append(all, p.File+": "+p.Text)
		}
		return strings.Join(all, "\n")
	}
	if got := told(layer, table, history); got != "" {
		t.Errorf("a sound folder: %s", got)
	}
	for want, got := range map[string]string{
		`stands.csv: row 1: acres is "0.00008", and stands.geojson says 0.000079`: told(layer, strings.Replace(table, "0.000079", "0.00008", 1), history),
		`stands.csv: row 2: carried is "false", and stands.geojson says true`:     told(layer, strings.Replace(table, "2,true", "2,false", 1), history),
		`stands.csv: row 2: km is "", and stands.geojson says 1.5`:                told(layer, strings.Replace(table, "1.5", "", 1), history),
		`stands.csv: row 1: km is "7", and stands.geojson says null`:              told(layer, strings.Replace(table, "false,,", "false,7,", 1), history),
		"stands.csv: has 1 rows, and stands.geojson has 2 features":               told(layer, strings.Replace(table, "b,2,true,1.5,x\r\n", "", 1), history),
		`history.csv: 2026Q3, row 1: infested_acres is "4", and summary.csv says "3"`: told(layer, table,
			strings.NewReplacer("total,2026Q3,3", "total,2026Q3,4", "waterBody,2026Q3,3", "waterBody,2026Q3,4").Replace(history)),
		"history.csv: 2026Q2: infested_acres: the rows of waterBody add up to 1, and the total says 2": told(layer, table, strings.Replace(history, "total,2026Q2,1", "total,2026Q2,2", 1)),
		"history.csv: has 1 rows of 2026Q3, and summary.csv has 2":                                     told(layer, table, strings.Replace(history, "waterBody,2026Q3,3\r\n", "", 1)),
		"history.csv: has no column quarter":                                                           told(layer, table, strings.Replace(history, "quarter", "when", 1)),
	} {
		if !strings.Contains(got, want) {
			t.Errorf("told %q, want %q", got, want)
		}
	}
}
