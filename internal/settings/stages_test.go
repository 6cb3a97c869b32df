package settings

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

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

// told is a settings file that gives each number a value of its own, so that none can stand in for
// another.
const told = `
[stands]
join_distance_m = 31
min_points = 4
default_patch_acres = 0.11
default_cover_percent = 61
[lineage]
overlap_share = 0.26
position_uncertainty_m = 6
barrier_width_m = 12
unseen_share = 0.06
kept_within = 0.12
found_m = { foot = 51, boat = 52, air = 101, image = 3 }
absent_m = { foot = 21, boat = 26, air = 53, image = 2 }
[uncertainty]
patch_own_share = 0.41
patch_shared_share = 0.13
default_patch_share = 0.51
default_cover_points = 22
[aquatic]
setback_m = 32
bankfull_width_by_order_m = [3, 5]
[network]
snap_m = 1.5
close_gap_m = 2.5
digitised = "upstream"
[drift]
half_distance_by_order_km = [0.4, 1.1]
flood_factor = 5
flood_discharge_ratio = 16
flood_release = 3
flood_source_width_m = 7
risk_share = 0.07
fragments_per_acre = 2
treated_release = 0.14
exposure_breaks = [0.08, 0.6]
velocity_by_order_mps = [0.3, 0.45]
viable_days = 9
draws = 150
seed = 8
half_distance_gsd = 1.7
pass_spread = 0.55
release_gsd = 2.2
setback_spread_m = 11
dry_at_base = "intermittent"
pass = { dam = 0.31, reservoir = 0.32, weir = 0.71, culvert = 0.91, lake = 0.33 }
flood_overtop = { dam = 0.01, reservoir = 0.02, weir = 0.03, culvert = 0.04, lake = 0.05 }
[treatment]
hand_pull_m2 = 13
revisit_months = 14
clear_years = 6
season_from_month = 4
season_to_month = 10
retreat_days = 62
notice_m = 110
permit = "ask the river board"
[plan]
budget = 1000
unit = "hours"
quarters = 3
set_up_cost = 15
cost_per_acre = 16
factor_column = "way in"
factors = { " Boat" = 2.5, "boat" = 3, "road" = 1 }
follow_up_first = "no"
outliers_first = "yes"
block_acres = 5.5
site_distance_m = 120
look_first_quarters = 5
efficacy = 0.9
regrowth = 0.15
growth = 0.25
follow_up_labour = [0.09, 0.04]
[crew]
meeting_place = "the mill"
emergency = "channel 4"
drying_place = "the yard"
stop_when = "wind above 5 m/s"
owner_column = "holder"
permission_column = "leave"
gate_column = "lock"
most_stops = 70
[report]
programme = "Water Board"
[survey_next]
stretch_km = 1.25
list_share = 0.15
places_share = 0.3
random_share = 0.35
seed = 17
near_m = 510
[maps]
chord_m = 0.2
`

