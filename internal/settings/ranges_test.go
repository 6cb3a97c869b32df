package settings

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestRangesAreTheContract: the values that each setting takes, as the reference has told them. A
// narrower range refuses files that were taken; a wider one has to be meant.
func TestRangesAreTheContract(t *testing.T) {
	want := map[string]string{}
	for span, keys := range map[string][]string{
		"a day as in 2026-07-15, or blank": {"survey.since"},
		"0 to 1": {"lineage.kept_within", "uncertainty.patch_own_share", "uncertainty.patch_shared_share", "uncertainty.default_patch_share", "drift.treated_release", "drift.pass_spread",
			"drift.pass.dam", "drift.pass.reservoir", "drift.pass.weir", "drift.pass.culvert", "drift.pass.lake", "drift.flood_overtop.dam", "drift.flood_overtop.reservoir", "drift.flood_overtop.weir",
			"drift.flood_overtop.culvert", "drift.flood_overtop.lake", "plan.efficacy", "plan.regrowth"},
		"0 to 0.5": {"lineage.unseen_share", "survey_next.places_share", "survey_next.random_share"}, "0 to 0.9": {"trend.serial_correlation"}, "0.0001 to 0.99": {"drift.risk_share"}, "0.001 to 1": {"maps.chord_m"},
		"above 0, up to 1": {"lineage.overlap_share", "survey_next.list_share"}, "0 to 10": {"plan.growth"},
		"0 to 100":               {"stands.default_cover_percent", "uncertainty.default_cover_points", "network.snap_m", "network.close_gap_m", "drift.setback_spread_m"},
		"above 0, up to 100":     {"stands.default_patch_acres"},
		"above 0, up to 365":     {"drift.viable_days"},
		"above 0, up to 1000":    {"lineage.position_uncertainty_m", "survey_next.stretch_km"},
		"above 0, up to 1e+09":   {"survey.largest_patch_m2", "drift.fragments_per_acre"},
		"above 0, up to 1000000": {"plan.block_acres"},
		"0 to 1000":              {"lineage.found_m.foot", "lineage.found_m.boat", "lineage.absent_m.foot", "lineage.absent_m.boat", "aquatic.setback_m", "treatment.hand_pull_m2"},
		"0 to 5000":              {"lineage.found_m.air", "lineage.found_m.image", "lineage.absent_m.air", "lineage.absent_m.image", "drift.flood_source_width_m"},
		"0 to 10000":             {"lineage.barrier_width_m", "drift.draws", "treatment.notice_m"},
		"0 to 9999":              {"report.goal_year"}, "0 to 100000": {"plan.site_distance_m", "survey_next.near_m"}, "0 to 10000000": {"report.goal_acres"}, "0 to 1e+09": {"drift.seed", "survey_next.seed"},
		"0 to 1e+12": {"plan.budget", "plan.set_up_cost", "plan.cost_per_acre"}, "1 to 10": {"drift.half_distance_gsd", "drift.release_gsd"}, "1 to 12": {"treatment.season_from_month", "treatment.season_to_month"},
		"1 to 20": {"drift.flood_factor"}, "1 to 40": {"plan.quarters"}, "1 to 50": {"treatment.clear_years"}, "1 to 60": {"treatment.revisit_months"}, "1 to 365": {"treatment.retreat_days"}, "1 to 400": {"plan.look_first_quarters"},
		"1 to 500": {"crew.most_stops"}, "1 to 1000": {"stands.join_distance_m", "stands.min_points"}, "1 to 1024": {"limits.record_mb"}, "1 to 10000": {"drift.flood_discharge_ratio"}, "1 to 100000": {"limits.columns"},
		"1 to 1000000": {"drift.flood_release", "limits.members"}, "1 to 16777216": {"limits.file_mb", "limits.member_mb"}, "1 to 100000000": {"limits.vertices"}, "1 to 1e+09": {"limits.records"},
		"2 to 2000": {"limits.expansion"}, "5 to 1000": {"limits.nesting"}, "100 to 100000": {"public.grid_m"},
		"1 to 12 values, each above 0, up to 5000": {"aquatic.bankfull_width_by_order_m"}, "1 to 12 values, each above 0, up to 1000": {"drift.half_distance_by_order_km"},
		"1 to 12 values, each above 0, up to 10": {"drift.velocity_by_order_mps"}, "2 rising values, each above 0, up to 1e+09": {"drift.exposure_breaks"}, "1 to 10 values, each 0 to 1": {"plan.follow_up_labour"},
		"0 to 10 values, each 0 to 10000":                {"water_work.distances_m"},
		"one line of up to 200 characters, no semicolon": {"treatment.permit"},
		"one line of up to 200 characters, no semicolon, or blank": {"plan.unit", "plan.factor_column", "crew.meeting_place", "crew.emergency", "crew.drying_place", "crew.stop_when", "crew.owner_column",
			"crew.permission_column", "crew.gate_column", "report.title", "report.programme"},
		"daubenmire or modified_daubenmire": {"stands.cover_table"}, "downstream or upstream": {"network.digitised"}, "base or flood or both": {"drift.stage"}, "none or ephemeral or intermittent": {"drift.dry_at_base"},
		"yes or no": {"plan.follow_up_first", "plan.outliers_first"}, "auto or always or never": {"survey_next.write", "water_work.write"},
	} {
		for _, key := range keys {
			want[key] = span
		}
	}
	got := map[string]string{}
	for _, s := range Table() {
		got[s.Key] = s.Range()
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("ranges (-want +got):\n%s", d)
	}
}
