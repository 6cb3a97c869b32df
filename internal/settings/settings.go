// Package settings is everything that a user may set: each key with its default and
// where that comes from, the file and the words of the command line that hold them, and
// what each stage takes of them.
package settings

import (
	"maps"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/internal/aquatic"
	"driftreach/internal/check"
	"driftreach/internal/drift"
	"driftreach/internal/followup"
	"driftreach/internal/lineage"
	"driftreach/internal/margin"
	"driftreach/internal/notice"
	"driftreach/internal/priority"
	"driftreach/internal/stand"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
	"driftreach/internal/surveyed"
	"driftreach/internal/trend"
)

// Settings is everything a user may set, in the units the key names carry. A
// zero Settings is not usable: start from Default. Every key, with its
// range, origin and source, is in Table.
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
	Values     map[string]map[string]string `toml:"values" json:"values"` // field, their word, our word
	Files      map[string]FileSettings      `toml:"files" json:"files"`   // by the pattern of the file's name
	Inputs     InputSettings                `toml:"inputs" json:"-"`      // paths are of a machine, and stay out of the manifest

	Removed []check.Finding `toml:"-" json:"-"` // a finding for each setting given that does nothing any more
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

	SeenDistance  any `toml:"seen_distance_m" json:"-"` // removed: nil but while a text is read, see removedSettings
	SurveyedShare any `toml:"surveyed_share" json:"-"`
}

// UncertaintySettings is the [uncertainty] table.
type UncertaintySettings struct {
	PatchOwn     float64 `toml:"patch_own_share" json:"patch_own_share"`
	PatchShared  float64 `toml:"patch_shared_share" json:"patch_shared_share"`
	DefaultPatch float64 `toml:"default_patch_share" json:"default_patch_share"`
	DefaultCover float64 `toml:"default_cover_points" json:"default_cover_points"`
}

// MethodSettings is a distance for each way of looking at ground, as in
// [lineage.found_m].
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

// PassSettings is the [drift.pass] table, the share of what floats that gets past
// each kind of barrier, and the [drift.flood_overtop] table, the share of what one
// holds at base flow that gets past it in flood.
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

// MapSettings is the [maps] table.
type MapSettings struct {
	Chord float64 `toml:"chord_m" json:"chord_m"`
}

// TrendSettings is the [trend] table.
type TrendSettings struct {
	Correlation float64 `toml:"serial_correlation" json:"serial_correlation"`
}

// The words of drift.stage.
const (
	BaseStage  = "base"
	FloodStage = "flood"
	BothStages = "both"
)

// The words of network.digitised.
const (
	Downstream = "downstream"
	Upstream   = "upstream"
)

// byKind returns the shares by the barriers' words.
func (p PassSettings) byKind() map[string]drift.Share {
	return map[string]drift.Share{
		string(stream.Dam): drift.Share(p.Dam), string(stream.Reservoir): drift.Share(p.Reservoir), string(stream.Weir): drift.Share(p.Weir), string(stream.Culvert): drift.Share(p.Culvert),
		string(stream.Lake): drift.Share(p.Lake),
	}
}

// noneDry is the word of drift.dry_at_base for no line at all.
const noneDry = "none"

// dryPermanences returns the permanences of lines without water at base flow.
func (d DriftSettings) dryPermanences() map[stream.Permanence]bool {
	switch d.DryAtBase {
	case noneDry:
		return nil
	case string(stream.Intermittent):
		return map[stream.Permanence]bool{stream.Intermittent: true, stream.Ephemeral: true}
	}
	return map[stream.Permanence]bool{stream.Ephemeral: true}
}

