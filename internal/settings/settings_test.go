package settings

import (
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/internal/column"
	"driftreach/internal/survey"
)

// The defaults are the product's contract, written here a second time by hand so that a mistake in
// either place shows.
func TestDefaultsAreTheContract(t *testing.T) {
	want := map[string]string{
		"lineage.overlap_share": "0.25", "lineage.position_uncertainty_m": "5", "lineage.kept_within": "0.1",
		"lineage.barrier_width_m": "10", "lineage.unseen_share": "0.05",
		"lineage.found_m.foot": "50", "lineage.found_m.boat": "50", "lineage.found_m.air": "100", "lineage.found_m.image": "0",
		"lineage.absent_m.foot": "20", "lineage.absent_m.boat": "25", "lineage.absent_m.air": "50", "lineage.absent_m.image": "0",
		"stands.join_distance_m": "30", "stands.min_points": "3", "stands.default_patch_acres": "0.1",
		"stands.default_cover_percent": "60", "stands.cover_table": `"daubenmire"`,
		"aquatic.setback_m": "30", "aquatic.bankfull_width_by_order_m": "[2, 4, 8, 16, 32, 64]", "limits.file_mb": "65536", "limits.member_mb": "4096", "limits.members": "10000", "limits.expansion": "200",
		"limits.records": "50000000", "limits.record_mb": "16", "limits.vertices": "10000000", "limits.columns": "2000", "limits.nesting": "100",
		"network.snap_m": "1", "network.close_gap_m": "0", "network.digitised": `"downstream"`,
		"survey.largest_patch_m2":         "1000000",
		"drift.half_distance_by_order_km": "[0.35, 0.35, 1, 1, 2.3]", "drift.stage": `"base"`, "drift.flood_factor": "4",
		"drift.risk_share": "0.05", "drift.fragments_per_acre": "1", "drift.treated_release": "0.1",
		"drift.pass.dam": "0.3", "drift.pass.lake": "0.3", "drift.pass.reservoir": "0.3", "drift.pass.weir": "0.7", "drift.pass.culvert": "0.9",
		"drift.exposure_breaks": "[0.05, 0.5]", "drift.velocity_by_order_mps": "[0.2, 0.25, 0.35, 0.5, 0.7]", "drift.viable_days": "10",
		"drift.draws": "200", "drift.seed": "1", "drift.half_distance_gsd": "1.6", "drift.pass_spread": "0.5",
		"drift.flood_discharge_ratio": "10", "drift.flood_release": "1", "drift.flood_source_width_m": "0", "drift.dry_at_base": `"ephemeral"`,
		"drift.flood_overtop.dam": "0", "drift.flood_overtop.lake": "0", "drift.flood_overtop.reservoir": "0", "drift.flood_overtop.weir": "0", "drift.flood_overtop.culvert": "0",
		"drift.release_gsd": "2", "drift.setback_spread_m": "10",
		"treatment.hand_pull_m2": "10", "treatment.revisit_months": "12", "treatment.clear_years": "5", "treatment.notice_m": "100",
		"survey_next.list_share": "0.1", "survey_next.near_m": "500", "survey_next.places_share": "0.2", "survey_next.random_share": "0.2",
		"survey_next.seed": "1", "survey_next.stretch_km": "1", "survey_next.write": `"auto"`, "water_work.write": `"auto"`, "water_work.distances_m": "[]",
		"public.grid_m":            "1000",
		"treatment.permit":         `"have the permit or approved proposal that your jurisdiction asks for before work in or at the water"`,
		"trend.serial_correlation": "0.5", "maps.chord_m": "0.1",
		"uncertainty.patch_own_share": "0.4", "uncertainty.patch_shared_share": "0.1", "uncertainty.default_patch_share": "0.5", "uncertainty.default_cover_points": "20",
		"survey.since": `""`,
		"plan.budget":  "0", "plan.unit": `""`, "plan.quarters": "1", "plan.set_up_cost": "0", "plan.cost_per_acre": "0", "plan.factor_column": `""`,
		"plan.follow_up_first": `"yes"`, "plan.outliers_first": `"no"`, "plan.block_acres": "5", "plan.site_distance_m": "100", "plan.look_first_quarters": "4",
		"plan.efficacy": "1", "plan.regrowth": "0", "plan.growth": "0", "plan.follow_up_labour": "[0.083, 0.036, 0.03, 0.024]",
		"report.title": `""`, "report.programme": `""`, "report.goal_acres": "0", "report.goal_year": "0",
		"crew.meeting_place": `""`, "crew.emergency": `""`, "crew.drying_place": `""`, "crew.stop_when": `""`, "crew.most_stops": "60",
		"crew.owner_column": `"owner"`, "crew.permission_column": `"permission"`, "crew.gate_column": `"gate"`,
		"treatment.season_from_month": "3", "treatment.season_to_month": "11", "treatment.retreat_days": "60",
	}
	got := map[string]string{}
	s := Default()
	for _, setting := range Table() {
		got[setting.Key] = valueText(setting.at(&s))
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("defaults (-want +got):\n%s", diff)
	}
	if err := s.Validate(); err != nil {
		t.Errorf("defaults do not validate: %v", err)
	}
}

