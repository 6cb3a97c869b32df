package result

import (
	"slices"
	"strings"
	"testing"

	"driftreach/geo"
	"driftreach/internal/field"
	"driftreach/internal/plan"
	"driftreach/internal/unit"
)

// unitOfName is the unit that the end of a field's name tells; blank for none.
func unitOfName(name string) Unit {
	for _, u := range []struct {
		end  string
		unit Unit
	}{
		{"_acres", Acres}, {"_acres_p10", Acres}, {"_acres_p90", Acres}, {"_km", Kilometers}, {"_km_p10", Kilometers}, {"_km_p50", Kilometers}, {"_km_p90", Kilometers},
		{"_km2", SquareKilometers}, {"_m2", SquareMeters}, {"_m", Meters}, {"_ft", Feet}, {"_mi", Miles}, {"_percent", Percent}, {"_acft", AcreFeetYearly},
		{"_mps", MetersPerSecond}, {"_c", Celsius}, {"Longitude", Degrees}, {"Latitude", Degrees}, {"_longitude", Degrees}, {"_latitude", Degrees},
		{"_cost", Money}, {"_probability", Probability},
	} {
		if strings.HasSuffix(name, u.end) && (u.unit != Meters || !strings.HasPrefix(name, field.AcresWithin)) {
			return u.unit
		}
	}
	return NoUnit
}

// TestNamesTellUnits: in every table of a batch with everything, a number whose name ends in a unit is
// in that unit, and a field that is in it has such a name or is one of these, whose names are fixed by
// a standard or say what they are.
func TestNamesTellUnits(t *testing.T) {
	others := map[Unit][]string{
		Acres: {"acres", "acres_to_treat", "acres_treated"}, Money: {"budget", "follow_up_cost", "first_cost", "first_cost_most", "cost", "running_cost", "money"},
		Hours: {"hours_afloat_fast", "hours_afloat_mean", "hours", "hours_fast"}, Meters: {"coordinateUncertaintyInMeters", "apart_m"},
		Degrees: {"decimalLongitude", "decimalLatitude"}, Amount: {"amount"},
	}
	seen := map[Unit]int{}
	for _, table := range AllTables() {
		for _, f := range table.Fields {
			seen[f.Unit]++
			told := unitOfName(f.Name)
			switch {
			case f.Kind != Number && f.Unit != NoUnit:
				t.Errorf("%s.%s is a %s in %s", table.Name, f.Name, f.Kind, f.Unit)
			case f.Kind != Number, told == f.Unit, slices.Contains(others[f.Unit], f.Name):
			case told != NoUnit && !strings.HasPrefix(f.Name, field.AcresWithin):
				t.Errorf("%s.%s is in %s", table.Name, f.Name, f.Unit)
			case f.Unit != Index && f.Unit != IndexKm && f.Unit != Probability && !(f.Unit == Acres && strings.HasPrefix(f.Name, field.AcresWithin)):
				t.Errorf("%s.%s is in %s, which its name does not tell", table.Name, f.Name, f.Unit)
			}
		}
	}
	for _, u := range []Unit{Acres, Kilometers, Feet, Miles, Meters, SquareMeters, SquareKilometers, Percent, AcreFeetYearly, Index, IndexKm, Hours, MetersPerSecond, Celsius, Amount, Money, Probability, Degrees} {
		if complete.WaterWork == nil && (u == Feet || u == Miles) && seen[u] > 0 {
			continue
		}
		if seen[u] == 0 {
			t.Errorf("no field is in %s", u)
		}
	}
}

// TestOneMeaningForAName: a name that several tables have is in the same unit and of the same kind in
// all of them, but for these, which are another thing there.
func TestOneMeaningForAName(t *testing.T) {
	type meaning struct {
		table string
		unit  Unit
		kind  Kind
	}
	elsewhere := []string{"plan.place", "water_work.place", "summary.stands", "reaches.stands", "work_done.stands", "ever_mapped.stands", "plan.exposure_removed",
		"reaches.exposure", "summary.isolated", "plan.why", "followup.why", "crew_stops.why", "notices.why", "survey_next.why"}
	first := map[string]meaning{}
	for _, table := range AllTables() {
		for _, f := range table.Fields {
			was, there := first[f.Name]
			if !there {
				first[f.Name] = meaning{table.Name, f.Unit, f.Kind}
				continue
			}
			if (was.unit != f.Unit || was.kind != f.Kind) && !slices.Contains(elsewhere, table.Name+"."+f.Name) {
				t.Errorf("%s is %s in %q in %s, and %s in %q in %s", f.Name, was.kind, was.unit, was.table, f.Kind, f.Unit, table.Name)
			}
		}
	}
}