// Default returns every setting at its default, in storage of its own.
// The source of each number is in Table.
func Default() Settings {
	stands, water, follow := stand.DefaultSettings(), aquatic.DefaultSettings(), drift.DefaultSettings()
	spread, treat, visits := drift.DefaultSpread(), priority.DefaultSettings(), followup.DefaultSettings()
	links, off := lineage.DefaultSettings(), margin.DefaultSettings()
	return Settings{
		Survey: SurveySettings{LargestPatch: float64(survey.DefaultOptions(survey.Quarter{}).LargestPatch)},
		Stands: StandSettings{
			JoinDistance: float64(stands.JoinDistance), MinPoints: stands.MinPoints,
			DefaultPatch: float64(stands.DefaultPatch), DefaultCover: stands.DefaultCover, CoverTable: "daubenmire",
		},
		Lineage: LineageSettings{
			OverlapShare: links.OverlapShare, Uncertainty: float64(links.Uncertainty),
			Found:   byMethod(links, func(s lineage.Sight) geo.Meters { return s.Found }),
			Absent:  byMethod(links, func(s lineage.Sight) geo.Meters { return s.Absent }),
			Barrier: float64(links.Barrier), UnseenShare: links.UnseenShare, KeptWithin: links.KeptWithin,
		},
		Uncertain: UncertaintySettings{
			PatchOwn: off.PatchOwn, PatchShared: off.PatchShared, DefaultPatch: off.DefaultPatch, DefaultCover: off.DefaultCover,
		},
		Aquatic: AquaticSettings{Setback: float64(water.Setback), WidthByOrder: numbers(water.WidthByOrder)},
		Network: NetworkSettings{Snap: float64(flow.DefaultOptions().Snap), Digitised: Downstream},
		Drift: DriftSettings{
			HalfDistanceByOrder: numbers(follow.HalfDistanceByOrder), Stage: BaseStage, FloodFactor: 4,
			FloodDischargeRatio: 10, FloodRelease: 1, DryAtBase: string(stream.Ephemeral),
			RiskShare: float64(follow.RiskShare), FragmentsPerAcre: follow.FragmentsPerAcre, TreatedRelease: float64(follow.TreatedRelease),
			Pass: PassSettings{
				Dam: float64(follow.Pass["dam"]), Reservoir: float64(follow.Pass["reservoir"]),
				Weir: float64(follow.Pass["weir"]), Culvert: float64(follow.Pass["culvert"]),
				Lake: float64(follow.Pass["lake"]),
			},
			ExposureBreaks: follow.ExposureBreaks[:], VelocityByOrder: numbers(follow.VelocityByOrder), ViableDays: float64(follow.Viable),
			Draws: spread.Draws, Seed: int(spread.Seed), HalfDistanceGSD: spread.HalfDistanceGSD,
			PassSpread: float64(spread.PassSpread), ReleaseGSD: spread.ReleaseGSD, SetbackSpread: float64(spread.Setback),
		},
		Treatment: TreatmentSettings{
			HandPull: float64(treat.HandPull), RevisitMonths: visits.RevisitMonths, ClearYears: visits.ClearYears,
			SeasonFrom: visits.Season[0], SeasonTo: visits.Season[1], RetreatDays: visits.RetreatDays,
			Notice: float64(notice.DefaultSettings().Distance), Permit: treat.Permit,
		},
		Plan:       defaultPlan(),
		Crew:       defaultCrew(),
		SurveyNext: defaultSurveyNext(),
		WaterWork:  WaterWorkSettings{Write: auto, Distances: []float64{}},
		Public:     defaultPublic(),
		Trend:      TrendSettings{Correlation: trend.DefaultRules().Correlation},
		Maps:       MapSettings{Chord: float64(stands.Chord)},
		Columns:    ColumnSettings{}.cloned(),
		Limits:     defaultLimits(),
		Units:      UnitSettings{}.cloned(),
		Values:     map[string]map[string]string{},
		Files:      map[string]FileSettings{},
	}
}

// byMethod is one distance of each method.
func byMethod(s lineage.Settings, of func(lineage.Sight) geo.Meters) MethodSettings {
	at := func(m surveyed.Method) float64 { return float64(of(s.Sight[m])) }
	return MethodSettings{Foot: at(surveyed.Foot), Boat: at(surveyed.Boat), Air: at(surveyed.Air), Image: at(surveyed.Image)}
}

// numbers drops the unit's type; the key's name carries the unit.
func numbers[T ~float64](values []T) []float64 {
	out := make([]float64, len(values))
	for i, v := range values {
		out[i] = float64(v)
	}
	return out
}

// clone returns s with no storage shared with it.
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