func TestEverySettingIsDescribed(t *testing.T) {
	for _, setting := range Table() {
		if setting.Meaning == "" || setting.Source == "" || strings.HasSuffix(setting.Meaning, ".") {
			t.Errorf("%s: meaning %q, source %q", setting.Key, setting.Meaning, setting.Source)
		}
		if setting.Origin == Assumed != strings.HasPrefix(setting.Source, "our choice") {
			t.Errorf("%s: origin %s with source %q", setting.Key, setting.Origin, setting.Source)
		}
	}
}

// Reading a settings file over others changes only the settings that it names, and leaves the base
// unchanged.
func TestReadSettingsOverlays(t *testing.T) {
	base := Default()
	got, err := Read(strings.NewReader(`
[stands]
join_distance_m = 25
[drift]
pass = { dam = 0 }
half_distance_by_order_km = [1]
stage = "flood"
[columns.points]
OCCURRENCEID = "Find No"
[values.management_status]
"dead, standing" = "standing_dead"
`), "mine.toml", base)
	if err != nil {
		t.Fatal(err)
	}
	want := Default()
	want.Stands.JoinDistance = 25
	want.Drift.Pass.Dam = 0
	want.Drift.HalfDistanceByOrder = []float64{1}
	want.Drift.Stage = FloodStage
	want.Columns["points"]["occurrenceID"] = column.Names{"Find No"}
	want.Values["management_status"] = map[string]string{"dead, standing": "standing_dead"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("settings (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff(Default(), base); diff != "" {
		t.Errorf("base was changed (-want +got):\n%s", diff)
	}
}

// Settings of the previous release that have no effect any more are accepted with any value. Each
// gives a finding and changes nothing else.
func TestRemovedSettingsAreTakenWithAFinding(t *testing.T) {
	got, err := Read(strings.NewReader("[stands]\njoin_distance_m = 25\n[lineage]\nseen_distance_m = 50\nsurveyed_share = [1, 2]\n"), "some/mine.toml", Default())
	if err != nil {
		t.Fatal(err)
	}
	more, err := got.Set("lineage.surveyed_share=0.5")
	if err != nil {
		t.Fatal(err)
	}
	var told []string
	for _, f := range more.Removed {
		told = append(told, f.Rule.Code+" "+f.File+" "+f.Field+" "+f.Value)
	}
	want := []string{
		"setting-removed mine.toml lineage.seen_distance_m 50", "setting-removed mine.toml lineage.surveyed_share [1 2]",
		`setting-removed --set "lineage.surveyed_share=0.5" lineage.surveyed_share 0.5`,
	}
	if diff := cmp.Diff(want, told); diff != "" || len(got.Removed) != 2 {
		t.Errorf("findings (-want +got):\n%s", diff)
	}
	plain := Default()
	plain.Stands.JoinDistance = 25
	plain.Removed = more.Removed
	if diff := cmp.Diff(plain, more); diff != "" {
		t.Errorf("settings (-want +got):\n%s", diff)
	}
}

// Expected messages are derived by hand from the settings table.
func TestBadSettingsNameTheRemedy(t *testing.T) {
	cases := []struct{ name, text, problem, remedy string }{
		{"misspelt key", "[stands]\njoin_distanc_m = 25\n", "mine.toml line 2: unknown setting stands.join_distanc_m", "did you mean stands.join_distance_m?"},
		{"key without its table", "setback_m = 25\n", "unknown setting setback_m", "did you mean aquatic.setback_m?"},
		{"a later release's key", "[treatment]\ncosts_per_acre = 5\n", "unknown setting treatment.costs_per_acre", "`driftreach settings` lists every key"},
		{"below the range", "[stands]\njoin_distance_m = 0\n", "stands.join_distance_m cannot be 0", "takes 1 to 1000 (m)"},
		{"not a number", "[stands]\njoin_distance_m = nan\n", "stands.join_distance_m cannot be NaN", "takes 1 to 1000 (m)"},
		{"infinite", "[aquatic]\nsetback_m = inf\n", "aquatic.setback_m cannot be +Inf", "takes 0 to 1000 (m)"},
		{"open end", "[stands]\ndefault_patch_acres = 0\n", "cannot be 0", "above 0, up to 100 (ac)"},
		{"text for a number", "[stands]\njoin_distance_m = \"far\"\n", "mine.toml line 2: stands.join_distance_m cannot be", "takes 1 to 1000 (m)"},
		{"fraction for a count", "[stands]\nmin_points = 2.5\n", "stands.min_points cannot be", "takes 1 to 1000 (points)"},
		{"unknown word", "[drift]\nstage = \"spate\"\n", `drift.stage cannot be "spate"`, "takes base or flood"},
		{"empty list", "[aquatic]\nbankfull_width_by_order_m = []\n", "cannot be []", "1 to 12 values, each above 0, up to 5000 (m)"},
		{"bad entry", "[aquatic]\nbankfull_width_by_order_m = [2, -4]\n", "cannot be [2, -4]", "1 to 12 values"},
		{"falling breaks", "[drift]\nexposure_breaks = [0.5, 0.05]\n", "cannot be [0.5, 0.05]", "2 rising values"},
		{"blank words", "[treatment]\npermit = \" \"\n", `treatment.permit cannot be " "`, "one line of up to 200 characters, no semicolon"},
		{"two lines of words", "[treatment]\npermit = \"a\\nb\"\n", "treatment.permit cannot be", "one line"},
		{"words that part a list", "[treatment]\npermit = \"a; b\"\n", "treatment.permit cannot be", "no semicolon"},
		{"endless words", "[treatment]\npermit = \"" + strings.Repeat("w", 201) + "\"\n", "treatment.permit cannot be", "200 characters"},
		{"barrier nobody knows", "[drift.pass]\ndamm = 0.5\n", "unknown setting drift.pass.damm", "did you mean drift.pass.dam?"},
		{"column nobody knows", "[columns.points]\noccurenceID = \"id\"\n", "unknown setting columns.points.occurenceID", "did you mean columns.points.occurrenceID?"},
		{"column twice", "[columns.points]\nparcel = \"a\"\nPARCEL = \"b\"\n", "columns.points.parcel is set twice", "keep one"},
		{"words under an input", "[values.points.occurrenceStatus]\nyes = \"detected\"\n", "[values.points.occurrenceStatus] holds single values", "[values.FIELD]"},
		{"a path of Windows", "[inputs]\nstreams = \"C:\\Users\\me\\s.gpkg\"\n", "mine.toml line 2", "write paths with / or between '...'"},
		{"a path with an escape", "[inputs]\nstreams = \"in\\new.gpkg\"\n", `inputs.streams cannot be "in\new.gpkg"`, "write paths with / or between '...'"},
		{"broken text", "[stands\n", "mine.toml line 1", "settings are TOML"},
		{"a picture", "\x89PNG\r\n\x1a\n", "mine.toml line 1", "settings are TOML"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, err := Read(strings.NewReader(c.text), "mine.toml", Default())
			var bad *Error
			if !errors.As(err, &bad) {
				t.Fatalf("error %v is no SettingError", err)
			}
			if !strings.Contains(bad.Error(), c.problem) || !strings.Contains(bad.Hint(), c.remedy) {
				t.Errorf("got  %q hint %q\nwant %q hint %q", bad.Error(), bad.Hint(), c.problem, c.remedy)
			}
		})
	}
}

