package settings

import (
	"fmt"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/internal/aquatic"
	"driftreach/internal/crew"
	"driftreach/internal/drift"
	"driftreach/internal/followup"
	"driftreach/internal/lineage"
	"driftreach/internal/margin"
	"driftreach/internal/notice"
	"driftreach/internal/plan"
	"driftreach/internal/priority"
	"driftreach/internal/stand"
	"driftreach/internal/stream"
	"driftreach/internal/stretch"
	"driftreach/internal/surveyed"
)

// Stages has the settings converted for each stage of a batch.
type Stages struct {
	Stands      stand.Settings
	Lineage     lineage.Settings
	Margin      margin.Settings
	Aquatic     aquatic.Settings
	Network     flow.Options
	Stage       string          // name of the batch's first water stage
	Drift       drift.Settings  // at that stage
	Flood       *drift.Settings // at flood, if both stages are used
	Beyond      geo.Meters      // how far outside the zone stands release fragments at the first stage
	FloodBeyond geo.Meters      // the same at flood, if both stages are used
	Spread      drift.Spread
	Treatment   priority.Settings
	Followup    followup.Settings
	Notice      notice.Settings
	Plan        plan.Settings
	Crew        crew.Settings
	Factors     map[string]float64 // cost factor by word for access or method, in lower case
	FactorOf    string             // column of the points with such words; blank for none
	SurveyNext  stretch.Settings
}