// stagesOf converts these settings with one more.
func stagesOf(t *testing.T, more ...string) Stages {
	t.Helper()
	s, err := Read(strings.NewReader(told), "told.toml", Default())
	for _, one := range more {
		if err == nil {
			s, err = s.Set(one)
		}
	}
	if err != nil {
		t.Fatal(err)
	}
	out, err := s.Stages()
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// TestEverySettingReachesItsStage: each number of the file, by hand, stands where its stage uses it, in
// the unit of that stage.
func TestEverySettingReachesItsStage(t *testing.T) {
	want := Stages{
		Stands: stand.Settings{JoinDistance: 31, MinPoints: 4, DefaultPatch: 0.11, DefaultCover: 61, Chord: 0.2},
		Lineage: lineage.Settings{
			JoinDistance: 31, DefaultPatch: 0.11, OverlapShare: 0.26, Uncertainty: 6, Barrier: 12, UnseenShare: 0.06, KeptWithin: 0.12,
			Sight: [surveyed.Methods]lineage.Sight{surveyed.Foot: {Found: 51, Absent: 21}, surveyed.Boat: {Found: 52, Absent: 26}, surveyed.Air: {Found: 101, Absent: 53}, surveyed.Image: {Found: 3, Absent: 2}},
		},
		Margin:  margin.Settings{Position: 6, PatchOwn: 0.41, PatchShared: 0.13, DefaultPatch: 0.51, DefaultCover: 22},
		Aquatic: aquatic.Settings{Setback: 32, Chord: 0.2, WidthByOrder: []geo.Meters{3, 5}, Margin: 11},
		Network: flow.Options{Snap: 1.5, CloseGap: 2.5, Upstream: true},
		Stage:   "base",
		Drift: drift.Settings{
			HalfDistanceByOrder: []geo.Kilometers{0.4, 1.1}, FloodFactor: 1, VelocityFactor: 1, RiskShare: 0.07, FragmentsPerAcre: 2, TreatedRelease: 0.14,
			ExposureBreaks: [2]drift.Amount{0.08, 0.6}, VelocityByOrder: []geo.MetersPerSecond{0.3, 0.45}, Viable: 9,
			Pass: map[string]geo.Share{"dam": 0.31, "reservoir": 0.32, "weir": 0.71, "culvert": 0.91, "lake": 0.33},
			Dry:  map[stream.Permanence]bool{stream.Intermittent: true, stream.Ephemeral: true},
		},
		Spread:    drift.Spread{Draws: 150, Seed: 8, HalfDistanceGSD: 1.7, PassSpread: 0.55, ReleaseGSD: 2.2, Setback: 11},
		Treatment: priority.Settings{HandPull: 13, Permit: "ask the river board"},
		Followup:  followup.Settings{RevisitMonths: 14, ClearYears: 6, Season: [2]int{4, 10}, RetreatDays: 62, JoinDistance: 31},
		Notice:    notice.Settings{Distance: 110},
		Plan: plan.Settings{
			Budget: 1000, Unit: "hours", Quarters: 3, SetUp: 15, PerAcre: 16, OutliersFirst: true, Block: 5.5, SiteDistance: 120, LookFirst: 5,
			Efficacy: 0.9, Regrowth: 0.15, Growth: 0.25, Labour: []geo.Share{0.09, 0.04},
		},
		Crew: crew.Settings{
			Programme: "Water Board", MeetingPlace: "the mill", Emergency: "channel 4", Drying: "the yard", StopWhen: "wind above 5 m/s",
			Owner: "holder", Permission: "leave", Gate: "lock", MostStops: 70,
		},
		Factors: map[string]float64{"boat": 3, "road": 1}, FactorOf: "way in", // of two words that are one the larger factor
		SurveyNext: stretch.Settings{Length: 1.25, ListShare: 0.15, PlacesShare: 0.3, RandomShare: 0.35, Seed: 17, Near: 510},
	}
	if d := cmp.Diff(want, stagesOf(t)); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
}

// TestFloodStage: at flood distances, release and velocity are larger, barriers are overtopped, no line
// is dry and stands beyond the zone release too. Velocity goes with the 0.34th power of discharge
// (Leopold and Maddock 1953): 16^0.34 = 2.567.
func TestFloodStage(t *testing.T) {
	base := stagesOf(t).Drift
	flood := base
	flood.FloodFactor, flood.VelocityFactor, flood.FragmentsPerAcre, flood.Dry = 5, 2.5668517951258, 6, nil
	flood.Overtop = map[string]geo.Share{"dam": 0.01, "reservoir": 0.02, "weir": 0.03, "culvert": 0.04, "lake": 0.05}
	near := cmp.Comparer(func(a, b drift.Factor) bool { return math.Abs(float64(a-b)) < 1e-12 })
	alone := stagesOf(t, "drift.stage=flood")
	if d := cmp.Diff(flood, alone.Drift, near); d != "" || alone.Stage != "flood" || alone.Beyond != 7 || alone.Flood != nil || alone.FloodBeyond != 0 || alone.Aquatic.Margin != 18 {
		t.Errorf("flood: %s %v beyond, margin %v: %s", alone.Stage, alone.Beyond, alone.Aquatic.Margin, d)
	}
	both := stagesOf(t, "drift.stage=both", "drift.draws=0")
	if d := cmp.Diff(&flood, both.Flood, near) + cmp.Diff(base, both.Drift); d != "" || both.Stage != "base" || both.Beyond != 0 || both.FloodBeyond != 7 || both.Aquatic.Margin != 7 {
		t.Errorf("both: %s %v beyond, margin %v: %s", both.Stage, both.FloodBeyond, both.Aquatic.Margin, d)
	}
	if with := stagesOf(t, "drift.stage=both"); with.Aquatic.Margin != 11 { // the spread of the setback in the draws is larger
		t.Errorf("margin %v", with.Aquatic.Margin)
	}
	if none := stagesOf(t, "drift.dry_at_base=none"); none.Drift.Dry != nil {
		t.Errorf("dry: %v", none.Drift.Dry)
	}
	if some := stagesOf(t, "drift.dry_at_base=ephemeral"); !cmp.Equal(some.Drift.Dry, map[stream.Permanence]bool{stream.Ephemeral: true}) {
		t.Errorf("dry: %v", some.Drift.Dry)
	}
}

// TestWhatIsAssumed: which assumed settings a batch depends on by what it has; by hand. Those of a flood
// count where there is one, those of lineage with a batch before, of works with works.
func TestWhatIsAssumed(t *testing.T) {
	at := func(given Given, set ...string) []string {
		s := Default()
		var err error
		for _, one := range set {
			if s, err = s.Set(one); err != nil {
				t.Fatal(err)
			}
		}
		return s.Assumed(given)
	}
	plain := at(Given{})
	for _, c := range []struct {
		given Given
		set   string
		more  []string // beyond those of a plain batch
	}{
		{Given{}, "plan.unit=days", nil},
		{Given{Works: true}, "plan.unit=days", []string{"treatment.notice_m"}},
		{Given{Flow: true}, "plan.unit=days", []string{"drift.dry_at_base"}},
		{Given{Previous: true}, "plan.unit=days", []string{
			"lineage.absent_m.air", "lineage.absent_m.boat", "lineage.absent_m.foot", "lineage.absent_m.image", "lineage.barrier_width_m", "lineage.found_m.air", "lineage.found_m.boat", "lineage.found_m.foot",
			"lineage.found_m.image", "lineage.kept_within", "lineage.overlap_share", "lineage.position_uncertainty_m", "lineage.unseen_share",
		}},
		{Given{}, "plan.budget=9", []string{"plan.block_acres", "plan.efficacy", "plan.growth", "plan.look_first_quarters", "plan.quarters", "plan.regrowth"}},
		{Given{}, "drift.stage=both", []string{
			"drift.flood_discharge_ratio", "drift.flood_factor", "drift.flood_overtop.culvert", "drift.flood_overtop.dam", "drift.flood_overtop.lake", "drift.flood_overtop.reservoir", "drift.flood_overtop.weir",
			"drift.flood_release", "drift.flood_source_width_m",
		}},
	} {
		got := at(c.given, c.set)
		more := slices.DeleteFunc(slices.Clone(got), func(key string) bool { return slices.Contains(plain, key) })
		want := c.more
		if c.set == "drift.stage=both" { // set, and so no longer assumed
			want = slices.Clone(want)
			got = append(got, "drift.stage")
		}
		if d := cmp.Diff(want, more, cmp.Transformer("", func(s []string) []string { return append([]string{}, s...) })); d != "" || len(got) != len(plain)+len(want) {
			t.Errorf("%+v %s: %s", c.given, c.set, d)
		}
	}
	if with := at(Given{}, "plan.budget=9", "plan.set_up_cost=1"); !slices.Contains(with, "plan.site_distance_m") {
		t.Error("with a cost of setting up the distance between sites matters")
	}
	for _, key := range plain {
		if strings.HasPrefix(key, "drift.flood_") || strings.HasPrefix(key, "crew.") || strings.HasPrefix(key, "report.") || strings.HasPrefix(key, "survey_next.") {
			t.Errorf("%s is assumed", key)
		}
	}
}

// TestSettingsApart: which settings of two batches differ in what matters for figures, and which of them
// for reach; by hand.
func TestSettingsApart(t *testing.T) {
	base := Default()
	for set, want := range map[string]string{
		"stands.join_distance_m=31": "stands.join_distance_m; stands.join_distance_m; ", "aquatic.setback_m=31": "aquatic.setback_m; aquatic.setback_m; aquatic.setback_m",
		"network.snap_m=2": "network.snap_m; network.snap_m; network.snap_m", "drift.pass.dam=0.2": "drift.pass.dam; drift.pass.dam; ", "drift.viable_days=9": "drift.viable_days; drift.viable_days; ",
		"drift.draws=10": "drift.draws; ; ", "drift.seed=2": "drift.seed; ; ", "drift.half_distance_gsd=2": "drift.half_distance_gsd; ; ", "drift.pass_spread=0.4": "drift.pass_spread; ; ", "drift.release_gsd=3": "drift.release_gsd; ; ",
		"drift.setback_spread_m=9": "drift.setback_spread_m; ; ", "lineage.kept_within=0.2": "lineage.kept_within; ; ", "survey.largest_patch_m2=99": "survey.largest_patch_m2; ; ", "treatment.notice_m=99": "treatment.notice_m; ; ",
		"treatment.permit=ask": "; ; ", "plan.budget=9": "; ; ", "crew.most_stops=9": "; ; ", "report.goal_acres=9": "; ; ", "survey_next.seed=9": "; ; ", "water_work.write=never": "; ; ", "public.grid_m=500": "; ; ",
		"trend.serial_correlation=0.4": "; ; ", "limits.members=9": "; ; ",
	} {
		other, err := base.Set(set)
		if err != nil {
			t.Fatal(err)
		}
		keys := Apart(base.AsMap(), other.AsMap())
		got := strings.Join(keys, ", ") + "; " + strings.Join(OfReach(keys), ", ") + "; " + strings.Join(InTables(keys, "aquatic", "network"), ", ")
		if back := Apart(other.AsMap(), base.AsMap()); got != want || !slices.Equal(back, keys) {
			t.Errorf("%s: %q and back %q, want %q", set, got, back, want)
		}
	}
	older := base.AsMap()
	delete(older["stands"].(map[string]any), "min_points")
	delete(older, "maps")
	delete(older, "crew")
	if got := strings.Join(Apart(older, base.AsMap()), " "); got != "maps stands.min_points" {
		t.Errorf("an older batch differs in %q", got)
	}
}

// TestSettingsOfAManifest: the settings of a manifest are read back, but for the words for columns and
// files. What it has not gets its default, and what is out of range is refused.
func TestSettingsOfAManifest(t *testing.T) {
	s, err := Read(strings.NewReader(told+"\n[columns.points]\noccurrenceID = \"Find No\"\n[values.barrier]\nbeam = \"dam\"\n"), "told.toml", Default())
	if err != nil {
		t.Fatal(err)
	}
	got, err := Of(s.AsMap())
	if err != nil || len(got.Columns["points"]) != 0 || len(got.Values) != 0 {
		t.Errorf("%v, %v, %v", err, got.Columns, got.Values)
	}
	for _, setting := range Table() {
		if is, was := setting.Value(&got), setting.Value(&s); is != was {
			t.Errorf("%s is %s, want %s", setting.Key, is, was)
		}
	}
	if empty, err := Of(nil); err != nil || !cmp.Equal(empty, Default()) {
		t.Errorf("of nothing: %v %s", err, cmp.Diff(Default(), empty))
	}
	bad := s.AsMap()
	bad["stands"].(map[string]any)["min_points"] = 0.0
	if _, err := Of(bad); err == nil {
		t.Error("no points are taken")
	}
	bad["stands"] = "none"
	if _, err := Of(bad); err == nil || !strings.HasPrefix(err.Error(), "read the settings of a manifest: ") {
		t.Errorf("a word for a table: %v", err)
	}
}

// TestSettingsForThePublic: nothing of people, files and their words is left, and every figure is.
func TestSettingsForThePublic(t *testing.T) {
	s, err := Read(strings.NewReader(told+"\n[inputs]\npoints = \"crew-{quarter}.csv\"\n[columns.points]\noccurrenceID = \"Find No\"\n[values.barrier]\nbeam = \"dam\"\n[units.points]\npatch_area_m2 = \"ac\"\n[files.\"a*\"]\nskip_lines = 2\n"), "told.toml", Default())
	if err != nil {
		t.Fatal(err)
	}
	public := s.ForPublic()
	if len(public.Inputs) != 0 || len(public.Columns["points"]) != 0 || len(public.Values) != 0 || len(public.Files) != 0 || len(public.Units["points"]) != 0 || public.Crew != Default().Crew || len(public.Plan.Factors) != 0 || public.Plan.FactorColumn != "" {
		t.Errorf("%+v", public)
	}
	for _, setting := range Table() {
		is, was, plain := setting.Value(&public), setting.Value(&s), Default()
		if hidden := strings.HasPrefix(setting.Key, "crew.") || setting.Key == "plan.factor_column"; hidden && is != setting.Value(&plain) || !hidden && is != was {
			t.Errorf("%s is %s, was %s", setting.Key, is, was)
		}
	}
	if len(s.Inputs) == 0 || len(s.Plan.Factors) != 3 || s.Crew.MostStops != 70 {
		t.Error("the settings themselves were changed")
	}
}
