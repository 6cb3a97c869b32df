package result

import (
	"slices"
	"strings"
	"testing"

	"driftreach/internal/field"
)

// TestLayersBeginWithWhatIsShownFirst: a layer has all fields of its table and begins with its
// name; every field listed as coming first exists.
func TestLayersBeginWithWhatIsShownFirst(t *testing.T) {
	seen := 0
	for _, table := range Tables(&Run{}) {
		how, is := layers[table.Name]
		if !is {
			continue
		}
		seen++
		layer := Layer(table)
		if len(layer.Fields) != len(table.Fields) {
			t.Errorf("%s: %d fields as a layer, %d with them", table.Name, len(layer.Fields), len(table.Fields))
		}
		for k, name := range how.first {
			if layer.Fields[k].Name != name {
				t.Errorf("%s: field %d is %s, want %s", table.Name, k, layer.Fields[k].Name, name)
			}
		}
	}
	if seen != len(layers) {
		t.Errorf("%d tables are layers, %d are said to be", seen, len(layers))
	}
}

// TestNamesThatAreTaken: an input column with the same name as one added to layers is kept, and
// occurs once.
func TestNamesThatAreTaken(t *testing.T) {
	layer := Layer(Table{Name: "stands", Fields: []Field{{Name: "NAME"}, {Name: field.StandID}}})
	if n := len(slices.DeleteFunc(layer.Fields, func(f Field) bool { return f.Name == field.Name })); n != 4 {
		t.Errorf("%v", layer.Fields)
	}
}

// TestNamesAndDaysOfLayers checks the fields that only layers have, for programme, by hand: stands
// have the days when they were seen, a work its own days, everything else those of the quarter.
func TestNamesAndDaysOfLayers(t *testing.T) {
	want := map[string][]string{
		"stands": {
			"1. 2026Q1-0001 (2.00 acres)|2026-07-02|2026-07-09", "2026Q2-0003 (1.00 acres), as last known in 2026Q2|2026-07-01|2026-09-30",
			"2026Q3-0001 (0.50 acres)|2026-08-01|2026-08-01",
		},
		"aquatic_zone": {"Aquatic zone, Alder Creek|2026-07-01|2026-09-30", "Aquatic zone, streams without a name|2026-07-01|2026-09-30"},
		"reaches": {
			"Alder Creek, km 33.30 to 21.05|2026-07-01|2026-09-30", "lb, km 0.50 to 0.25|2026-07-01|2026-09-30",
			"Alder Creek, km 21.05 to 0.00|2026-07-01|2026-09-30", "Alder Creek, km 21.05 to 13.05|2026-07-01|2026-09-30",
		},
		"stand_parts": {"2026Q1-0001, to_treat|2026-07-01|2026-09-30", "2026Q1-0001, treated|2026-07-01|2026-09-30"},
	}
	run := programme()
	for _, table := range plainTables(run) {
		rows, is := want[table.Name]
		if !is {
			continue
		}
		table.Fields = layerFields(table)
		for i, row := range rows {
			var got []string
			for _, v := range table.Row(run, i, nil) {
				got = append(got, v.String())
			}
			if said := strings.Join(got, "|"); said != row {
				t.Errorf("%s, row %d: %s, want %s", table.Name, i, said, row)
			}
		}
	}
}
