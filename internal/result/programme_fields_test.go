package result

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestEveryFieldOfAProgramme compares every cell of every table with its value by the dictionary's
// definition, worked out by hand from programme. Blank cells are left out, in the summary zeros
// too. Some examples: a stand of 2 acres had 1.5. Of the 2, 0.25 are on ground first looked at and
// 0.1 were reported not detected before, so the observed change is 2 - 0.25 - 0.1 - 1.5 = 0.15. The
// last batch had printed 1.4 acres, so 0.1 are restated. The first unit has three quarters of each:
// 1.5 - 0.1875 - 0.075 - 1.5 = -0.2625. Of the two fifths that were treated, one tenth is given by
// acres alone. So of the seven tenths outside the drawn area six sevenths wait, and so does that
// part of their exposure of 6: 5.142857.
func TestEveryFieldOfAProgramme(t *testing.T) {
	run := programme()
	run.LookChanges = LookChanges(run, nil)
	for _, table := range plainTables(run) {
		want := rowsOf(programmeSays[table.Name])
		if table.Name == "taken_back" {
			want = nil
		}
		if d := cmp.Diff(want, said(run, table, table.Name != "summary")); d != "" {
			t.Errorf("%s: %s", table.Name, d)
		}
	}
	if n := len(Tables(run)); len(programmeSays) != n-1 {
		t.Errorf("%d tables are told of, there are %d", len(programmeSays), n)
	}
	if !slices.ContainsFunc(Tables(run), func(table Table) bool { return table.Name == "taken_back" && table.Rows == 0 }) {
		t.Error("something was taken back")
	}
}