// Stages converts the settings and checks them again, stage by stage.
func (s Settings) Stages() (Stages, error) {
	out := Stages{
		Stands: stand.Settings{
			JoinDistance: geo.Meters(s.Stands.JoinDistance), MinPoints: s.Stands.MinPoints,
			DefaultPatch: geo.Acres(s.Stands.DefaultPatch), DefaultCover: s.Stands.DefaultCover, Chord: geo.Meters(s.Maps.Chord),
		},
		Lineage: lineage.Settings{
			JoinDistance: geo.Meters(s.Stands.JoinDistance), DefaultPatch: geo.Acres(s.Stands.DefaultPatch), OverlapShare: s.Lineage.OverlapShare,
			Uncertainty: geo.Meters(s.Lineage.Uncertainty), Barrier: geo.Meters(s.Lineage.Barrier),
			UnseenShare: s.Lineage.UnseenShare, KeptWithin: s.Lineage.KeptWithin,
			Sight: [surveyed.Methods]lineage.Sight{
				surveyed.Foot:  {Found: geo.Meters(s.Lineage.Found.Foot), Absent: geo.Meters(s.Lineage.Absent.Foot)},
				surveyed.Boat:  {Found: geo.Meters(s.Lineage.Found.Boat), Absent: geo.Meters(s.Lineage.Absent.Boat)},
				surveyed.Air:   {Found: geo.Meters(s.Lineage.Found.Air), Absent: geo.Meters(s.Lineage.Absent.Air)},
				surveyed.Image: {Found: geo.Meters(s.Lineage.Found.Image), Absent: geo.Meters(s.Lineage.Absent.Image)},
			},
		},
		Margin: margin.Settings{
			Position: geo.Meters(s.Lineage.Uncertainty), PatchOwn: s.Uncertain.PatchOwn, PatchShared: s.Uncertain.PatchShared,
			DefaultPatch: s.Uncertain.DefaultPatch, DefaultCover: s.Uncertain.DefaultCover,
		},
		Aquatic: aquatic.Settings{Setback: geo.Meters(s.Aquatic.Setback), Chord: geo.Meters(s.Maps.Chord)},
		Network: s.NetworkOptions(),
		Stage:   BaseStage,
		Drift: drift.Settings{
			HalfDistanceByOrder: inUnit[geo.Kilometers](s.Drift.HalfDistanceByOrder), FloodFactor: 1, VelocityFactor: 1,
			RiskShare: geo.Share(s.Drift.RiskShare), FragmentsPerAcre: drift.PerAcre(s.Drift.FragmentsPerAcre),
			TreatedRelease: geo.Share(s.Drift.TreatedRelease), VelocityByOrder: inUnit[geo.MetersPerSecond](s.Drift.VelocityByOrder), Viable: drift.Days(s.Drift.ViableDays),
			Pass: s.Drift.Pass.byKind(), Dry: s.Drift.dryPermanences(),
		},
		Spread: drift.Spread{
			Draws: s.Drift.Draws, Seed: uint64(s.Drift.Seed), HalfDistanceGSD: drift.Factor(s.Drift.HalfDistanceGSD),
			PassSpread: geo.Share(s.Drift.PassSpread), ReleaseGSD: drift.Factor(s.Drift.ReleaseGSD), Setback: geo.Meters(s.Drift.SetbackSpread),
		},
		Treatment: priority.Settings{HandPull: geo.SquareMeters(s.Treatment.HandPull), Permit: s.Treatment.Permit},
		Followup: followup.Settings{
			RevisitMonths: s.Treatment.RevisitMonths, ClearYears: s.Treatment.ClearYears, Season: [2]int{s.Treatment.SeasonFrom, s.Treatment.SeasonTo}, RetreatDays: s.Treatment.RetreatDays,
			JoinDistance: geo.Meters(s.Stands.JoinDistance),
		},
		Crew:   s.Crew.stage(s.Report.Programme),
		Notice: notice.Settings{Distance: geo.Meters(s.Treatment.Notice)},
		Plan:   s.Plan.stage(), Factors: s.Plan.factors(), FactorOf: s.Plan.FactorColumn,
		SurveyNext: s.SurveyNext.stage(),
	}
	for _, w := range s.Aquatic.WidthByOrder {
		out.Aquatic.WidthByOrder = append(out.Aquatic.WidthByOrder, geo.Meters(w))
	}
	copy(out.Drift.ExposureBreaks[:], inUnit[drift.Amount](s.Drift.ExposureBreaks))
	flood := out.Drift
	flood.FloodFactor, flood.VelocityFactor = drift.Factor(s.Drift.FloodFactor), drift.FloodVelocity(drift.Factor(s.Drift.FloodDischargeRatio))
	flood.FragmentsPerAcre *= drift.PerAcre(s.Drift.FloodRelease)
	flood.Overtop, flood.Dry = s.Drift.FloodOvertop.byKind(), nil
	switch s.Drift.Stage {
	case FloodStage:
		out.Drift, out.Stage, out.Beyond = flood, FloodStage, geo.Meters(s.Drift.FloodSourceWidth)
	case BothStages:
		out.Flood, out.FloodBeyond = &flood, geo.Meters(s.Drift.FloodSourceWidth)
	}
	out.Aquatic.Margin = max(out.Beyond, out.FloodBeyond)
	if out.Spread.Draws > 0 {
		out.Aquatic.Margin = max(out.Aquatic.Margin, out.Beyond+out.Spread.Setback)
	}
	for _, err := range []error{out.Stands.Validate(), out.Lineage.Validate(), out.Margin.Validate(), out.Aquatic.Validate(), out.Network.Validate(), out.Drift.Validate(), out.Spread.Validate(), out.Treatment.Validate(), out.Followup.Validate(), out.Notice.Validate(), out.Plan.Validate(), out.SurveyNext.Validate()} {
		if err != nil {
			return Stages{}, fmt.Errorf("settings: %w", err)
		}
	}
	return out, nil
}

// NetworkOptions converts the [network] table.
func (s Settings) NetworkOptions() flow.Options {
	return flow.Options{
		Snap: geo.Meters(s.Network.Snap), CloseGap: geo.Meters(s.Network.CloseGap), Upstream: s.Network.Digitised == Upstream,
	}
}

// byKind returns the shares by barrier word.
func (p PassSettings) byKind() map[string]geo.Share {
	return map[string]geo.Share{
		string(stream.Dam): geo.Share(p.Dam), string(stream.Reservoir): geo.Share(p.Reservoir), string(stream.Weir): geo.Share(p.Weir), string(stream.Culvert): geo.Share(p.Culvert),
		string(stream.Lake): geo.Share(p.Lake),
	}
}

// dryPermanences returns the flow permanences of lines that are dry at base flow.
func (d DriftSettings) dryPermanences() map[stream.Permanence]bool {
	switch d.DryAtBase {
	case noneDry:
		return nil
	case string(stream.Intermittent):
		return map[stream.Permanence]bool{stream.Intermittent: true, stream.Ephemeral: true}
	}
	return map[stream.Permanence]bool{stream.Ephemeral: true}
}
