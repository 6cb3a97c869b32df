// Package settings has everything that a user can set: each key with its default and source, the
// settings file and command-line assignments, and the conversion for each stage.
package settings

import (
	"maps"

	"driftreach/internal/check"
	"driftreach/internal/column"
)

// Settings has everything that a user can set, in the units that the key names give. A zero Settings is
// not usable: start from Default. Table lists every key with its range, origin and source.
type Settings struct {
	Survey     SurveySettings               `toml:"survey" json:"survey"`
	Stands     StandSettings                `toml:"stands" json:"stands"`
	Lineage    LineageSettings              `toml:"lineage" json:"lineage"`
	Uncertain  UncertaintySettings          `toml:"uncertainty" json:"uncertainty"`
	Aquatic    AquaticSettings              `toml:"aquatic" json:"aquatic"`
	Network    NetworkSettings              `toml:"network" json:"network"`
	Drift      DriftSettings                `toml:"drift" json:"drift"`
	Treatment  TreatmentSettings            `toml:"treatment" json:"treatment"`
	Plan       PlanSettings                 `toml:"plan" json:"plan"`
	Crew       CrewSettings                 `toml:"crew" json:"crew"`
	Report     ReportSettings               `toml:"report" json:"report"`
	SurveyNext SurveyNextSettings           `toml:"survey_next" json:"survey_next"`
	WaterWork  WaterWorkSettings            `toml:"water_work" json:"water_work"`
	Public     PublicSettings               `toml:"public" json:"public"`
	Trend      TrendSettings                `toml:"trend" json:"trend"`
	Maps       MapSettings                  `toml:"maps" json:"maps"`
	Limits     LimitSettings                `toml:"limits" json:"limits"`
	Columns    ColumnSettings               `toml:"columns" json:"columns"`
	Units      UnitSettings                 `toml:"units" json:"units"`
	Values     map[string]map[string]string `toml:"values" json:"values"` // field -> the user's word -> our word
	Files      map[string]FileSettings      `toml:"files" json:"files"`   // by file name pattern
	Inputs     InputSettings                `toml:"inputs" json:"-"`      // not in the manifest, since paths differ between machines

	Removed []check.Finding `toml:"-" json:"-"` // one finding for each setting given that has no effect any more
}

// SurveySettings is the [survey] table.
type SurveySettings struct {
	Since        string  `toml:"since" json:"since"`
	LargestPatch float64 `toml:"largest_patch_m2" json:"largest_patch_m2"`
}

// StandSettings is the [stands] table.
type StandSettings struct {
	JoinDistance float64 `toml:"join_distance_m" json:"join_distance_m"`
	MinPoints    int     `toml:"min_points" json:"min_points"`
	DefaultPatch float64 `toml:"default_patch_acres" json:"default_patch_acres"`
	DefaultCover float64 `toml:"default_cover_percent" json:"default_cover_percent"`
	CoverTable   string  `toml:"cover_table" json:"cover_table"`
}

// LineageSettings is the [lineage] table.
type LineageSettings struct {
	OverlapShare float64        `toml:"overlap_share" json:"overlap_share"`
	Uncertainty  float64        `toml:"position_uncertainty_m" json:"position_uncertainty_m"`
	Found        MethodSettings `toml:"found_m" json:"found_m"`
	Absent       MethodSettings `toml:"absent_m" json:"absent_m"`
	Barrier      float64        `toml:"barrier_width_m" json:"barrier_width_m"`
	UnseenShare  float64        `toml:"unseen_share" json:"unseen_share"`
	KeptWithin   float64        `toml:"kept_within" json:"kept_within"`

	SeenDistance  any `toml:"seen_distance_m" json:"-"` // removed; not nil only while a text is read, see removedSettings
	SurveyedShare any `toml:"surveyed_share" json:"-"`
}

// UncertaintySettings is the [uncertainty] table.
type UncertaintySettings struct {
	PatchOwn     float64 `toml:"patch_own_share" json:"patch_own_share"`
	PatchShared  float64 `toml:"patch_shared_share" json:"patch_shared_share"`
	DefaultPatch float64 `toml:"default_patch_share" json:"default_patch_share"`
	DefaultCover float64 `toml:"default_cover_points" json:"default_cover_points"`
}

// MethodSettings is a distance for each survey method, as in [lineage.found_m].
type MethodSettings struct {
	Foot  float64 `toml:"foot" json:"foot"`
	Boat  float64 `toml:"boat" json:"boat"`
	Air   float64 `toml:"air" json:"air"`
	Image float64 `toml:"image" json:"image"`
}

// AquaticSettings is the [aquatic] table.
type AquaticSettings struct {
	Setback      float64   `toml:"setback_m" json:"setback_m"`
	WidthByOrder []float64 `toml:"bankfull_width_by_order_m" json:"bankfull_width_by_order_m"`
}

// NetworkSettings is the [network] table.
type NetworkSettings struct {
	Snap      float64 `toml:"snap_m" json:"snap_m"`
	CloseGap  float64 `toml:"close_gap_m" json:"close_gap_m"`
	Digitised string  `toml:"digitised" json:"digitised"`
}

