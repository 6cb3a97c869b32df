package settings

import (
	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/internal/aquatic"
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

// Default returns every setting at its default, as a copy that may be changed. The source of each
// number is in Table.
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
			RiskShare: float64(follow.RiskShare), FragmentsPerAcre: float64(follow.FragmentsPerAcre), TreatedRelease: float64(follow.TreatedRelease),
			Pass: PassSettings{
				Dam: float64(follow.Pass["dam"]), Reservoir: float64(follow.Pass["reservoir"]),
				Weir: float64(follow.Pass["weir"]), Culvert: float64(follow.Pass["culvert"]),
				Lake: float64(follow.Pass["lake"]),
			},
			ExposureBreaks: numbers(follow.ExposureBreaks[:]), VelocityByOrder: numbers(follow.VelocityByOrder), ViableDays: float64(follow.Viable),
			Draws: spread.Draws, Seed: int(spread.Seed), HalfDistanceGSD: float64(spread.HalfDistanceGSD),
			PassSpread: float64(spread.PassSpread), ReleaseGSD: float64(spread.ReleaseGSD), SetbackSpread: float64(spread.Setback),
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
		Public:     PublicSettings{Grid: 1000},
		Trend:      TrendSettings{Correlation: trend.DefaultRules().Correlation},
		Maps:       MapSettings{Chord: float64(stands.Chord)},
		Columns:    ColumnSettings{}.cloned(),
		Limits:     defaultLimits(),
		Units:      UnitSettings{}.cloned(),
		Values:     map[string]map[string]string{},
		Files:      map[string]FileSettings{},
	}
}

// byMethod returns one distance for each survey method.
func byMethod(s lineage.Settings, of func(lineage.Sight) geo.Meters) MethodSettings {
	at := func(m surveyed.Method) float64 { return float64(of(s.Sight[m])) }
	return MethodSettings{Foot: at(surveyed.Foot), Boat: at(surveyed.Boat), Air: at(surveyed.Air), Image: at(surveyed.Image)}
}