func TestSetTakesBareWordsAndLists(t *testing.T) {
	cases := []struct {
		name, assignment string
		want             func(*Settings)
	}{
		{"whole number for a length", "stands.join_distance_m=25", func(s *Settings) { s.Stands.JoinDistance = 25 }},
		{"spaces", " stands.min_points = 4 ", func(s *Settings) { s.Stands.MinPoints = 4 }},
		{"bare word", "drift.stage=flood", func(s *Settings) { s.Drift.Stage = FloodStage }},
		{"quoted word", `drift.stage="flood"`, func(s *Settings) { s.Drift.Stage = FloodStage }},
		{"bare day", "survey.since=2026-01-15", func(s *Settings) { s.Survey.Since = "2026-01-15" }},
		{"name of a file", "inputs.out=out/{quarter}", func(s *Settings) { s.Inputs = InputSettings{"out": {"out/{quarter}"}} }},
		{"lines of a file", "files.a.skip_lines=3", func(s *Settings) { s.Files["a"] = FileSettings{SkipLines: 3} }},
		{"bare sentence", "treatment.permit=have notice 7 sent, signed", func(s *Settings) { s.Treatment.Permit = "have notice 7 sent, signed" }},
		{"bare list", "aquatic.bankfull_width_by_order_m=2,5.5", func(s *Settings) { s.Aquatic.WidthByOrder = []float64{2, 5.5} }},
		{"bracketed list", "aquatic.bankfull_width_by_order_m=[2,5.5]", func(s *Settings) { s.Aquatic.WidthByOrder = []float64{2, 5.5} }},
		{"nested", "drift.pass.weir=1", func(s *Settings) { s.Drift.Pass.Weir = 1 }},
		{"column with a space", "columns.points.parcel=Lot No", func(s *Settings) { s.Columns["points"]["parcel"] = column.Names{"Lot No"} }},
		{"word with dot and quote", `values.management_status.dead "st."=standing_dead`, func(s *Settings) {
			s.Values["management_status"] = map[string]string{`dead "st."`: "standing_dead"}
		}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got, err := Default().Set(c.assignment)
			if err != nil {
				t.Fatal(err)
			}
			want := Default()
			c.want(&want)
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("settings (-want +got):\n%s", diff)
			}
		})
	}
	for _, bad := range []string{"", "stands.join_distance_m", "stands.join_distance_m=", "stands.join_distance_m=1\nx=2", "=3", "stands=1", "nonsense.key=1"} {
		var settingErr *Error
		if _, err := Default().Set(bad); !errors.As(err, &settingErr) || settingErr.Hint() == "" {
			t.Errorf("Set(%q) gave %v, want a SettingError with a hint", bad, err)
		}
	}
}