// TestDictionaryIsOfTheFiles: the rows of the dictionary are the columns of the files, table by table
// and in their order, each with its unit, its kind in words, a meaning and a title for people that no other column has; and
// what the printed cells are is what the dictionary says of their column.
func TestDictionaryIsOfTheFiles(t *testing.T) {
	run := programme()
	run.LookChanges = LookChanges(run, nil)
	dictionary := DictionaryTable(run)
	at := 0
	for _, table := range append(Tables(run), dictionary) {
		titles := map[string]string{}
		for k, f := range table.Fields {
			row := dictionary.Row(run, at, nil)
			at++
			said := []string{table.Name, f.Name, f.Label, string(f.Unit), f.Kind.String(), f.Definition, f.Origin}
			for c, want := range said {
				if got := row[c].String(); got != want {
					t.Errorf("%s.%s: %s is %q, want %q", table.Name, f.Name, dictionary.Fields[c].Name, got, want)
				}
			}
			if other := titles[f.Title()]; other != "" {
				t.Errorf("%s has two columns %q: %s and %s", table.Name, f.Title(), other, f.Name)
			}
			titles[f.Title()] = f.Name
			for i := range table.Rows {
				if v := table.Cell(run, i, k); v.Kind != Null && v.Kind.String() != row[4].String() {
					t.Errorf("%s.%s, row %d: %s, the dictionary says %s", table.Name, f.Name, i, v.Kind, row[4])
				}
			}
		}
	}
	if at != dictionary.Rows {
		t.Errorf("the dictionary has %d rows, the files %d columns", dictionary.Rows, at)
	}
}

// TestTablesOfABatch: which columns a batch has by what was given: draws, flood, units, work, a plan.
// Each adds its own columns and takes none away, so that a reader of the smallest finds the same
// columns in every batch.
func TestTablesOfABatch(t *testing.T) {
	columns := func(run *Run) (all []string) {
		for _, table := range Tables(run) {
			for _, f := range table.Fields {
				all = append(all, table.Name+"."+f.Name)
			}
		}
		return all
	}
	least := columns(&Run{})
	for name, c := range map[string]struct {
		run  *Run
		some []string // of the columns that it adds
	}{
		"draws": {&Run{Draws: 1}, []string{"stands.reach_km_p10", "stands.exposure_p90", "summary.reach_at_risk_km_p50"}},
		"flood": {&Run{Stages: make([]Stage, 2)}, []string{"stands.flood_reach_km", "summary.flood_reach_at_risk_km"}},
		"units": {&Run{Units: make([]unit.Unit, 1)}, []string{"stands.units", "reaches.unit_id", "reaches.units"}},
		"work":  {&Run{WorkGiven: true}, []string{"summary.work_done_acres", "summary.work_done_jobs", "summary.work_done_mowing_acres"}},
		"plan":  {&Run{Plan: &plan.Plan{}}, []string{"stands.plan_quarter", "stands.plan_work"}},
		"water": {&Run{WaterWork: &WaterWork{Distances: []geo.Meters{7.5}}}, []string{"water_work.acres_within_7_5_m"}},
		"all":   {&complete, []string{"stands.units", "stands.plan_work", "summary.work_done_acres", "stands.reach_km_p50", "stands.flood_reach_km"}},
	} {
		got := columns(c.run)
		for _, column := range least {
			if !slices.Contains(got, column) {
				t.Errorf("%s: column %s is gone", name, column)
			}
		}
		for _, column := range c.some {
			if !slices.Contains(got, column) || slices.Contains(least, column) {
				t.Errorf("%s: column %s is there %v, and without %v", name, column, slices.Contains(got, column), slices.Contains(least, column))
			}
		}
	}
	// what the glossary has is what a batch with everything has, and the dictionary's own fields
	var glossary []string
	for _, table := range AllTables() {
		for _, f := range table.Fields {
			glossary = append(glossary, table.Name+"."+f.Name)
		}
		if table.Title == "" || table.Name == "" {
			t.Errorf("a table without a name: %+v", table)
		}
	}
	own := len(dictionaryFields(new([]entry)))
	if want := columns(&complete); !slices.Equal(glossary[:len(glossary)-own], want) {
		t.Errorf("%d fields in the glossary, %d in a batch with everything and %d of the dictionary", len(glossary), len(want), own)
	}
}