var programmeSays = map[string]string{
	"stands": `
stand_id=2026Q1-0001 | quarter=2026Q3 | unit_id=u1 | points=2 | isolated=false | first_detected=2026-07-02 | last_detected=2026-07-09
management_status=untreated | units=u1; u2 | change=grown | previous_acres=1.5 | previous_ids=2026Q1-0001 | carried=false | carried_acres=0.5
gross_acres=3 | infested_acres=2 | canopy_acres=1 | canopy_cover_percent=50 | assumed=aquatic.bankfull_width_by_order_m; stands.default_patch_acres
stem_height_m=4.26 | gross_acres_p10=3 | gross_acres_p90=3 | infested_acres_p10=2 | infested_acres_p90=2 | canopy_acres_p10=1 | canopy_acres_p90=1
assumed_acres=0.5 | assumed_canopy_acres=0.125 | aquatic_zone=true | zone_uncertain=true | zone_acres=0.5 | water_distance_m=3.46 | stream_id=la
waterBody=Alder Creek | river_km=33.3 | decimalLongitude=-39.9995 | decimalLatitude=-32.9996 | reach_km=12.3457 | reach_alone_km=1.25 | reach_possible_km=20.5 | exposure=7.25 | released=1.5
held_at_barriers=0.25 | lost_to_age=0.125 | left_at_outlets=0.5 | reach_km_p10=10 | reach_km_p50=12 | reach_km_p90=14.5 | exposure_p10=5
exposure_p50=7 | exposure_p90=9 | flood_reach_km=40.5 | treat_order=1 | requirements=ask first; go by boat | next_visit=2027-01-15
follow_up=treat the rest | water_use_low_acft=1.805 | water_use_high_acft=12 | plan_quarter=2026Q4 | plan_work=first_treatment, place 2

stand_id=2026Q2-0003 | quarter=2026Q3 | points=1 | isolated=true | management_status=treated | change=not resurveyed | previous_acres=1
previous_ids=2026Q2-0003 | carried=true | carried_acres=1 | carried_from=2026Q2 | gross_acres=1 | infested_acres=1 | canopy_acres=0.25
canopy_cover_percent=25 | gross_acres_p10=1 | gross_acres_p90=1 | infested_acres_p10=1 | infested_acres_p90=1 | canopy_acres_p10=0.25
canopy_acres_p90=0.25 | assumed_acres=0 | assumed_canopy_acres=0 | aquatic_zone=false | zone_uncertain=false | zone_acres=0 | decimalLongitude=0 | decimalLatitude=0 | reach_km=0
reach_alone_km=0 | reach_possible_km=0 | exposure=0 | released=0 | held_at_barriers=0 | lost_to_age=0 | left_at_outlets=0 | reach_km_p10=0
reach_km_p50=0 | reach_km_p90=0 | exposure_p10=0 | exposure_p50=0 | exposure_p90=0 | flood_reach_km=0 | treat_order=2 | water_use_low_acft=0
water_use_high_acft=0 | plan_quarter=2026Q4 | plan_work=follow_up, place 1

stand_id=2026Q3-0001 | quarter=2026Q3 | unit_id=u2 | points=1 | isolated=true | first_detected=2026-08-01 | last_detected=2026-08-01
management_status=standing_dead | units=u2 | change=new | previous_acres=0 | carried=false | carried_acres=0 | gross_acres=0.5 | infested_acres=0.5
canopy_acres=0 | canopy_cover_percent=0 | stem_height_m=2 | gross_acres_p10=0.5 | gross_acres_p90=0.5 | infested_acres_p10=0.5
infested_acres_p90=0.5 | canopy_acres_p10=0 | canopy_acres_p90=0 | assumed_acres=0 | assumed_canopy_acres=0 | aquatic_zone=true | zone_uncertain=false
zone_acres=0.125 | water_distance_m=0 | stream_id=lb | river_km=0 | reach_km=0.5 | reach_alone_km=0 | reach_possible_km=0 | exposure=0
released=0.0625 | held_at_barriers=0 | lost_to_age=0 | left_at_outlets=0 | reach_km_p10=0 | reach_km_p50=0 | reach_km_p90=0 | exposure_p10=0
exposure_p50=0 | exposure_p90=0 | flood_reach_km=0 | treat_order=3 | water_use_low_acft=0 | water_use_high_acft=0
`,
	"points": `
occurrenceID=r1 | stand_id=2026Q1-0001 | carried=false | aquatic_zone=true | zone_uncertain=true | eventDate=2026-07-02/2026-07-04
coordinateUncertaintyInMeters=31.5 | occurrenceStatus=detected | management_status=untreated | patch_area_m2=120.26 | canopy_cover_percent=62.5
stem_height_m=4.26 | recordedBy=crew A | parcel=p-7 | occurrenceRemarks=by the ford | ground=wet

occurrenceID=r2 | stand_id=2026Q1-0001 | carried=false | aquatic_zone=false | zone_uncertain=false | eventDate=2026-07-09 | occurrenceStatus=detected
management_status=resprout

occurrenceID=r3 | stand_id=2026Q2-0003 | carried=true | carried_from=2026Q2 | aquatic_zone=false | zone_uncertain=false | occurrenceStatus=detected
management_status=treated
patch_outline=MULTIPOLYGON(((-39 -33,-38.999 -33,-38.999 -32.999,-39 -32.999,-39 -33)),((1 2,1.5 2,1.5 2.5,1 2),(1.3 2.1,1.4 2.1,1.4 2.2,1.3 2.1)))
canopy_cover_percent=25

occurrenceID=r4 | stand_id=2026Q3-0001 | carried=false | aquatic_zone=true | zone_uncertain=false | occurrenceStatus=detected
management_status=standing_dead | stem_height_m=2

occurrenceID=r5 | carried=false | aquatic_zone=false | zone_uncertain=false | eventDate=2026-09-01 | occurrenceStatus=notDetected
`,
	"aquatic_zone": `
waterBody=Alder Creek | lines=4 | zone_acres=120.5 | setback_m=30 | assumed=aquatic.bankfull_width_by_order_m; aquatic.setback_m

lines=1 | zone_acres=7 | setback_m=30 | assumed=aquatic.setback_m
`,
	"reaches": `
stream_id=la | waterBody=Alder Creek | from_km=33.3 | to_km=21.05 | length_km=12.25 | unit_id=u2 | units=u1; u2 | exposure=1.4 | exposure_class=high
stands=2 | nearest_stand_id=2026Q1-0001 | barrier=weir | hours_afloat_fast=1.26 | hours_afloat_mean=2.5
velocity_from=Jobson 1996 with slope: standard error about 100 % | stage=base

stream_id=lb | from_km=0.5 | to_km=0.25 | length_km=0.25 | exposure=0.01 | exposure_class=low | stands=0
velocity_from=assumed velocity by stream order: assumed, error unknown | stage=base

stream_id=la | waterBody=Alder Creek | from_km=21.05 | to_km=0 | length_km=21.05 | unit_id=u2 | units=u2 | exposure=0.5 | exposure_class=moderate
stands=1 | nearest_stand_id=2026Q1-0001 | hours_afloat_fast=3 | hours_afloat_mean=4 | velocity_from=recorded velocity: as measured | stage=flood

stream_id=la | waterBody=Alder Creek | from_km=21.05 | to_km=13.05 | length_km=8 | unit_id=u1 | units=u1 | exposure=0 | exposure_class=possible
stands=1 | nearest_stand_id=2026Q1-0001 | hours_afloat_fast=5 | hours_afloat_mean=6
velocity_from=discharge power law: a regression over many streams, any one may lie a factor of 2 off | stage=base
`,
	"summary": `
scope=total | quarter=2026Q3 | stands=3 | isolated=2 | aquatic_zone_stands=2 | gross_acres=4.5 | infested_acres=3.5 | canopy_acres=1.25
zone_acres=0.625 | live_acres=2 | untreated_acres=2 | treated_stands_acres=1 | standing_dead_acres=0.5 | gross_acres_p10=4.5 | gross_acres_p90=4.5
infested_acres_p10=3.5 | infested_acres_p90=3.5 | canopy_acres_p10=1.25 | canopy_acres_p90=1.25 | live_acres_p10=2 | live_acres_p90=2
assumed_acres=0.5 | assumed_canopy_acres=0.125 | previous_acres=3.025 | restated_acres=0.1 | observed_change_acres=0.15 | new_acres=0.5
found_again_acres=0.1 | first_looked_at_acres=0.25 | not_detected_acres=0.625 | carried_acres=1.5 | observed_change_acres_p10=0.15
observed_change_acres_p90=0.15 | last_looks=2026Q2 1.5; 2026Q3 2.625 | gross_since_last_look_acres=0.625 | infested_since_last_look_acres=0.125
zone_since_last_look_acres=0.25 | standing_dead_since_last_look_acres=0.5 | live_since_last_look_acres=-0.375 | work_done_jobs=2
work_done_jobs_acres_unknown=1 | work_done_acres=0.8 | work_done_foliar_spray_acres=0.8 | work_done_aquatic_labelled_acres=0.8 | reach_at_risk_km=12.5
reach_break=drift.half_distance_km | released=1.5625 | settled=0.6875 | held_at_barriers=0.25 | lost_to_age=0.125 | left_at_outlets=0.5
reach_at_risk_km_p10=10.5 | reach_at_risk_km_p50=12.25 | reach_at_risk_km_p90=15.75 | flood_reach_at_risk_km=21.05

scope=waterBody | name=Alder Creek | quarter=2026Q3 | stands=1 | aquatic_zone_stands=1 | gross_acres=3 | infested_acres=2 | canopy_acres=1
zone_acres=0.5 | live_acres=2 | untreated_acres=2 | gross_acres_p10=3 | gross_acres_p90=3 | infested_acres_p10=2 | infested_acres_p90=2
canopy_acres_p10=1 | canopy_acres_p90=1 | live_acres_p10=2 | live_acres_p90=2 | assumed_acres=0.5 | assumed_canopy_acres=0.125 | previous_acres=2.025
restated_acres=0.1 | observed_change_acres=0.15 | found_again_acres=0.1 | first_looked_at_acres=0.25 | not_detected_acres=0.625 | carried_acres=0.5
observed_change_acres_p10=0.15 | observed_change_acres_p90=0.15 | last_looks=2026Q2 0.5; 2026Q3 2.125 | gross_since_last_look_acres=0.125
infested_since_last_look_acres=-0.375 | zone_since_last_look_acres=0.125 | live_since_last_look_acres=-0.375 | work_done_jobs=1 | work_done_acres=0.8
work_done_foliar_spray_acres=0.8 | work_done_aquatic_labelled_acres=0.8 | reach_at_risk_km=12.25 | released=1.5 | settled=0.625
held_at_barriers=0.25 | lost_to_age=0.125 | left_at_outlets=0.5 | flood_reach_at_risk_km=21.05

scope=unnamed | quarter=2026Q3 | stands=1 | isolated=1 | aquatic_zone_stands=1 | gross_acres=0.5 | infested_acres=0.5 | zone_acres=0.125
standing_dead_acres=0.5 | gross_acres_p10=0.5 | gross_acres_p90=0.5 | infested_acres_p10=0.5 | infested_acres_p90=0.5 | new_acres=0.5
last_looks=2026Q3 0.5 | gross_since_last_look_acres=0.5 | infested_since_last_look_acres=0.5 | zone_since_last_look_acres=0.125
standing_dead_since_last_look_acres=0.5 | reach_at_risk_km=0.25 | released=0.0625 | settled=0.0625

scope=noStream | quarter=2026Q3 | stands=1 | isolated=1 | gross_acres=1 | infested_acres=1 | canopy_acres=0.25 | treated_stands_acres=1
gross_acres_p10=1 | gross_acres_p90=1 | infested_acres_p10=1 | infested_acres_p90=1 | canopy_acres_p10=0.25 | canopy_acres_p90=0.25 | previous_acres=1
carried_acres=1 | last_looks=2026Q2 1

scope=noStand | name=no stand named | quarter=2026Q3 | work_done_jobs=1 | work_done_jobs_acres_unknown=1

scope=unit | name=East | unit_id=u1 | quarter=2026Q3 | stands=1 | aquatic_zone_stands=1 | gross_acres=2 | infested_acres=1.5 | canopy_acres=0.75
zone_acres=0.5 | live_acres=1.5 | untreated_acres=1.5 | gross_acres_p10=2 | gross_acres_p90=2 | infested_acres_p10=1.5 | infested_acres_p90=1.5
canopy_acres_p10=0.75 | canopy_acres_p90=0.75 | live_acres_p10=1.5 | live_acres_p90=1.5 | assumed_acres=0.375 | assumed_canopy_acres=0.0938
previous_acres=1.4 | restated_acres=0.1 | observed_change_acres=-0.2625 | found_again_acres=0.075 | first_looked_at_acres=0.1875 | carried_acres=0.375
observed_change_acres_p10=-0.2625 | observed_change_acres_p90=-0.2625 | last_looks=2026Q2 0.375; 2026Q3 1.125 | infested_since_last_look_acres=-0.1875
canopy_since_last_look_acres=0.1563 | zone_since_last_look_acres=0.1875 | live_since_last_look_acres=-0.1875 | work_done_jobs=1 | work_done_acres=0.6
work_done_foliar_spray_acres=0.6 | work_done_aquatic_labelled_acres=0.6 | reach_at_risk_km=2.25 | released=1.5 | settled=0.625 | held_at_barriers=0.25
lost_to_age=0.125 | left_at_outlets=0.5

scope=unit | name=u2 | unit_id=u2 | quarter=2026Q3 | stands=1 | isolated=1 | aquatic_zone_stands=1 | gross_acres=1.5 | infested_acres=1
canopy_acres=0.25 | zone_acres=0.125 | live_acres=0.5 | untreated_acres=0.5 | standing_dead_acres=0.5 | gross_acres_p10=1.5 | gross_acres_p90=1.5
infested_acres_p10=1 | infested_acres_p90=1 | canopy_acres_p10=0.25 | canopy_acres_p90=0.25 | live_acres_p10=0.5 | live_acres_p90=0.5
assumed_acres=0.125 | assumed_canopy_acres=0.0312 | previous_acres=0.625 | observed_change_acres=0.4125 | new_acres=0.5 | found_again_acres=0.025
first_looked_at_acres=0.0625 | not_detected_acres=0.625 | carried_acres=0.125 | observed_change_acres_p10=0.4125 | observed_change_acres_p90=0.4125
last_looks=2026Q2 0.125; 2026Q3 1.5 | gross_since_last_look_acres=0.625 | infested_since_last_look_acres=0.3125 | canopy_since_last_look_acres=-0.1563
zone_since_last_look_acres=0.0625 | standing_dead_since_last_look_acres=0.5 | live_since_last_look_acres=-0.1875 | work_done_acres=0.2
work_done_foliar_spray_acres=0.2 | work_done_aquatic_labelled_acres=0.2 | reach_at_risk_km=10 | released=0.0625 | settled=0.0625
flood_reach_at_risk_km=21.05

scope=outsideUnits | quarter=2026Q3 | stands=1 | isolated=1 | gross_acres=1 | infested_acres=1 | canopy_acres=0.25 | treated_stands_acres=1
gross_acres_p10=1 | gross_acres_p90=1 | infested_acres_p10=1 | infested_acres_p90=1 | canopy_acres_p10=0.25 | canopy_acres_p90=0.25 | previous_acres=1
carried_acres=1 | last_looks=2026Q2 1 | reach_at_risk_km=0.25

scope=noPlace | name=no stand named | quarter=2026Q3 | work_done_jobs=1 | work_done_jobs_acres_unknown=1
`,
	"stand_units": `
stand_id=2026Q1-0001 | unit_id=u1 | unit_name=East | gross_acres=2 | infested_acres=1.5 | canopy_acres=0.75 | zone_acres=0.5

stand_id=2026Q1-0001 | unit_id=u2 | unit_name=u2 | gross_acres=1 | infested_acres=0.5 | canopy_acres=0.25 | zone_acres=0

stand_id=2026Q2-0003 | gross_acres=1 | infested_acres=1 | canopy_acres=0.25 | zone_acres=0

stand_id=2026Q3-0001 | unit_id=u2 | unit_name=u2 | gross_acres=0.5 | infested_acres=0.5 | canopy_acres=0 | zone_acres=0.125
`,
	"stand_links": `
from_stand_id=2026Q1-0001 | to_stand_id=2026Q2-0003 | share=0.25 | hours_fast=1.5
`,
	"order": `
treat_order=1 | stand_id=2026Q1-0001 | management_status=untreated | acres_to_treat=1.2 | reach_km=11.5 | reach_alone_km=1.125 | exposure=5.142857
acres_treated=1.2 | exposure_removed=6 | exposure_removed_percent=75 | reach_freed_km=10.25
waterBody=Alder Creek | river_km=33.3 | decimalLongitude=-39.9995 | decimalLatitude=-32.9996
cautions=Planning aid: the product label, permits and local rules decide. Stay out of flood water, and off banks that floods have undercut. Nobody saw all of it this quarter: 0.5 infested acres of it are as last known. Assumed, not measured: aquatic.bankfull_width_by_order_m, stands.default_patch_acres. It may lie in or out of the aquatic zone: its position is uncertain by more than the setback.

treat_order=2 | stand_id=2026Q2-0003 | management_status=treated | acres_to_treat=0 | reach_km=0 | reach_alone_km=0 | exposure=0 | acres_treated=1.2
exposure_removed=6 | exposure_removed_percent=75 | reach_freed_km=10.25
decimalLongitude=0 | decimalLatitude=0
cautions=Planning aid: the product label, permits and local rules decide. Stay out of flood water, and off banks that floods have undercut. Nobody saw it this quarter: as last found in 2026Q2.

treat_order=3 | stand_id=2026Q3-0001 | management_status=standing_dead | acres_to_treat=0.5 | reach_km=0 | reach_alone_km=0 | exposure=0
acres_treated=1.7 | exposure_removed=8 | exposure_removed_percent=100 | reach_freed_km=12.5
river_km=0
cautions=Planning aid: the product label, permits and local rules decide. Stay out of flood water, and off banks that floods have undercut.
`,
	"plan": `
stand_id=2026Q2-0003 | plan_quarter=2026Q4 | place=1 | work=follow_up | why=treated on 2026-07-12 | due=2026-11-30 | treat_from=2026-10-01
treat_to=2026-12-31 | site=2 | decimalLongitude=-39.5 | decimalLatitude=-33.5 | acres=1 | cost=2.5 | running_cost=2.5 | exposure_removed=0
cautions=Planning aid: the product label, permits and local rules decide. Stay out of flood water, and off banks that floods have undercut. Nobody saw it this quarter: as last found in 2026Q2.

stand_id=2026Q1-0001 | plan_quarter=2026Q4 | place=2 | work=first_treatment | block=2 of 3 | why=of the best set for the money | treat_from=2026-10-15
treat_to=2026-12-31 | site=1 | waterBody=Alder Creek | river_km=33.3 | decimalLongitude=-39.9995 | decimalLatitude=-32.9996 | acres=0.4 | cost=30.1235
running_cost=32.6235 | exposure_removed=2 | chosen_percent=75
cautions=Planning aid: the product label, permits and local rules decide. Stay out of flood water, and off banks that floods have undercut. Nobody saw all of it this quarter: 0.5 infested acres of it are as last known. Assumed, not measured: aquatic.bankfull_width_by_order_m, stands.default_patch_acres. It may lie in or out of the aquatic zone: its position is uncertain by more than the setback.
`,
	"plan_quarters": `
plan_quarter=2026Q4 | budget=40 | budget_unit=hours | follow_up_cost=2.5 | follow_up_put_off=1 | first_cost=30.1235 | first_cost_most=37.5
exposure_removed=2 | exposure_bound=2.01 | exposure_waiting=6 | how_good=within 0.5 % of the best possible
`,
	"plan_held": `
stand_id=2026Q3-0001 | why=no permission | open_from=2027Q2 | keeps_seeding=2026Q1-0001; 2026Q2-0003 | exposure=2
`,
	"plan_curve": `
money=0 | exposure_removed=0 | exposure_bound=0

money=37.5 | exposure_removed=2 | exposure_bound=2.01
`,
	"followup": `
stand_id=2026Q1-0002 | quarter=2026Q3 | on_map=false | survey=not_found | state=watch | due=2026-09-20 | overdue=true | days_overdue=10
what=look again by 2026-09-20: clear in 1 of 3 years | why=not found on 2026-08-08, clear since 2026-08-08; found again after 1 clear look
management_status=resprout | last_seen=2026-02-06 | last_visit=2026-08-08 | clear_since=2026-08-08 | clear_last=2026-08-09 | clear_looks=1
treatments=0
parcel=p-2 | stream_id=la | waterBody=Alder Creek | river_km=30.5 | decimalLongitude=-39.5 | decimalLatitude=-32.5
cautions=Planning aid: the product label, permits and local rules decide. Stay out of flood water, and off banks that floods have undercut.

stand_id=2026Q1-0001 | quarter=2026Q3 | on_map=true | survey=found | state=to_treat | look_again=2027-07-12 | overdue=false | days_overdue=0
what=treat the rest, number 1 in the order; look again by 2027-07-12 at what was treated
why=treated in part on 2026-07-12, by the area drawn, and by acres whose ground nobody knows | treat_order=1 | management_status=untreated
last_seen=2026-07-09 | last_visit=2026-07-10 | clear_looks=0 | last_treated=2026-07-12 | treatments=2 | method=foliar spray
formulation_class=aquatic-labelled
earlier_ids=2026Q1-0007; 2026Q1-0009 | decimalLongitude=-39.9995 | decimalLatitude=-32.9996
cautions=Planning aid: the product label, permits and local rules decide. Stay out of flood water, and off banks that floods have undercut. Nobody saw all of it this quarter: 0.5 infested acres of it are as last known. Assumed, not measured: aquatic.bankfull_width_by_order_m, stands.default_patch_acres. It may lie in or out of the aquatic zone: its position is uncertain by more than the setback.
look_again_longitude=-39.9999 | look_again_latitude=-32.9998

stand_id=2026Q2-0003 | quarter=2026Q3 | on_map=true | survey=nobody_looked | state=look_again | due=2027-05-03 | overdue=false | days_overdue=0
what=look again by 2027-05-03 | why=seen as treated on 2026-05-03; nobody saw its ground this quarter | management_status=treated
last_seen=2026-05-03 | clear_looks=0 | treatments=0
decimalLongitude=0 | decimalLatitude=0
cautions=Planning aid: the product label, permits and local rules decide. Stay out of flood water, and off banks that floods have undercut. Nobody saw it this quarter: as last found in 2026Q2.
`,
	// the metres of the grid are from PROJ's cs2cs
	"crew_stops": `
stop=1 | gps_name=26Q2-0003 | stand_id=2026Q2-0003 | task=look again | due=2027-05-03 | what=look again by 2027-05-03
why=seen as treated on 2026-05-03; nobody saw its ground this quarter; treated on 2026-07-12 | work_from=2026-10-01 | work_to=2026-12-31
decimalLongitude=-39.5 | decimalLatitude=-33.5 | utm_zone=24H | utm_easting_m=453557.08 | utm_northing_m=6293168.93 | infested_acres=1
aquatic_zone=false

stop=2 | gps_name=26Q1-0001 | stand_id=2026Q1-0001 | task=treat block 2 of 3
what=treat the rest, number 1 in the order; look again by 2027-07-12 at what was treated
why=treated in part on 2026-07-12, by the area drawn, and by acres whose ground nobody knows; of the best set for the money
work_from=2026-10-15 | work_to=2026-12-31 | requirements=ask first; go by boat
decimalLongitude=-39.9995 | decimalLatitude=-32.9996 | utm_zone=24H | utm_easting_m=406628.51 | utm_northing_m=6348313.82
infested_acres=2 | aquatic_zone=true | owner=wet; A. Holm | permission=given until 2026-12-31, parcel p-7 | gate=chain; ford

stop=3 | gps_name=26Q1-0002 | stand_id=2026Q1-0002 | task=look again | due=2026-09-20
what=look again by 2026-09-20: clear in 1 of 3 years | why=not found on 2026-08-08, clear since 2026-08-08; found again after 1 clear look
waterBody=Alder Creek | river_km=30.5 | decimalLongitude=-39.5 | decimalLatitude=-32.5 | utm_zone=24H
utm_easting_m=453030.16 | utm_northing_m=6404030.77 | parcel=p-2
`,
	"stand_parts": `
stand_id=2026Q1-0001 | quarter=2026Q3 | part=to_treat | known_by=area and acres | treat_order=1 | infested_acres=1.2 | reach_km=11.5
exposure=5.142857 | decimalLongitude=-39.9991 | decimalLatitude=-32.9991

stand_id=2026Q1-0001 | quarter=2026Q3 | part=treated | known_by=area and acres | infested_acres=0.8 | reach_km=5.5 | exposure=2.5
look_again=2027-07-12 | decimalLongitude=-39.9999 | decimalLatitude=-32.9999
`,
	"work_done": `
date=2026-05-03 | counted_in=2026Q2 | stand_id=S9 | stands=2026Q1-0002 | waterBodies=Alder Creek | unit_ids=u2 | method=cut stump
formulation_class=general | treated_acres=0.25 | product=Reed Away | registration_number=R-13 | amount_unit=l | applicator=J. Doe | licence=L-9
start_time=08:00 | end_time=11:30 | wind_mps=1.25 | temperature_c=18.3 | hours=3.5 | key=k0

date=2026-07-12 | counted_in=2026Q3 | stand_id=2026Q1-0001 | stands=2026Q1-0001 | waterBodies=Alder Creek | unit_ids=u1; u2
decimalLongitude=-39.9999 | decimalLatitude=-32.9999 | method=foliar spray | formulation_class=aquatic-labelled | treated_acres=0.8
product=Reed Away | registration_number=R-12 | amount=2.25 | amount_unit=l | applicator=J. Doe | licence=L-9 | start_time=08:00 | end_time=11:30
wind_mps=1.25 | temperature_c=18.3 | hours=3.5 | photo_numbers=0412-0418 | treated_ground=MULTIPOLYGON(((-40 -33,-39.999 -33,-39.999 -32.999,-40 -32.999,-40 -33))) | key=k1

date=2026-07-20 | counted_in=2026Q3 | method=goats | key=k2

date=2026-07-30 | stands=2026Q1-0002 | waterBodies=Alder Creek | unit_ids=u2 | treated_acres=0.125 | product=reed  away | registration_number=r-12
amount=1.5 | amount_unit= L | applicator=J. Doe | licence=L-9 | start_time=08:00 | end_time=11:30 | wind_mps=1.25 | temperature_c=18.3 | key=k3
`,
	"products_used": `
month=2026-05 | product=Reed Away | registration_number=R-13 | jobs=1 | jobs_amount_unknown=1 | amount_unit=l | treated_acres=0.25
jobs_acres_unknown=0 | hours=3.5

month=2026-07 | product=Reed Away | registration_number=R-12 | jobs=2 | jobs_amount_unknown=0 | amount=3.75 | amount_unit=l | treated_acres=0.925
jobs_acres_unknown=0 | hours=3.5
`,
	"survey_next": `
survey_order=1 | stretch_id=la/2 | listed=true | why=exposure; planned work below a live stand: w1; random sample | stream_ids=la; lb
waterBody=Alder Creek | from_km=12.5 | to_km=12 | length_km=0.5 | decimalLongitude=-40 | decimalLatitude=-33 | looked_at=2026Q2
quarters_since_looked_at=1 | never_looked_at_percent=12.5 | exposure_density=2.5 | exposure_since_look=1.25 | exposure_counted_from=2026Q2
exposure_now=0.75 | stands_near=2 | nearest_stand_id=2026Q1-0001 | works=w1 | access=boat; track | random_sample=true | inclusion_probability=0.25

survey_order=2 | stretch_id=lb/1 | listed=false | why=never looked at; above the highest stand of its tributary | stream_ids=lb
from_km=1 | to_km=0 | length_km=1 | decimalLongitude=-40.5 | decimalLatitude=-33 | looked_at=never | never_looked_at_percent=100
exposure_density=0 | exposure_since_look=0 | exposure_counted_from=2026Q3 | exposure_now=0 | stands_near=0 | random_sample=false | inclusion_probability=0.25

survey_order=3 | stretch_id=lb/2 | listed=false | stream_ids=lb | from_km=1 | to_km=0 | length_km=1 | decimalLongitude=-40.5
decimalLatitude=-33.1 | looked_at=quarter not known | never_looked_at_percent=0 | exposure_density=0 | exposure_since_look=0
exposure_counted_from=2026Q3 | exposure_now=0 | stands_near=0 | random_sample=false | inclusion_probability=0.25
`,
	"water_work": `
part=proposed | place=all | areas=1 | areas_in_zone=1 | areas_planned=1 | acres=1.2 | zone_acres=0.25 | acres_within_7_5_m=0.125
bank_m=1739.3 | bank_ft=5706.4 | bank_mi=1.0808 | channel_m=1709.3 | channel_ft=5607.9 | channel_mi=1.0621
both_banks_m=25 | both_banks_ft=82 | both_banks_mi=0.0155 | shore_m=5 | shore_ft=16.4 | shore_mi=0.0031
proposed_months=2026-10; 2026-11 | methods=cut stump | formulation_classes=aquatic-labelled | parcels=p-7 | owners=A. Holm; wet

part=proposed | place=at water | unit_id=u1 | unit_name=East | waterBody=Alder Creek | areas=1 | areas_in_zone=1 | areas_planned=1
acres=0.9 | zone_acres=0.25 | acres_within_7_5_m=0.125 | bank_m=125 | bank_ft=410.1 | bank_mi=0.0777
channel_m=100 | channel_ft=328.1 | channel_mi=0.0621 | both_banks_m=25 | both_banks_ft=82 | both_banks_mi=0.0155 | shore_m=0 | shore_ft=0 | shore_mi=0
proposed_months=2026-10; 2026-11 | methods=cut stump | formulation_classes=aquatic-labelled | parcels=p-7 | owners=A. Holm; wet

part=proposed | place=at water | unit_id=u2 | unit_name=u2 | areas=0 | areas_in_zone=0 | areas_planned=0 | acres=0 | zone_acres=0
acres_within_7_5_m=0 | bank_m=1609.3 | bank_ft=5279.9 | bank_mi=1 | channel_m=1609.3 | channel_ft=5279.9 | channel_mi=1
both_banks_m=0 | both_banks_ft=0 | both_banks_mi=0 | shore_m=0 | shore_ft=0 | shore_mi=0

part=proposed | place=at water | unit_id=u2 | unit_name=u2 | waterBody=Alder Creek | areas=1 | areas_in_zone=0 | areas_planned=1
acres=0.3 | zone_acres=0 | acres_within_7_5_m=0 | bank_m=5 | bank_ft=16.4 | bank_mi=0.0031
channel_m=0 | channel_ft=0 | channel_mi=0 | both_banks_m=0 | both_banks_ft=0 | both_banks_mi=0 | shore_m=5 | shore_ft=16.4 | shore_mi=0.0031
proposed_months=2026-10; 2026-11 | methods=cut stump | parcels=p-7 | owners=A. Holm; wet

part=done | place=all | period=2026 | areas=2 | acres=1.175 | methods=cut stump; foliar spray; goats
formulation_classes=aquatic-labelled; general | parcels=p-7 | owners=A. Holm; wet | jobs=4 | jobs_acres_unknown=1 | repeats=1 | repeat_acres=0

part=done | place=at water | unit_id=u2 | unit_name=u2 | waterBody=Alder Creek | period=2026-05 | areas=1 | acres=0.25
methods=cut stump | formulation_classes=general | jobs=1 | jobs_acres_unknown=0 | repeats=0 | repeat_acres=0

part=done | place=at water | unit_id=u1 | unit_name=East | waterBody=Alder Creek | period=2026-07 | areas=1 | acres=0.6
methods=foliar spray | formulation_classes=aquatic-labelled | parcels=p-7 | owners=A. Holm; wet | jobs=1 | jobs_acres_unknown=0 | repeats=0 | repeat_acres=0

part=done | place=at water | unit_id=u2 | unit_name=u2 | waterBody=Alder Creek | period=2026-07 | areas=0 | acres=0.125
jobs=1 | jobs_acres_unknown=0 | repeats=1 | repeat_acres=0

part=done | place=at water | unit_id=u2 | unit_name=u2 | waterBody=Alder Creek | period=2026-07 | areas=1 | acres=0.2
methods=foliar spray | formulation_classes=aquatic-labelled | parcels=p-7 | owners=A. Holm; wet | jobs=0 | jobs_acres_unknown=0 | repeats=0 | repeat_acres=0

part=done | place=not known | period=2026-07 | areas=0 | acres=0 | methods=goats | jobs=1 | jobs_acres_unknown=1 | repeats=0 | repeat_acres=0

part=product | place=all | period=2026 | jobs=2 | jobs_acres_unknown=0 | product=Reed Away | registration_number=R-12 | amount=3.75 | amount_unit=l
jobs_amount_unknown=0

part=product | place=all | period=2026 | jobs=1 | jobs_acres_unknown=0 | product=Reed Away | registration_number=R-13 | amount_unit=l
jobs_amount_unknown=1

part=product | place=at water | unit_id=u2 | unit_name=u2 | waterBody=Alder Creek | period=2026-05 | jobs=1 | jobs_acres_unknown=0
product=Reed Away | registration_number=R-13 | amount_unit=l | jobs_amount_unknown=1

part=product | place=at water | unit_id=u1 | unit_name=East | waterBody=Alder Creek | period=2026-07 | jobs=1 | jobs_acres_unknown=0
product=Reed Away | registration_number=R-12 | amount=2.25 | amount_unit=l | jobs_amount_unknown=0

part=product | place=at water | unit_id=u2 | unit_name=u2 | waterBody=Alder Creek | period=2026-07 | jobs=1 | jobs_acres_unknown=0
product=reed  away | registration_number=r-12 | amount=1.5 | amount_unit= L | jobs_amount_unknown=0
`,
	"notices": `
notice_id=w1/2026Q1-0001 | work_id=w1 | kind=mowing | start_date=2026-10-01 | end_date=2026-10-05 | contact=the county | stand_id=2026Q1-0001
distance_m=12.35 | treat_order=1 | why=near a live stand; upstream of clean water | clean_reach_km=2.5
caution=go round the stand: keep people, machines and storage out of it; do not cut, mow or dig through it; inspect and clean machines and tools before they come and before they leave; inspect fill, soil and gravel before they are brought and before they are taken away; take none from the stand; pick up every piece of cane and root, and dry it on firm ground away from the water; let nothing float off: keep pieces out of the channel and off the bank

notice_id=w2/2026Q3-0001 | work_id=w2 | stand_id=2026Q3-0001 | distance_m=0 | treat_order=3
caution=inspect and clean machines and tools before they come and before they leave; inspect fill, soil and gravel before they are brought and before they are taken away; take none from the stand; pick up every piece of cane and root, and dry it on firm ground away from the water
`,
	"lineage": `
stand_id=2026Q1-0001 | quarter=2026Q3 | change=grown | previous_id=2026Q1-0001 | previous_quarter=2026Q2 | keeps_id=true | shared_acres=1.375
apart_m=0 | previous_acres=1.5 | infested_acres=2 | visited=true | surveyed_percent=75.1

quarter=2026Q3 | change=not detected | previous_id=2026Q1-0002 | previous_quarter=2026Q2 | keeps_id=false | previous_acres=0.625 | visited=true
surveyed_percent=100

stand_id=2026Q2-0003 | quarter=2026Q3 | change=not resurveyed | previous_id=2026Q2-0003 | previous_quarter=2026Q2 | keeps_id=true | previous_acres=1
infested_acres=1 | visited=false | surveyed_percent=0

stand_id=2026Q3-0001 | quarter=2026Q3 | change=new | keeps_id=false | infested_acres=0.5
`,
	"stand_changes": `
stand_id=2026Q1-0001 | quarter=2026Q3 | scope=unit | name=East | unit_id=u1 | shared=false | gross_since_last_look_acres=0
infested_since_last_look_acres=-0.1875 | canopy_since_last_look_acres=0.15625 | zone_since_last_look_acres=0.1875
treated_stands_since_last_look_acres=0 | standing_dead_since_last_look_acres=0

stand_id=2026Q1-0001 | quarter=2026Q3 | scope=unit | name=u2 | unit_id=u2 | shared=false | gross_since_last_look_acres=0.875
infested_since_last_look_acres=0.4375 | canopy_since_last_look_acres=0.21875 | zone_since_last_look_acres=0 | treated_stands_since_last_look_acres=0
standing_dead_since_last_look_acres=0

stand_id=2026Q1-0001 | quarter=2026Q3 | scope=waterBody | name=Alder Creek | shared=false | gross_since_last_look_acres=0.875
infested_since_last_look_acres=0.25 | canopy_since_last_look_acres=0.375 | zone_since_last_look_acres=0.1875 | treated_stands_since_last_look_acres=0
standing_dead_since_last_look_acres=0

stand_id=2026Q1-0002 | quarter=2026Q3 | scope=unit | name=u2 | unit_id=u2 | shared=false | gross_since_last_look_acres=-0.75
infested_since_last_look_acres=-0.625 | canopy_since_last_look_acres=-0.375 | zone_since_last_look_acres=-0.0625
treated_stands_since_last_look_acres=0 | standing_dead_since_last_look_acres=0

stand_id=2026Q1-0002 | quarter=2026Q3 | scope=waterBody | name=Alder Creek | shared=false | gross_since_last_look_acres=-0.75
infested_since_last_look_acres=-0.625 | canopy_since_last_look_acres=-0.375 | zone_since_last_look_acres=-0.0625
treated_stands_since_last_look_acres=0 | standing_dead_since_last_look_acres=0

stand_id=2026Q3-0001 | quarter=2026Q3 | scope=unit | name=u2 | unit_id=u2 | shared=false | gross_since_last_look_acres=0.5
infested_since_last_look_acres=0.5 | canopy_since_last_look_acres=0 | zone_since_last_look_acres=0.125 | treated_stands_since_last_look_acres=0
standing_dead_since_last_look_acres=0.5

stand_id=2026Q3-0001 | quarter=2026Q3 | scope=unnamed | shared=false | gross_since_last_look_acres=0.5 | infested_since_last_look_acres=0.5
canopy_since_last_look_acres=0 | zone_since_last_look_acres=0.125 | treated_stands_since_last_look_acres=0 | standing_dead_since_last_look_acres=0.5
`,
	"absent": `
stand_id=2026Q1-0002 | quarter=2026Q3 | last_quarter=2026Q2 | absent_since=2026Q3 | visited=true | first_detected=2026-01-05
last_detected=2026-02-06 | management_status=resprout | isolated=true | gross_acres=0.75 | infested_acres=0.625 | canopy_acres=0.375
zone_acres=0.0625 | stream_id=la | waterBody=Alder Creek | river_km=30.5
`,
	"looked_at": `
quarter=2026Q3 | area_km2=0.0104
`,
	"ever_mapped": `
quarter=2026Q3 | stage=live | stands=0 | acres=0

quarter=2026Q3 | stage=lost_again | stands=1 | acres=2

quarter=2026Q3 | stage=treated | stands=1 | acres=1

quarter=2026Q3 | stage=standing_dead | stands=1 | acres=0.5

quarter=2026Q3 | stage=no_longer_found | stands=0 | acres=0.6

quarter=2026Q3 | stage=not_detected | stands=0 | acres=0

quarter=2026Q3 | stage=clear_1_year | stands=1 | acres=0.8

quarter=2026Q3 | stage=clear_2_years | stands=0 | acres=0

quarter=2026Q3 | stage=released | stands=0 | acres=0

quarter=2026Q3 | stage=ever_mapped | stands=4 | acres=4.9
`,
	"network": `
stream_id=la | waterBody=Alder Creek | component=0 | stream_order=3 | order_used=4 | minor_path=false | flow_share_percent=75.6 | river_km=21.05
length_km=12.25 | upstream_km=44.5 | drainage_km2=99.5 | found=gap; loop

stream_id=lb | component=1 | stream_order=1 | order_used=1 | minor_path=true | flow_share_percent=100 | river_km=0 | length_km=0.25 | upstream_km=0.25
`,
	"findings": `
severity=warning | code=no-cover | file=survey.csv | record=r2 | field=canopy_cover_percent | value=n/a | message=the default stood in
remedy=record it | decimalLongitude=-39.99901 | decimalLatitude=-32.9991

severity=error | code=nowhere | file=survey.csv | record=row 9 | message=rejected | remedy=look it up
`,
}