// `driftreach settings` prints a settings file that gives the same settings when read, for any
// settings.
func TestPrintedSettingsReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := Default()
		s.Stands.JoinDistance = rapid.Float64Range(1, 1000).Draw(t, "join")
		s.Stands.DefaultPatch = rapid.Float64Range(1e-9, 100).Draw(t, "patch")
		s.Drift.FragmentsPerAcre = rapid.Float64Range(1e-6, 1e9).Draw(t, "fragments")
		s.Aquatic.WidthByOrder = rapid.SliceOfN(rapid.Float64Range(0.1, 5000), 1, 12).Draw(t, "widths")
		s.Columns["points"]["parcel"] = rapid.SliceOfN(rapid.String(), 0, 3).Draw(t, "columns")
		s.Values["barrier"] = map[string]string{rapid.String().Draw(t, "theirs"): rapid.String().Draw(t, "ours")}
		var out strings.Builder
		if err := Write(&out, s); err != nil {
			t.Fatal(err)
		}
		back, err := Read(strings.NewReader(out.String()), "printed", Default())
		if err != nil {
			t.Fatalf("%v in\n%s", err, out.String())
		}
		if diff := cmp.Diff(s, back); diff != "" {
			t.Fatalf("read back (-want +got):\n%s", diff)
		}
	})
}

// Levenshtein distances known by hand.
func TestEditDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{{"", "", 0}, {"", "abc", 3}, {"kitten", "sitting", 3}, {"flaw", "lawn", 2}, {"same", "same", 0}} {
		if got := editDistance(c.a, c.b); got != c.want {
			t.Errorf("editDistance(%q, %q) = %d, want %d", c.a, c.b, got, c.want)
		}
	}
}

func FuzzReadSettings(f *testing.F) {
	f.Add("[stands]\njoin_distance_m = 25\n")
	f.Add("drift.pass = { dam = 0.1 }")
	f.Add("[files.\"a-*.csv\"]\nskip_lines = 2\ncolumns.parcel = [\"Lot\", \"APN\"]")
	f.Add("[values.barrier]\n\"x\" = 'dam'")
	f.Add("points = [\"crew-*-{quarter}.csv\"]\nprevious = \"{previous_quarter}\"\n[survey]\nsince = \"2026-01-01\"\n")
	var defaults strings.Builder
	if err := Write(&defaults, Default()); err != nil {
		f.Fatal(err)
	}
	f.Add(defaults.String())
	f.Fuzz(func(t *testing.T, text string) {
		s, err := Read(strings.NewReader(text), "fuzz", Default())
		if err == nil && s.Validate() != nil {
			t.Errorf("accepted settings that do not validate: %v", s.Validate())
		}
	})
}

