package result

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"driftreach/internal/drift"
	"driftreach/internal/survey"
	"driftreach/internal/unit"
)

// TestDictionaryIsWhole: every field has a unique name in its table, a label, a kind, and a
// definition that is a sentence; a field whose name ends in a unit has that unit.
func TestDictionaryIsWhole(t *testing.T) {
	suffixes := map[string]Unit{"_acres": Acres, "_km": Kilometers, "_m": Meters, "_m2": SquareMeters, "_percent": Percent, "_acft": AcreFeetYearly}
	for _, table := range Tables(&Run{}) {
		seen := map[string]bool{}
		for _, f := range table.Fields {
			name := table.Name + "." + f.Name
			if seen[f.Name] {
				t.Errorf("%s comes twice", name)
			}
			seen[f.Name] = true
			if f.Label == "" || f.Kind == Null || !strings.HasSuffix(f.Definition, ".") || f.Value == nil {
				t.Errorf("%s is not whole", name)
			}
			for suffix, unit := range suffixes {
				if strings.HasSuffix(f.Name, suffix) && f.Unit != unit {
					t.Errorf("%s has unit %q", name, f.Unit)
				}
			}
			if f.Kind == Number && f.Unit == NoUnit {
				t.Errorf("%s is a number without a rounding rule", name)
			}
		}
	}
}

// TestFieldsOfStands: the names of the fields and their order are part of the product.
func TestFieldsOfStands(t *testing.T) {
	fields := `stand_id quarter unit_id points isolated first_detected last_detected management_status
		change previous_acres previous_ids carried carried_acres carried_from
		gross_acres infested_acres canopy_acres canopy_cover_percent assumed stem_height_m
		gross_acres_p10 gross_acres_p90 infested_acres_p10 infested_acres_p90 canopy_acres_p10 canopy_acres_p90 assumed_acres assumed_canopy_acres aquatic_zone zone_uncertain zone_acres
		water_distance_m stream_id waterBody river_km decimalLongitude decimalLatitude reach_km reach_alone_km reach_possible_km exposure released held_at_barriers lost_to_age
		left_at_outlets %s treat_order
		requirements next_visit follow_up water_use_low_acft water_use_high_acft`
	bands := "reach_km_p10 reach_km_p50 reach_km_p90 exposure_p10 exposure_p50 exposure_p90"
	for _, tt := range []struct {
		name, extra string
		run         *Run
	}{
		{"one stage, no draws", "", &Run{}},
		{"with draws", bands, &Run{Draws: 200}},
		{"with a flood", "flood_reach_km", &Run{Stages: make([]Stage, 2)}},
		{"with units", "", &Run{Units: make([]unit.Unit, 1)}},
		{"with both", bands + " flood_reach_km", &Run{Draws: 200, Stages: make([]Stage, 2)}},
	} {
		want := strings.Fields(fmt.Sprintf(fields, tt.extra))
		if len(tt.run.Units) > 0 {
			want = slices.Insert(want, slices.Index(want, "change"), "units")
		}
		if d := cmp.Diff(want, names(StandTable(tt.run))); d != "" {
			t.Errorf("%s: %s", tt.name, d)
		}
	}
}

func names(t Table) []string {
	var out []string
	for _, f := range t.Fields {
		out = append(out, f.Name)
	}
	return out
}

// TestCarriedNamesAreUnique: a user's column with a blank name, or with the name of one of our
// columns, is carried under a unique name.
func TestCarriedNamesAreUnique(t *testing.T) {
	run := &Run{ExtraColumns: []string{"", "carried_", "crew", "stand_id"}, Records: survey.Records{Listed: []survey.Record{{Notes: survey.Notes{Extra: []string{"a", "b", "c"}}.Pack()}}}, StandOf: []int32{-1}, InZone: []bool{false}}
	table := PointTable(run)
	got := names(table)
	if d := cmp.Diff([]string{"carried_", "carried_carried_", "crew", "carried_stand_id"}, got[len(got)-4:]); d != "" {
		t.Error(d)
	}
	row := table.Row(run, 0, nil)
	var texts []string
	for _, v := range row[len(row)-4:] {
		texts = append(texts, v.String())
	}
	if d := cmp.Diff([]string{"a", "b", "c", ""}, texts); d != "" {
		t.Error(d)
	}
}

// TestKindsMatch: every value is of its field's kind, or Null.
func TestKindsMatch(t *testing.T) {
	run := region()
	for _, table := range Tables(run) {
		for i := range table.Rows {
			for k, v := range table.Row(run, i, nil) {
				f := table.Fields[k]
				if v.Kind != Null && v.Kind != f.Kind {
					t.Errorf("%s.%s, row %d: kind %s, not %s", table.Name, f.Name, i, v.Kind, f.Kind)
				}
				if v.Kind == Number && v.Decimals != f.Unit.Decimals() {
					t.Errorf("%s.%s: %d decimals", table.Name, f.Name, v.Decimals)
				}
			}
		}
	}
}

// TestCautionsSaySettings: the cautions state the setback, the risk share and the assumed settings
// of the batch.
func TestCautionsSaySettings(t *testing.T) {
	all := strings.Join(Cautions(&Run{Setback: 45.5, RiskShare: 0.05, Assumed: []string{"a.b", "c.d"}}), "\n")
	for _, want := range []string{"planning aid", "label is the law", "licensed applicators", "permits", "45.5 m", "jurisdiction", "flood water", " 5 %", "a.b, c.d"} {
		if !strings.Contains(all, want) {
			t.Errorf("%q is not said", want)
		}
	}
	if slices.ContainsFunc(Cautions(&Run{}), func(s string) bool { return strings.HasPrefix(s, "Assumed for") }) {
		t.Error("names assumed settings where there are none")
	}
}

// TestClassWord: the words of the exposure_class column.
func TestClassWord(t *testing.T) {
	if d := cmp.Diff([]string{"possible", "low", "moderate", "high"}, []string{ClassWord(drift.Possible), ClassWord(drift.Low), ClassWord(drift.Moderate), ClassWord(drift.High)}); d != "" {
		t.Error(d)
	}
}
