package verify

import (
	"strings"
	"testing"
)

// Repeated figures, sums of rows and running sums agree; a change to any single cell is reported
// with its file and row.
func TestTablesAgree(t *testing.T) {
	sound := map[string]string{
		standsTable:    "stand_id,infested_acres,gross_acres,canopy_acres,zone_acres,reach_km,reach_alone_km,exposure,treat_order,river_km\r\na,0.3,0.5,0.2,0.1,4,2,0.7,1,9\r\nb,0.04,0.04,0.02,0,1,1,0.1,2,3\r\n",
		orderTable:     "treat_order,stand_id,acres_to_treat,reach_km,reach_alone_km,exposure,acres_treated\r\n1,a,0.3,4,2,0.7,0.3\r\n2,b,0.01,0.5,0.5,0.05,0.31\r\n",
		"followup.csv": "stand_id,treat_order,river_km\r\nb,2,3\r\ngone,,7\r\n",
		"lineage.csv":  "stand_id,infested_acres\r\na,0.3\r\na,0.3\r\n",
		"notices.csv":  "stand_id,treat_order\r\na,1\r\n",
		unitsTable:     "stand_id,unit_id,gross_acres,infested_acres,canopy_acres,zone_acres\r\na,u,0.2,0.1,0.1,0.1\r\na,v,0.3,0.2,0.1,0\r\nb,v,0.04,0.04,0.02,0\r\n",
		workTable:      "date,product,registration_number,amount,amount_unit,treated_acres,hours\r\n2026-07-01,Wash,n1,1.5,L,0.2,3\r\n2026-07-31,wash ,n1,,L,,2\r\n2026-07-03,,,,,0.1,1\r\n",
		productsTable:  "month,product,registration_number,jobs,jobs_amount_unknown,amount,amount_unit,treated_acres,jobs_acres_unknown,hours\r\n2026-07,Wash,n1,2,1,1.5,L,0.2,1,5\r\n",
		waterTable: "part,place,period,acres,zone_acres,acres_within_5_m,bank_m,bank_ft,bank_mi,channel_m,channel_ft,channel_mi,both_banks_m,both_banks_ft,both_banks_mi,shore_m,shore_ft,shore_mi,jobs,jobs_acres_unknown,repeat_acres,product,registration_number,amount,amount_unit,jobs_amount_unknown\r\n" +
			"proposed,all,,0.31,0.2,0.1,150,492.1,0.0932,100,328.1,0.0621,30,98.4,0.0186,20,65.6,0.0124,,,,,,,,\r\n" +
			"proposed,at water,,0.3,0.2,0.1,150,492.1,0.0932,100,328.1,0.0621,30,98.4,0.0186,20,65.6,0.0124,,,,,,,,\r\n" +
			"proposed,off water,,0.01,0,0,0,0,0,0,0,0,0,0,0,0,0,0,,,,,,,,\r\n" +
			"done,all,2026,0.25,,,,,,,,,,,,,,,3,1,0.05,,,,,\r\n" +
			"done,at water,2026-07,0.25,,,,,,,,,,,,,,,3,1,0.05,,,,,\r\n" +
			"product,all,2026,,,,,,,,,,,,,,,,2,,,Wash,n1,1.5,L,1\r\n" +
			"product,at water,2026-07,,,,,,,,,,,,,,,,2,,,wash,n1,1.5,L,1\r\n",
	}
	told := func(name, text string) string {
		kept := map[string][]byte{}
		for n, s := range sound {
			kept[n] = []byte(s)
		}
		if name != "" {
			kept[name] = []byte(text)
		}
		var r Report
		r.tables(kept)
		var all []string
		for _, p := range r.Problems {
			all = append(all, p.File+": "+p.Text)
		}
		return strings.Join(all, "\n")
	}
	if got := told("", ""); got != "" {
		t.Fatalf("tables that agree: %s", got)
	}
	for _, c := range []struct{ name, from, to, want string }{
		{orderTable, "1,a,0.3,4", "3,a,0.3,4", `order.csv: row 1: treat_order is "3", and stands.csv says "1"`},
		{orderTable, "4,2,0.7", "5,2,0.7", `order.csv: row 1: reach_km is "5", and stands.csv says "4"`},
		{orderTable, "4,2,0.7", "4,1,0.7", "order.csv: row 1: reach_alone_km"},
		{orderTable, "4,2,0.7", "4,2,0.8", "order.csv: row 1: exposure"},
		{orderTable, "0.05,0.31", "0.05,0.41", "order.csv: row 2: acres_treated is 0.410000, and the rows so far add up to 0.310000"},
		{"followup.csv", "b,2,3", "b,5,3", "followup.csv: row 1: treat_order"},
		{"followup.csv", "b,2,3", "b,2,4", "followup.csv: row 1: river_km"},
		{"lineage.csv", "a,0.3\r\na,0.3", "a,0.3\r\na,0.4", "lineage.csv: row 2: infested_acres"},
		{"notices.csv", "a,1", "a,2", "notices.csv: row 1: treat_order"},
		{unitsTable, "u,0.2", "u,0.3", "stand_units.csv: gross_acres: the rows of stand a add up to 0.600000, and stands.csv says 0.5"},
		{unitsTable, "v,0.04,0.04,0.02,0", "v,0.04,0.04,0.02,1", "stand_units.csv: zone_acres: the rows of stand b add up to 1, and stands.csv says 0"},
		{unitsTable, "u,0.2,0.1", "u,0.2,x", "stand_units.csv: row 1: infested_acres"},
		{productsTable, "n1,2,1,", "n1,3,1,", "products_used.csv: row 1: jobs is 3, and the rows of work_done.csv add up to 2"},
		{productsTable, "n1,2,1,", "n1,2,0,", "row 1: jobs_amount_unknown is 0"},
		{productsTable, "1.5,L", "1.6,L", "row 1: amount is 1.6"},
		{productsTable, "L,0.2,1", "L,0.3,1", "row 1: treated_acres is 0.3"},
		{productsTable, "L,0.2,1", "L,0.2,2", "row 1: jobs_acres_unknown is 2"},
		{productsTable, "1,5", "1,6", "row 1: hours is 6"},
		{productsTable, "Wash", "Other", "products_used.csv: row 1: work_done.csv has no row of Other in 2026-07"},
		{waterTable, "off water,,0.01", "off water,,0.02", "water_work.csv: row 1: acres is 0.310000, and the rows of places add up to 0.320000"},
		{waterTable, "all,,0.31", "all,,0.41", "row 1: acres is 0.410000, and order.csv has 0.310000 to treat"},
		{waterTable, "at water,,0.3,0.2,0.1", "at water,,0.3,0.2,0.2", "row 1: acres_within_5_m is 0.100000, and the rows of places add up to 0.200000"},
		{waterTable, "at water,,0.3,0.2,0.1,150", "at water,,0.3,0.2,0.1,160", "row 2: bank_m is 160, and channel, both banks and shore add up to 150"},
		{waterTable, "30,98.4,0.0186", "30,98.6,0.0186", "row 1: both_banks is 30 m, 98.6 ft and 0.0186 miles"},
		{waterTable, "2026-07,0.25", "2026-07,0.35", "acres of 2026-07 are -0.100000 less than those of work_done.csv"},
		{waterTable, "3,1,0.05,,,,,\r\nproduct", "4,1,0.05,,,,,\r\nproduct", "jobs of 2026-07 are -1 less"},
		{waterTable, "wash,n1,1.5", "wash,n1,2.5", "amounts of 2026-07, wash, n1, l are -1 less than those of products_used.csv"},
		{waterTable, "done,all,2026,", "done,none,2026,", "there is no row of all places"},
		{workTable, "0.2,3", "0.2,4", "row 1: hours is 5, and the rows of work_done.csv add up to 6"},
	} {
		if !strings.Contains(sound[c.name], c.from) {
			t.Fatalf("%s holds no %q", c.name, c.from)
		}
		if got := told(c.name, strings.Replace(sound[c.name], c.from, c.to, 1)); !strings.Contains(got, c.want) {
			t.Errorf("%s, %q for %q: told %q, want %q", c.name, c.to, c.from, got, c.want)
		}
	}
}

// In every table places are on the earth, and percentages are from 0 to 100.
func TestPlacesAndSharesOfTables(t *testing.T) {
	for text, want := range map[string]string{
		"decimalLongitude,decimalLatitude,a_percent\r\n180,-90,100\r\n,,\r\n": "",
		"decimalLongitude\r\n1\r\n-180.5\r\n":                                 `row 2: decimalLongitude is "-180.5", and lies outside -180 to 180`,
		"look_again_latitude\r\n91\r\n":                                       "outside -90 to 90",
		"surveyed_percent\r\n151\r\n":                                         "outside 0 to 100",
		"surveyed_percent\r\nNaN\r\n":                                         "outside 0 to 100",
	} {
		var r Report
		r.bounded("f.csv", []byte(text))
		if len(r.Problems) != 0 && want == "" || want != "" && (len(r.Problems) != 1 || !strings.Contains(r.Problems[0].Text, want)) {
			t.Errorf("%q: %v, want %q", text, r.Problems, want)
		}
	}
}