// The settings of the pages are read back from the manifest.
func TestReportComesBackFromAManifest(t *testing.T) {
	s := Default()
	s.Report = ReportSettings{Title: "Our title", Programme: "The programme", GoalAcres: 7.5, GoalYear: 2030}
	if got := ReportOf(s.AsMap()); got != s.Report {
		t.Errorf("%+v", got)
	}
	if got := ReportOf(map[string]any{}); got != (ReportSettings{}) {
		t.Errorf("of a manifest without them %+v", got)
	}
}

// TestPrintedSettingsAreExplained: above each printed key stand its meaning, its origin, source and range,
// and the unit if it has one; tables come once each, and one that is empty is left out.
func TestPrintedSettingsAreExplained(t *testing.T) {
	var out strings.Builder
	if err := Write(&out, Default()); err != nil {
		t.Fatal(err)
	}
	text, d := out.String(), Default()
	for _, s := range Table() {
		unit := ""
		if s.Unit != "" {
			unit = "; unit: " + s.Unit
		}
		key := s.Key[strings.LastIndexByte(s.Key, '.')+1:]
		want := "# " + s.Meaning + "\n# " + string(s.Origin) + " " + s.Source + "; " + s.Range() + unit + "\n" + key + " = " + s.Value(&d) + "\n"
		if !strings.Contains(text, want) {
			t.Errorf("no\n%s", want)
		}
	}
	for _, table := range []string{"[stands]", "[drift.pass]", "[plan]", "[maps]"} {
		if strings.Count(text, "\n"+table+"\n") != 1 {
			t.Errorf("%s is there %d times", table, strings.Count(text, "\n"+table+"\n"))
		}
	}
	for _, empty := range []string{"[inputs]", "[plan.factors]", "[columns.points]", "[units.points]"} {
		if strings.Contains(text, empty) {
			t.Errorf("an empty %s", empty)
		}
	}
	full := Default()
	full.Inputs = InputSettings{"out": {"o"}}
	full.Plan.Factors = map[string]float64{"road": 1, "boat": 2}
	full.Columns["points"]["parcel"] = column.Names{"Lot"}
	full.Files["b"], full.Files["a"] = FileSettings{SkipLines: 1}, FileSettings{Columns: map[string]column.Names{"parcel": {"Lot", "Nr"}}}
	out.Reset()
	if err := Write(&out, full); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"\n[inputs]\nout = \"o\"\n", "\n[plan.factors]\n\"boat\" = 2\n\"road\" = 1\n", "\n[columns.points]\n\"parcel\" = \"Lot\"\n", "\n[files.\"a\".columns]\n\"parcel\" = [\"Lot\", \"Nr\"]\n", "\n[files.\"b\"]\nskip_lines = 1\n"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("no %q", want)
		}
	}
}

// TestNearest: the nearest word is found up to a third of the letters away, at least two, and of equally
// near ones the first; by hand, with a distance beside each.
func TestNearest(t *testing.T) {
	for _, c := range []struct {
		word, want string
		known      []string
	}{
		{"setback", "setback_m", []string{"join", "setback_m"}},                   // 2 of 7
		{"abcd", "abxy", []string{"abxy"}},                                        // 2 of 4
		{"abcd", "", []string{"axyz"}},                                            // 3 of 4
		{"abcdefghi", "abcdefxyz", []string{"abcdefxyz"}},                         // 3 of 9
		{"abcdefghi", "", []string{"abcdewxyz"}},                                  // 4 of 9
		{"abcd", "abcx", []string{"abxy", "abcx", "abcy"}},                        // 2, 1, 1
		{"ABCD", "abcd", []string{"abcx", "abcd"}},                                // case does not count
		{"setback_m", "aquatic.setback_m", []string{"join", "aquatic.setback_m"}}, // by its last part
		{"water.setback_m", "aquatic.setback_m", []string{"aquatic.setback_m"}}, {"x", "", nil},
	} {
		if got := Nearest(c.word, c.known); got != c.want {
			t.Errorf("%q of %q: %q, want %q", c.word, c.known, got, c.want)
		}
	}
}

