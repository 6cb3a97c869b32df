package verify

import (
	"context"
	"crypto/sha256"
	"fmt"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"driftreach/internal/mapfile"
)

// toldOf joins what a report says.
func toldOf(r *Report) string {
	var all []string
	for _, p := range r.Problems {
		all = append(all, p.File+": "+p.Text)
	}
	return strings.Join(all, "\n")
}

// TestAnswersOfAChainAgree: in the answers of a chain the rows by group add up to the row for all,
// shares follow from the numbers beside them, and new stands are as many as listed and as the manifest
// counts. Each cell that is changed is told; figures by hand.
func TestAnswersOfAChainAgree(t *testing.T) {
	sound := map[string]string{
		// of 2 acres 0.5 are left after the work, and 1 at last: 75 and 50 in a hundred are gone
		effectTable: "grouped_by,group,work_days,before_acres,after_acres,last_acres,control,control_held,watched\r\n" +
			"all,,5,2,0.5,1,0.75,0.5,4\r\nmethod,cut,3,1.5,0.3,0.6,0.8,0.6,3\r\nmethod,spray,2,0.5,0.2,0.4,0.6,0.2,1\r\nyear,2026,5,2,0.5,1,0.75,0.5,4\r\n",
		"growth.csv":   "grouped_by,group,stands,stand_years\r\nall,,3,1.25\r\nstatus,live,2,1\r\nstatus,treated,1,0.25\r\n",
		newStandsTable: "stand_id,counts_as\r\na,hit\r\nb,miss\r\nc,hit\r\nd,hit\r\ne,not looked at\r\n",
		cameTrueTable: "exposure_class,looked_at_km,ground_share,new_stands,new_share\r\n" +
			"high,1.5,0.15,2,0.5\r\nlow,0.5,0.05,1,0.25\r\nat risk,2,0.2,3,0.75\r\nnot at risk,8,0.8,1,0.25\r\n",
	}
	manifest := &mapfile.Manifest{Counts: map[string]int{"new_stands": 5, "new_stands_counted": 4}}
	told := func(name, from, to string, m *mapfile.Manifest) string {
		kept := map[string][]byte{}
		for n, s := range sound {
			kept[n] = []byte(s)
		}
		if name != "" {
			if !strings.Contains(sound[name], from) {
				t.Fatalf("%s holds no %q", name, from)
			}
			kept[name] = []byte(strings.Replace(sound[name], from, to, 1))
		}
		var r Report
		r.learned(kept, m)
		return toldOf(&r)
	}
	if got := told("", "", "", manifest); got != "" {
		t.Fatalf("answers that agree: %s", got)
	}
	for _, c := range []struct{ name, from, to, want string }{
		{effectTable, "cut,3,", "cut,4,", "treatment_effect.csv: work_days: the rows by method add up to 6, and that for all says 5"},
		{effectTable, "2026,5,2,", "2026,5,3,", "treatment_effect.csv: before_acres: the rows by year add up to 3, and that for all says 2"},
		{effectTable, "2,0.5,0.2,", "2,0.5,0.5,", "after_acres: the rows by method add up to 0.800000"},
		{effectTable, "0.6,0.8,", "0.8,0.8,", "last_acres: the rows by method add up to 1.200000, and that for all says 1"},
		{effectTable, "0.2,1\r\nyear", "0.2,2\r\nyear", "watched: the rows by method add up to 5"},
		{effectTable, ",0.8,0.6,3", ",0.9,0.6,3", "treatment_effect.csv: row 2: control is 0.900000, but from after_acres and before_acres it is 0.800000"},
		{effectTable, ",0.8,0.6,3", ",0.8,0.9,3", "row 2: control_held is 0.900000, but from last_acres and before_acres it is 0.600000"},
		{"growth.csv", "live,2,", "live,1,", "growth.csv: stands: the rows by status add up to 2, and that for all says 3"},
		{"growth.csv", "1,0.25", "1,0.45", "growth.csv: stand_years: the rows by status add up to 1.450000, and that for all says 1.250000"},
		{newStandsTable, "e,not looked at\r\n", "", "new_stands.csv: has 4 rows, and manifest.json counts 5 new stands"},
		{newStandsTable, "b,miss", "b,not looked at", "risk_came_true.csv: new_stands is 4 in all, and new_stands.csv has 3 hits and misses"},
		{newStandsTable, "a,hit", "a,not looked at", "new_stands.csv has 3 hits and misses"},
		{cameTrueTable, "high,1.5", "high,1.9", "risk_came_true.csv: looked_at_km: the classes at risk add up to 2.400000, and the row for all of them says 2"},
		{cameTrueTable, "0.5,0.05", "0.5,0.55", "ground_share: the classes at risk add up to 0.700000, and the row for all of them says 0.200000"},
		{cameTrueTable, "0.05,1,0.25", "0.05,2,0.5", "new_stands: the classes at risk add up to 4, and the row for all of them says 3"},
		{cameTrueTable, "8,0.8,1", "8,0.8,2", "new_stands is 5 in all, and manifest.json counts 4"},
		{cameTrueTable, "2,0.5\r\n", "2,0.6\r\n", "row 1: new_share is 0.600000, but from new_stands it is 0.500000"},
	} {
		if got := told(c.name, c.from, c.to, manifest); !strings.Contains(got, c.want) {
			t.Errorf("%s, %q for %q: told %q, want %q", c.name, c.to, c.from, got, c.want)
		}
	}
	// rounded parts may add up to half of a last digit for each of them and for the sum more or less
	if got := told("growth.csv", "1,0.25", "1,0.26", manifest); got != "" {
		t.Errorf("a sum within its rounding: %s", got)
	}
	if got := told("growth.csv", "1,0.25", "1,0.27", manifest); got == "" {
		t.Error("a sum beyond its rounding")
	}
	if got := told("", "", "", &mapfile.Manifest{Counts: map[string]int{"new_stands": 5, "new_stands_counted": 3}}); !strings.Contains(got, "new_stands is 4 in all, and manifest.json counts 3") {
		t.Errorf("another count: %q", got)
	}
	if got := told(cameTrueTable, "at risk,2", "somewhere,2", manifest); got != "" { // nothing to hold it to
		t.Errorf("without the row of all at risk: %q", got)
	}
	if got := told(effectTable, ",2,0.5,1,0.75,0.5,4\r\nm", ",2,0.5,1,,,4\r\nm", manifest); got != "" { // too few to tell
		t.Errorf("without shares: %q", got)
	}
}