// DriftSettings is the [drift] table.
type DriftSettings struct {
	HalfDistanceByOrder []float64    `toml:"half_distance_by_order_km" json:"half_distance_by_order_km"`
	Stage               string       `toml:"stage" json:"stage"`
	FloodFactor         float64      `toml:"flood_factor" json:"flood_factor"`
	FloodDischargeRatio float64      `toml:"flood_discharge_ratio" json:"flood_discharge_ratio"`
	FloodRelease        float64      `toml:"flood_release" json:"flood_release"`
	FloodSourceWidth    float64      `toml:"flood_source_width_m" json:"flood_source_width_m"`
	FloodOvertop        PassSettings `toml:"flood_overtop" json:"flood_overtop"`
	DryAtBase           string       `toml:"dry_at_base" json:"dry_at_base"`
	RiskShare           float64      `toml:"risk_share" json:"risk_share"`
	FragmentsPerAcre    float64      `toml:"fragments_per_acre" json:"fragments_per_acre"`
	TreatedRelease      float64      `toml:"treated_release" json:"treated_release"`
	Pass                PassSettings `toml:"pass" json:"pass"`
	ExposureBreaks      []float64    `toml:"exposure_breaks" json:"exposure_breaks"`
	VelocityByOrder     []float64    `toml:"velocity_by_order_mps" json:"velocity_by_order_mps"`
	ViableDays          float64      `toml:"viable_days" json:"viable_days"`
	Draws               int          `toml:"draws" json:"draws"`
	Seed                int          `toml:"seed" json:"seed"`
	HalfDistanceGSD     float64      `toml:"half_distance_gsd" json:"half_distance_gsd"`
	PassSpread          float64      `toml:"pass_spread" json:"pass_spread"`
	ReleaseGSD          float64      `toml:"release_gsd" json:"release_gsd"`
	SetbackSpread       float64      `toml:"setback_spread_m" json:"setback_spread_m"`
}

// PassSettings is the [drift.pass] table: the share of floating fragments that passes each kind of
// barrier. It is also the [drift.flood_overtop] table: of the fragments that a barrier stops at base
// flow, the share that passes in flood.
type PassSettings struct {
	Dam       float64 `toml:"dam" json:"dam"`
	Reservoir float64 `toml:"reservoir" json:"reservoir"`
	Weir      float64 `toml:"weir" json:"weir"`
	Culvert   float64 `toml:"culvert" json:"culvert"`
	Lake      float64 `toml:"lake" json:"lake"`
}

// TreatmentSettings is the [treatment] table.
type TreatmentSettings struct {
	HandPull      float64 `toml:"hand_pull_m2" json:"hand_pull_m2"`
	RevisitMonths int     `toml:"revisit_months" json:"revisit_months"`
	ClearYears    int     `toml:"clear_years" json:"clear_years"`
	SeasonFrom    int     `toml:"season_from_month" json:"season_from_month"`
	SeasonTo      int     `toml:"season_to_month" json:"season_to_month"`
	RetreatDays   int     `toml:"retreat_days" json:"retreat_days"`
	Notice        float64 `toml:"notice_m" json:"notice_m"`
	Permit        string  `toml:"permit" json:"permit"`
}

// PublicSettings is the [public] table.
type PublicSettings struct {
	Grid float64 `toml:"grid_m" json:"grid_m"`
}

// MapSettings is the [maps] table.
type MapSettings struct {
	Chord float64 `toml:"chord_m" json:"chord_m"`
}

// TrendSettings is the [trend] table.
type TrendSettings struct {
	Correlation float64 `toml:"serial_correlation" json:"serial_correlation"`
}

// FileSettings is one [files."pattern"] table: how files with a matching name are read, where this
// differs from the rest of their input.
type FileSettings struct {
	// SkipLines is the number of lines above the header of a CSV file or sheet that are not part of the
	// table, such as a title or a printing date.
	SkipLines int                          `toml:"skip_lines" json:"skip_lines,omitempty"`
	Columns   map[string]column.Names      `toml:"columns" json:"columns,omitempty"`
	Units     map[string]string            `toml:"units" json:"units,omitempty"`
	Values    map[string]map[string]string `toml:"values" json:"values,omitempty"`
}

// clone returns a deep copy of s.
func (s Settings) clone() Settings {
	s.Aquatic.WidthByOrder = append([]float64(nil), s.Aquatic.WidthByOrder...)
	s.Drift.HalfDistanceByOrder = append([]float64(nil), s.Drift.HalfDistanceByOrder...)
	s.Drift.ExposureBreaks = append([]float64(nil), s.Drift.ExposureBreaks...)
	s.Drift.VelocityByOrder = append([]float64(nil), s.Drift.VelocityByOrder...)
	s.Plan = s.Plan.cloned()
	s.WaterWork = s.WaterWork.cloned()
	s.Columns, s.Units, s.Inputs = s.Columns.cloned(), s.Units.cloned(), maps.Clone(s.Inputs)
	s.Values = clonedWords(s.Values)
	files := make(map[string]FileSettings, len(s.Files))
	for pattern, f := range s.Files {
		f.Columns, f.Units, f.Values = maps.Clone(f.Columns), maps.Clone(f.Units), clonedWords(f.Values)
		files[pattern] = f
	}
	s.Files = files
	return s
}

func clonedWords(all map[string]map[string]string) map[string]map[string]string {
	out := make(map[string]map[string]string, len(all))
	for field, words := range all {
		out[field] = maps.Clone(words)
	}
	return out
}