// TestChangingACopy: what is set in a copy, in a list or a table, is not set in the settings themselves.
func TestChangingACopy(t *testing.T) {
	base, err := Read(strings.NewReader("[plan]\nfactors = { boat = 2 }\nfollow_up_labour = [0.1, 0.2]\n[water_work]\ndistances_m = [5, 1, 5]\n[columns.points]\noccurrenceID = \"No\"\n[values.barrier]\nbeam = \"dam\"\n[units.points]\npatch_area_m2 = \"ac\"\n[files.a]\nskip_lines = 1\n[inputs]\npoints = \"a.csv\"\n"), "a.toml", Default())
	if err != nil {
		t.Fatal(err)
	}
	before := base.AsMap()
	other, err := Read(strings.NewReader("[plan]\nfactors = { boat = 3, road = 1 }\nfollow_up_labour = [0.3]\n[water_work]\ndistances_m = [9]\n[columns.points]\noccurrenceID = \"Id\"\n[values.barrier]\nbeam = \"weir\"\n[units.points]\npatch_area_m2 = \"m2\"\n[files.a]\nskip_lines = 2\n[inputs]\npoints = \"b.csv\"\n"), "b.toml", base)
	if err != nil || other.Plan.Factors["boat"] != 3 || other.Inputs.One("points") != "b.csv" || other.Files["a"].SkipLines != 2 {
		t.Fatalf("%v %+v", err, other)
	}
	other.Plan.Labour[0], other.WaterWork.Distances[0] = 7, 7
	if d := cmp.Diff(before, base.AsMap()); d != "" || base.Inputs.One("points") != "a.csv" {
		t.Error(d)
	}
	if got := base.WaterWork.Within(); !cmp.Equal(got, []geo.Meters{1, 5}) {
		t.Errorf("distances %v", got)
	}
}

// TestCostFactors: a factor is above 0 and up to 1000, and its word is not blank.
func TestCostFactors(t *testing.T) {
	for text, taken := range map[string]bool{"boat = 1000": true, "boat = 1e-9": true, "boat = 0": false, "boat = 1000.1": false, "boat = -1": false, `"" = 1`: false} {
		_, err := Read(strings.NewReader("[plan.factors]\n"+text+"\n"), "a.toml", Default())
		var wrong *Error
		if (err == nil) != taken || err != nil && (!errors.As(err, &wrong) || !strings.HasPrefix(wrong.Problem, "plan.factors.") || !strings.Contains(wrong.Hint(), "up to 1000")) {
			t.Errorf("%s: %v", text, err)
		}
	}
}

// TestInputsByQuarter: names with places for the quarter are filled for any quarter, and are not files
// without one.
func TestInputsByQuarter(t *testing.T) {
	q := survey.Quarter{Year: 2026, Number: 1}
	for name, want := range map[string]string{"a.csv": "a.csv", "a-{quarter}.csv": "a-2026Q1.csv", "{previous_quarter}/{quarter}": "2025Q4/2026Q1"} {
		if got, ok := FillQuarter(name, q); got != want || !ok {
			t.Errorf("%s is %s, %v", name, got, ok)
		}
		if got, ok := FillQuarter(name, survey.Quarter{}); got != name || ok != (name == "a.csv") {
			t.Errorf("%s without a quarter is %s, %v", name, got, ok)
		}
	}
}

// TestTablesOfAFileAreWritten: the tables that the demo's settings file has read back as they were.
func TestTablesOfAFileAreWritten(t *testing.T) {
	s := Default()
	s.Inputs = InputSettings{"points": {"crew-*-{quarter}.csv", "late.csv"}, "streams": {"streams.geojson"}, "streams_crs": {"EPSG:25832"}, "previous": {"out/{previous_quarter}"}, "out": {"out/{quarter}"}}
	s.Plan.Budget, s.Plan.Quarters = 2.5, 6
	s.Report = ReportSettings{Title: "Reed", Programme: "Water \"Board\"", GoalAcres: 7.25, GoalYear: 2031}
	var text strings.Builder
	if err := errors.Join(WriteInputs(&text, s.Inputs), WritePlan(&text, s.Plan), WriteReport(&text, s.Report)); err != nil {
		t.Fatal(err)
	}
	got, err := Read(strings.NewReader(text.String()), "a.toml", Default())
	if err != nil || !cmp.Equal(got.Inputs, s.Inputs) || got.Plan.Budget != 2.5 || got.Plan.Quarters != 6 || got.Report.GoalAcres != 7.25 || got.Report.GoalYear != 2031 || got.Report.Programme != s.Report.Programme {
		t.Errorf("%v: %+v %+v from\n%s", err, got.Inputs, got.Report, text.String())
	}
}