// TestSeriesAgainstTheBatches: a series is held against the summaries of the batches that it was made
// from, where these are beside it. A unit is known by its id, as its name may change, a stream by its
// name.
func TestSeriesAgainstTheBatches(t *testing.T) {
	series := "scope,name,unit_id,quarter,live_acres,infested_acres,note\r\ntotal,,,2026Q1,1.5,2,a\r\nwaterBody,Long,,2026Q1,1,1.5,a\r\nunit,East,e,2026Q1,0.5,0.5,a\r\ntotal,,,2026Q2,9,9,a\r\n"
	summary := "scope,name,unit_id,quarter,live_acres,infested_acres,note\r\ntotal,,,2026Q1,1.50,2,b\r\nwaterBody,Long,,2026Q1,1,1.5,b\r\nunit,East of old,e,2026Q1,0.5,,b\r\noutsideUnits,,,2026Q1,7,7,b\r\n"
	told := func(summary, listed string) (string, Report) {
		beside := fstest.MapFS{"q1/summary.csv": {Data: []byte(summary)}, "q1/manifest.json": {Data: []byte("{}")}}
		m := &mapfile.Manifest{Inputs: []mapfile.File{
			{Name: "q1/manifest.json", Role: mapfile.BatchRole, SHA256: fmt.Sprintf("%x", sha256.Sum256([]byte("{}")))},
			{Name: "q1/summary.csv", Role: mapfile.BatchRole, SHA256: fmt.Sprintf("%x", sha256.Sum256([]byte(listed)))},
			{Name: "q2/manifest.json", Role: mapfile.BatchRole, SHA256: "x"}, {Name: "../q3/manifest.json", Role: mapfile.BatchRole, SHA256: "x"},
			{Name: "q1/manifest.json", Role: "points", SHA256: "x"},
		}}
		var r Report
		r.chained(context.Background(), beside, map[string][]byte{seriesTable: []byte(series)}, m)
		return toldOf(&r), r
	}
	got, r := told(summary, summary)
	if got != "" || r.Batches != 3 || r.Found != 1 {
		t.Errorf("%d of %d batches: %q", r.Found, r.Batches, got)
	}
	for change, want := range map[[2]string]string{
		{"2026Q1,1.50,", "2026Q1,1.6,"}:                                                  "series.csv: row 1: live_acres is 1.500000, and q1/summary.csv says 1.600000",
		{"2026Q1,1,1.5", "2026Q1,1,1.4"}:                                                 "series.csv: row 2: infested_acres is 1.500000, and q1/summary.csv says 1.400000",
		{"2026Q1,0.5,,b", "2026Q1,0.25,,b"}:                                              "series.csv: row 3: live_acres is 0.500000, and q1/summary.csv says 0.250000",
		{"waterBody,Long,", "waterBody,Short,"}:                                          "",
		{"scope,name,unit_id,quarter,live_acres", "scope,name,unit_id,quarter,new_kind"}: "",
	} {
		text := strings.Replace(summary, change[0], change[1], 1)
		if got, _ := told(text, text); got != want || text == summary {
			t.Errorf("%q: %q, want %q", change[1], got, want)
		}
	}
	got, r = told(summary+" ", summary)
	if got != ": q1/summary.csv is not the file that this was made from: the batch was run again, or is another one" || r.Found != 1 {
		t.Errorf("%q", got)
	}
	var alone Report
	alone.chained(context.Background(), nil, nil, &mapfile.Manifest{Inputs: []mapfile.File{{Name: "q1/manifest.json", Role: mapfile.BatchRole}}})
	if alone.Batches != 1 || alone.Found != 0 || len(alone.Problems) != 0 {
		t.Errorf("%+v", alone)
	}
}

