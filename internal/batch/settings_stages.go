package batch

import (
	"fmt"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/internal/aquatic"
	"driftreach/internal/drift"
	"driftreach/internal/effort"
	"driftreach/internal/followup"
	"driftreach/internal/lineage"
	"driftreach/internal/margin"
	"driftreach/internal/notice"
	"driftreach/internal/stand"
	"driftreach/internal/treatment"
)

// stages is the settings as each stage takes them.
type stages struct {
	stands      stand.Settings
	lineage     lineage.Settings
	margin      margin.Settings
	aquatic     aquatic.Settings
	network     flow.Options
	stage       string          // name of the batch's first stage
	drift       drift.Settings  // at that stage
	flood       *drift.Settings // at flood, when both stages are asked for
	beyond      geo.Meters      // how far outside the zone stands release at the first stage
	floodBeyond geo.Meters      // and at flood, when both are asked for
	spread      drift.Spread
	treatment   treatment.Settings
	followup    followup.Settings
	notice      notice.Settings
}

// stages converts the settings and checks them once more, stage by stage.
func (s Settings) stages() (stages, error) {
	out := stages{
		stands: stand.Settings{
			JoinDistance: geo.Meters(s.Stands.JoinDistance), MinPoints: s.Stands.MinPoints,
			DefaultPatch: geo.Acres(s.Stands.DefaultPatch), DefaultCover: s.Stands.DefaultCover, Chord: geo.Meters(s.Maps.Chord),
		},
		lineage: lineage.Settings{
			JoinDistance: geo.Meters(s.Stands.JoinDistance), DefaultPatch: geo.Acres(s.Stands.DefaultPatch), OverlapShare: s.Lineage.OverlapShare,
			Uncertainty: geo.Meters(s.Lineage.Uncertainty), Barrier: geo.Meters(s.Lineage.Barrier),
			UnseenShare: s.Lineage.UnseenShare, KeptWithin: s.Lineage.KeptWithin,
			Sight: [effort.Methods]lineage.Sight{
				effort.Foot:  {Found: geo.Meters(s.Lineage.Found.Foot), Absent: geo.Meters(s.Lineage.Absent.Foot)},
				effort.Boat:  {Found: geo.Meters(s.Lineage.Found.Boat), Absent: geo.Meters(s.Lineage.Absent.Boat)},
				effort.Air:   {Found: geo.Meters(s.Lineage.Found.Air), Absent: geo.Meters(s.Lineage.Absent.Air)},
				effort.Image: {Found: geo.Meters(s.Lineage.Found.Image), Absent: geo.Meters(s.Lineage.Absent.Image)},
			},
		},
		margin: margin.Settings{
			Position: geo.Meters(s.Lineage.Uncertainty), PatchOwn: s.Uncertain.PatchOwn, PatchShared: s.Uncertain.PatchShared,
			DefaultPatch: s.Uncertain.DefaultPatch, DefaultCover: s.Uncertain.DefaultCover,
		},
		aquatic: aquatic.Settings{Setback: geo.Meters(s.Aquatic.Setback), Chord: geo.Meters(s.Maps.Chord)},
		network: s.NetworkOptions(),
		stage:   BaseStage,
		drift: drift.Settings{
			HalfDistanceByOrderKm: s.Drift.HalfDistanceByOrder, FloodFactor: 1, VelocityFactor: 1,
			RiskShare: s.Drift.RiskShare, FragmentsPerAcre: s.Drift.FragmentsPerAcre,
			TreatedRelease: s.Drift.TreatedRelease, VelocityByOrder: s.Drift.VelocityByOrder, ViableDays: s.Drift.ViableDays,
			Pass: s.Drift.Pass.byKind(), Dry: s.Drift.dryPermanences(),
		},
		spread: drift.Spread{
			Draws: s.Drift.Draws, Seed: uint64(s.Drift.Seed), HalfDistanceGSD: s.Drift.HalfDistanceGSD,
			PassSpread: s.Drift.PassSpread, ReleaseGSD: s.Drift.ReleaseGSD, Setback: geo.Meters(s.Drift.SetbackSpread),
		},
		treatment: treatment.Settings{HandPull: geo.SquareMeters(s.Treatment.HandPull)},
		followup: followup.Settings{
			RevisitMonths: s.Treatment.RevisitMonths, ClearYears: s.Treatment.ClearYears, Season: [2]int{s.Treatment.SeasonFrom, s.Treatment.SeasonTo}, RetreatDays: s.Treatment.RetreatDays,
			JoinDistance: geo.Meters(s.Stands.JoinDistance),
		},
		notice: notice.Settings{Distance: geo.Meters(s.Treatment.Notice)},
	}
	for _, w := range s.Aquatic.WidthByOrder {
		out.aquatic.WidthByOrder = append(out.aquatic.WidthByOrder, geo.Meters(w))
	}
	copy(out.drift.ExposureBreaks[:], s.Drift.ExposureBreaks)
	flood := out.drift
	flood.FloodFactor, flood.VelocityFactor = s.Drift.FloodFactor, drift.FloodVelocity(s.Drift.FloodDischargeRatio)
	flood.FragmentsPerAcre *= s.Drift.FloodRelease
	flood.Overtop, flood.Dry = s.Drift.FloodOvertop.byKind(), nil
	switch s.Drift.Stage {
	case FloodStage:
		out.drift, out.stage, out.beyond = flood, FloodStage, geo.Meters(s.Drift.FloodSourceWidth)
	case BothStages:
		out.flood, out.floodBeyond = &flood, geo.Meters(s.Drift.FloodSourceWidth)
	}
	out.aquatic.Margin = max(out.beyond, out.floodBeyond)
	if out.spread.Draws > 0 {
		out.aquatic.Margin = max(out.aquatic.Margin, out.beyond+out.spread.Setback)
	}
	for _, err := range []error{out.stands.Validate(), out.lineage.Validate(), out.margin.Validate(), out.aquatic.Validate(), out.network.Validate(), out.drift.Validate(), out.spread.Validate(), out.treatment.Validate(), out.followup.Validate(), out.notice.Validate()} {
		if err != nil {
			return stages{}, fmt.Errorf("settings: %w", err)
		}
	}
	return out, nil
}

// NetworkOptions is the [network] table as the network takes it.
func (s Settings) NetworkOptions() flow.Options {
	return flow.Options{
		Snap: geo.Meters(s.Network.Snap), CloseGap: geo.Meters(s.Network.CloseGap), Upstream: s.Network.Digitised == Upstream,
	}
}
