package settings

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"driftreach/internal/intake"
)

// pointFields are our names that [columns.points] may map.
var pointFields = []string{
	"occurrenceID", "eventDate", "decimalLongitude", "decimalLatitude", "coordinateUncertaintyInMeters",
	"occurrenceStatus", "management_status", "patch_area_m2", "patch_length_m", "patch_width_m", "patch_diameter_m",
	"canopy_cover_percent", "canopy_cover_class", "stem_height_m", "recordedBy", "parcel", "occurrenceRemarks",
}

// streamFields are our names that [columns.streams] may map.
var streamFields = []string{
	"stream_id", "waterBody", "from_node", "to_node", "hydroseq", "divergence", "flow_share", "stream_order",
	"bankfull_width_m", "mean_velocity_mps", "drainage_km2", "discharge_m3s", "mean_discharge_m3s", "slope",
	"barrier", "barrier_pass", "length_km", "catchment_km2", "feature_type", "flow_permanence",
}

// workFields are our names that [columns.works] may map.
var workFields = []string{"work_id", "kind", "start_date", "end_date", "contact", "decimalLongitude", "decimalLatitude"}

// unitFields, surveyedFields, treatmentFields, waterFields, barrierFields and
// correctionFields are our names that [columns.units], [columns.surveyed],
// [columns.treatments], [columns.water], [columns.barriers] and [columns.corrections]
// may map.
var (
	unitFields      = []string{"unit_id", "unit_name"}
	surveyedFields  = []string{"surveyed_id", "start_date", "end_date", "eventDate", "method", "bank"}
	treatmentFields = []string{
		"treatment_id", "date", "stand_id", "method", "formulation_class", "treated_acres", "decimalLongitude", "decimalLatitude",
		"product", "registration_number", "amount", "amount_unit", "applicator", "licence", "start_time", "end_time", "wind_mps", "temperature_c", "hours",
	}
	waterFields      = []string{"water_id", "waterBody", "kind"}
	correctionFields = []string{"correction_id", "date", "correction", "occurrenceID", "stand_id", "other_stand_id", "reason"}
	barrierFields    = []string{"barrier_id", "kind", "barrier_pass", "decimalLongitude", "decimalLatitude"}
)

// valueFields are our names whose words [values.*] may map.
var valueFields = []string{
	"occurrenceStatus", "management_status", "canopy_cover_class", "barrier", "divergence", "feature_type", "flow_permanence", "kind",
	"method", "formulation_class", "bank", "correction",
}

// ByInput has one table a kind of input, by our field names.
type ByInput[V any] struct {
	Points      map[string]V `toml:"points" json:"points"`
	Streams     map[string]V `toml:"streams" json:"streams"`
	Works       map[string]V `toml:"works" json:"works"`
	Units       map[string]V `toml:"units" json:"units"`
	Surveyed    map[string]V `toml:"surveyed" json:"surveyed"`
	Treatments  map[string]V `toml:"treatments" json:"treatments"`
	Barriers    map[string]V `toml:"barriers" json:"barriers"`
	Water       map[string]V `toml:"water" json:"water"`
	Corrections map[string]V `toml:"corrections" json:"corrections"`
}

// ColumnSettings is the [columns] table: our field name to the user's names for it.
type ColumnSettings = ByInput[intake.Names]

// UnitSettings is the [units] table: our field name to the unit of the user's column.
type UnitSettings = ByInput[string]

// columnTable is the table of one input: its name and our names for its columns.
type columnTable struct {
	name   string
	fields []string
}

// columnTables returns the table of every input, in the order of the settings
// file.
func columnTables() []columnTable {
	return []columnTable{
		{"points", pointFields}, {"streams", streamFields}, {"works", workFields}, {"units", unitFields},
		{"surveyed", surveyedFields}, {"treatments", treatmentFields}, {"barriers", barrierFields},
		{"water", waterFields}, {"corrections", correctionFields},
	}
}

// of returns the address of the table of one input.
func (c *ByInput[V]) of(input string) *map[string]V {
	switch input {
	case "points":
		return &c.Points
	case "streams":
		return &c.Streams
	case "works":
		return &c.Works
	case "units":
		return &c.Units
	case "surveyed":
		return &c.Surveyed
	case "treatments":
		return &c.Treatments
	case "barriers":
		return &c.Barriers
	case "water":
		return &c.Water
	case "corrections":
		return &c.Corrections
	}
	panic("no input is called " + input)
}

// cloned returns the tables in storage of their own, none of them nil.
func (c ByInput[V]) cloned() ByInput[V] {
	for _, t := range columnTables() {
		at := c.of(t.name)
		if *at = maps.Clone(*at); *at == nil {
			*at = map[string]V{}
		}
	}
	return c
}

// checkMaps returns what is wrong with the tables of columns, units, values and
// files, and writes our names the way we spell them.
func (s *Settings) checkMaps(where string) error {
	for _, t := range columnTables() {
		if err := spell(where, "columns."+t.name, *s.Columns.of(t.name), t.fields); err != nil {
			return err
		}
	}
	for _, t := range columnTables() {
		if err := checkUnits(where, "units."+t.name, *s.Units.of(t.name), t.fields); err != nil {
			return err
		}
	}
	if err := spell(where, "values", s.Values, valueFields); err != nil {
		return err
	}
	if err := s.Inputs.check(where); err != nil {
		return err
	}
	return s.checkFiles(where)
}

// checkUnits returns what is wrong with a table of units.
func checkUnits(where, table string, units map[string]string, known []string) error {
	if err := spell(where, table, units, known); err != nil {
		return err
	}
	for _, field := range slices.Sorted(maps.Keys(units)) {
		if _, err := intake.UnitFactor(field, units[field]); err != nil {
			return &Error{Where: where, Problem: table + ": " + err.Error(), Remedy: "write for example patch_area_m2 = \"ft2\""}
		}
	}
	return nil
}

// spell gives every key of m the spelling it has in known, whatever its case.
func spell[V any](where, table string, m map[string]V, known []string) error {
	for _, key := range slices.Sorted(maps.Keys(m)) {
		i := slices.IndexFunc(known, func(k string) bool { return strings.EqualFold(k, key) })
		if i < 0 {
			return unknownField(where, table, key, known)
		}
		if known[i] == key {
			continue
		}
		if _, twice := m[known[i]]; twice {
			return &Error{Where: where, Problem: fmt.Sprintf("%s.%s is set twice", table, known[i]), Remedy: "keep one of the two"}
		}
		m[known[i]] = m[key]
		delete(m, key)
	}
	return nil
}

func unknownField(where, table, key string, known []string) error {
	remedy := fmt.Sprintf("[%s] takes our name on the left: %s", table, strings.Join(known, ", "))
	if near := Nearest(key, known); near != "" {
		remedy = fmt.Sprintf("did you mean %s.%s?", table, near)
	}
	return &Error{Where: where, Problem: fmt.Sprintf("unknown setting %s.%s", table, key), Remedy: remedy}
}