// TestTrendOfMeasuresAndMethods: values count from the first quarter of the trend on, and only of
// quarters with a survey. A seasonal trend compares like seasons, so that its S is of pairs within a
// season: 1, 5, 2, 7 and 3 acres from 2025Q1 on have one such pair, that of the first quarters, which
// rises. Reach has no series on the same ground: its quarters count where the whole was looked at.
func TestTrendOfMeasuresAndMethods(t *testing.T) {
	series := "scope,name,unit_id,quarter,looked,live_acres,reach_at_risk_km,same_ground_live_acres\n" +
		"total,,,2024Q4,true,9,9,9\ntotal,,,2025Q1,true,1,2,1\ntotal,,,2025Q2,true,5,4,5\ntotal,,,2025Q3,true,2,3,2\ntotal,,,2025Q4,true,7,8,7\ntotal,,,2026Q1,true,3,1,3\n" +
		"waterBody,Long,,2025Q1,false,1,2,1\nwaterBody,Long,,2025Q2,false,1,5,1\nwaterBody,Long,,2025Q3,false,1,,1\n"
	const head = "scope,name,unit_id,measure,quarters,first_quarter,last_quarter,first_value,last_value,first_mapped,last_mapped,method,slope,s\n"
	for row, want := range map[string]string{
		"total,,,live_acres,5,2025Q1,2026Q1,1,3,1,3,Seasonal Kendall,2,1":  "",
		"total,,,live_acres,5,2025Q1,2026Q1,1,3,1,3,Seasonal Kendall,3,1":  "slope is 3",
		"total,,,live_acres,5,2025Q1,2026Q1,1,3,1,3,Seasonal Kendall,2,2":  "give 1",
		"total,,,live_acres,6,2024Q4,2026Q1,9,3,9,3,,,":                    "",
		"total,,,reach_at_risk_km,5,2025Q1,2026Q1,2,1,2,1,,,":              "",
		"total,,,reach_at_risk_km,5,2025Q1,2026Q1,2,3,2,1,,,":              "last_value",
		"waterBody,Long,,reach_at_risk_km,2,2025Q1,2025Q2,2,5,2,5,,,":      "",
		"waterBody,Long,,live_acres,0,,,,,,,,,":                            "",
		"waterBody,Long,,live_acres,1,,,,,,,,,":                            "has 0 values of same_ground_live_acres",
		"total,,,live_acres,1,2026Q1,2026Q1,3,3,3,3,Mann-Kendall,17,17":    "", // of one value there is no slope
		"total,,,live_acres,2,2025Q4,2026Q1,7,3,7,3,Mann-Kendall,-16,-1":   "",
		"total,,,live_acres,2,2025Q4,2026Q1,7,3,7,3,Mann-Kendall,-15.9,-1": "row 1: slope is -15.9",
		"total,,,live_acres,2,2025Q4,2026Q1,7,3,7,3,,-15.9,":               "row 1: slope is -15.9",
	} {
		var r Report
		r.trended(map[string][]byte{trendTable: []byte(head + row + "\n"), seriesTable: []byte(series)})
		told := toldOf(&r)
		told = strings.Join(slices.DeleteFunc(strings.Split(told, "\n"), func(s string) bool { return strings.HasPrefix(s, "series.csv: ") }), "\n")
		if (told == "") != (want == "") || !strings.Contains(told, want) {
			t.Errorf("%s: %q, want %q", row, told, want)
		}
	}
	var r Report
	r.trended(map[string][]byte{trendTable: []byte(head)})
	r.trended(map[string][]byte{seriesTable: []byte("scope,quarter,live_acres\ntotal,2026Q1,2\nwaterBody,2026Q1,1\n")})
	if got := toldOf(&r); got != "series.csv: 2026Q1: live_acres: the rows of waterBody add up to 1, and the total says 2" {
		t.Errorf("%q", got)
	}
}
