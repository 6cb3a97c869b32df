package settings

import "driftreach/internal/stream"

// Origin says where a default comes from.
type Origin string

// The origins.
const (
	Published Origin = "[P]" // a published source gives it
	Practice  Origin = "[C]" // common practice of the trade, without a source
	Assumed   Origin = "[A]" // our assumption: outputs that rest on it say so
)

// Setting describes one key of the settings file. Its validation, its line in
// the printed settings and its row in the reference are all made from this.
type Setting struct {
	Key     string // "stands.join_distance_m"
	Unit    string // blank for a plain number or a word
	Origin  Origin // of the default
	Meaning string // one sentence, from lower case, no full stop
	Source  string // where the default comes from, or why it was chosen
	bounds  bounds
	at      func(*Settings) any // address of the value
}

// Value returns its value in s, as TOML.
func (d Setting) Value(s *Settings) string { return valueText(d.at(s)) }

// Table returns the description of every setting, in the order in
// which the settings file shows them.
func Table() []Setting {
	var all []Setting
	all = append(all, surveyTable...)
	all = append(all, standTable...)
	all = append(all, lineageTable...)
	all = append(all, uncertaintyTable...)
	all = append(all, waterTable...)
	all = append(all, driftTable...)
	all = append(all, treatmentTable...)
	all = append(all, planTable...)
	all = append(all, crewTable...)
	all = append(all, reportTable...)
	all = append(all, surveyNextTable...)
	all = append(all, waterWorkTable...)
	all = append(all, publicTable...)
	all = append(all, trendTable...)
	all = append(all, mapTable...)
	return append(all, limitTable...)
}

var surveyTable = []Setting{
	{"survey.since", "", Practice, "records and surveyed ground from this day on count too, blank for those of the quarter alone, or of all days since the batch before",
		"common practice: a quarter's figures are of what was seen in it", aDay(),
		func(s *Settings) any { return &s.Survey.Since }},
	{"survey.largest_patch_m2", "m2", Assumed, "a patch larger than this is taken for a mistake in the unit and left out: the default patch stands in",
		"our choice: square feet or hectares read as square metres soon are larger than any single patch", above(0, 1e9),
		func(s *Settings) any { return &s.Survey.LargestPatch }},
}

var standTable = []Setting{
	{"stands.join_distance_m", "m", Published, "points this close or closer join one stand; gaps up to this wide close within its gross acres",
		"county weed-survey protocols of the U.S. Midwest: one point per 100 ft in dense growth", within(1, 1000),
		func(s *Settings) any { return &s.Stands.JoinDistance }},
	{"stands.min_points", "points", Assumed, "points within the join distance, itself counted, that make a point the core of a stand",
		"our choice: three is the fewest that tell a stand from a pair", within(1, 1000),
		func(s *Settings) any { return &s.Stands.MinPoints }},
	{"stands.default_patch_acres", "ac", Assumed, "area of a patch nobody measured",
		"our choice: the smallest area that survey standards map as a polygon", above(0, 100),
		func(s *Settings) any { return &s.Stands.DefaultPatch }},
	{"stands.default_cover_percent", "%", Assumed, "canopy cover of a patch nobody estimated",
		"our choice: the middle of the classes seen in established growth", within(0, 100),
		func(s *Settings) any { return &s.Stands.DefaultCover }},
	{"stands.cover_table", "", Published, "table that turns cover classes into percent",
		"Daubenmire 1959; modified: BLM Technical Reference 1734-4, table 2", oneOf("daubenmire", "modified_daubenmire"),
		func(s *Settings) any { return &s.Stands.CoverTable }},
}

// mapTable is how outlines are drawn.
var mapTable = []Setting{
	{"maps.chord_m", "m", Practice, "outlines of stands and zone are drawn with chords whose middles lie this much or less under their arcs",
		"common practice: drawn as finely as coordinates are written, here about two of their steps", within(0.001, 1),
		func(s *Settings) any { return &s.Maps.Chord }},
}

var waterTable = []Setting{
	{"aquatic.setback_m", "m", Assumed, "width of the aquatic zone, measured from each bank; the legal distance is the jurisdiction's",
		"our choice: about 100 ft; put your permit's distance here", within(0, 1000),
		func(s *Settings) any { return &s.Aquatic.Setback }},
	{"aquatic.bankfull_width_by_order_m", "m", Assumed, "bank to bank width of a stream without one, by stream order; the last serves every higher order",
		"our choice: width doubles with each order", list(1, 12, above(0, 5000)),
		func(s *Settings) any { return &s.Aquatic.WidthByOrder }},
	{"network.snap_m", "m", Practice, "stream ends this close or closer are the same place",
		"common practice: the coordinate noise of 1:24,000 centerlines that were cut and joined again", within(0, 100),
		func(s *Settings) any { return &s.Network.Snap }},
	{"network.close_gap_m", "m", Practice, "loose stream ends that point at each other and lie this close or closer are joined; 0 joins none, and each gap is a finding",
		"common practice: nothing is joined that nobody looked at", within(0, 100),
		func(s *Settings) any { return &s.Network.CloseGap }},
	{"network.digitised", "", Practice, "direction in which lines without nodes and hydroseq run",
		"common practice: centerlines are digitised the way the water flows", oneOf(Downstream, Upstream),
		func(s *Settings) any { return &s.Network.Digitised }},
}

var driftTable = []Setting{
	{"drift.half_distance_by_order_km", "km", Assumed, "distance after which half of what floats has settled, by stream order, at base flow; the last serves every higher order",
		"our choice within Charpentier et al. 2024 (stems mostly within 0.5 km at low flow) and Johansson & Nilsson (1 to 5 km)", list(1, 12, above(0, 1000)),
		func(s *Settings) any { return &s.Drift.HalfDistanceByOrder }},
	{"drift.stage", "", Assumed, "water stage the batch is computed for; both adds the flood's reach beside that at base flow",
		"our choice: the quarter's ordinary flow", oneOf(BaseStage, FloodStage, BothStages),
		func(s *Settings) any { return &s.Drift.Stage }},
	{"drift.flood_factor", "times", Assumed, "how much farther fragments float at flood than at base flow",
		"our choice within the 2 to 11 times of Brookshire & Dwire 2003", within(1, 20),
		func(s *Settings) any { return &s.Drift.FloodFactor }},
	{"drift.flood_discharge_ratio", "times", Assumed, "discharge in flood over that at base flow; water is faster by its power 0.34",
		"our choice of the ratio: put a gauge's here; the exponent Leopold & Maddock 1953, USGS Professional Paper 252", within(1, 10000),
		func(s *Settings) any { return &s.Drift.FloodDischargeRatio }},
	{"drift.flood_release", "times", Assumed, "how much more a stand releases in flood than at base flow",
		"our choice: no more; floods tear out canes and rhizome, and no factor is published", within(1, 1e6),
		func(s *Settings) any { return &s.Drift.FloodRelease }},
	{"drift.flood_source_width_m", "m", Assumed, "how far outside the zone stands also release in flood",
		"our choice: none; put the width of the flood's plain beyond the zone here", within(0, 5000),
		func(s *Settings) any { return &s.Drift.FloodSourceWidth }},
	{dryKey, "", Assumed, "lines of this flow_permanence carry nothing at base flow; intermittent means ephemeral ones too",
		"our choice: a bed that has water only after rain is dry on most days", oneOf(noneDry, string(stream.Ephemeral), string(stream.Intermittent)),
		func(s *Settings) any { return &s.Drift.DryAtBase }},
	{"drift.risk_share", "share", Assumed, "stream is at risk while at least this share of what one source released may be afloat",
		"our choice: one fragment in twenty", within(0.0001, 0.99),
		func(s *Settings) any { return &s.Drift.RiskShare }},
	{"drift.fragments_per_acre", "per ac", Assumed, "fragments an acre of canopy releases; 1 makes a relative index",
		"our choice: no count is published, so the default compares stands and counts nothing", above(0, 1e9),
		func(s *Settings) any { return &s.Drift.FragmentsPerAcre }},
	{"drift.treated_release", "share", Assumed, "share of a live patch's release that a treated or standing dead one gives",
		"our choice: dead canes carry few live nodes, but not none", within(0, 1),
		func(s *Settings) any { return &s.Drift.TreatedRelease }},
	{"drift.exposure_breaks", "released units", Assumed, "amount afloat from which exposure is moderate, and from which it is high",
		"our choice: what 0.05 and 0.5 acres of live canopy release", ascending(list(2, 2, above(0, 1e9))),
		func(s *Settings) any { return &s.Drift.ExposureBreaks }},
	{"drift.velocity_by_order_mps", "m/s", Assumed, "mean velocity of a stream that records nothing to make one from, by stream order; the last serves every higher order",
		"our choice: a slow creek to a brisk river at ordinary flow", list(1, 12, above(0, 10)),
		func(s *Settings) any { return &s.Drift.VelocityByOrder }},
	{"drift.viable_days", "days", Assumed, "a floating fragment can root for this long; a reach ends where the first to arrive is older",
		"our choice: no figure is settled; put a measured one here", above(0, 365),
		func(s *Settings) any { return &s.Drift.ViableDays }},
	{"drift.draws", "draws", Assumed, "samples followed for the percentiles of reach and exposure; 0 for none",
		"our choice: reach within 1 % and exposure within 7 % on average of what 3200 draws give, by scripts/converge", within(0, 10000),
		func(s *Settings) any { return &s.Drift.Draws }},
	{"drift.seed", "", Assumed, "decides the samples: the same seed, the same numbers",
		"our choice: any number will do", within(0, 1e9),
		func(s *Settings) any { return &s.Drift.Seed }},
	{"drift.half_distance_gsd", "times", Assumed, "geometric standard deviation of a lognormal factor on every half-distance",
		"our choice: two of them span what is published for stems and for rhizome fragments", within(1, 10),
		func(s *Settings) any { return &s.Drift.HalfDistanceGSD }},
	{"drift.pass_spread", "share", Assumed, "how far a pass share may be off, as a share of it, either way",
		"our choice: half", within(0, 1),
		func(s *Settings) any { return &s.Drift.PassSpread }},
	{"drift.release_gsd", "times", Assumed, "geometric standard deviation of a lognormal factor on what is released",
		"our choice: a factor of two either way covers two draws in three", within(1, 10),
		func(s *Settings) any { return &s.Drift.ReleaseGSD }},
	{"drift.setback_spread_m", "m", Assumed, "how far the edge of the zone may be off, either way, where percentiles are made",
		"our choice: about the error of bank and position together", within(0, 100),
		func(s *Settings) any { return &s.Drift.SetbackSpread }},
	{"drift.pass.dam", "share", Assumed, "share of what floats that gets past a dam", passSource, within(0, 1),
		func(s *Settings) any { return &s.Drift.Pass.Dam }},
	{"drift.pass.reservoir", "share", Assumed, "share of what floats that gets past a reservoir", passSource, within(0, 1),
		func(s *Settings) any { return &s.Drift.Pass.Reservoir }},
	{"drift.pass.weir", "share", Assumed, "share of what floats that gets past a weir", passSource, within(0, 1),
		func(s *Settings) any { return &s.Drift.Pass.Weir }},
	{"drift.pass.culvert", "share", Assumed, "share of what floats that gets past a culvert", passSource, within(0, 1),
		func(s *Settings) any { return &s.Drift.Pass.Culvert }},
	{"drift.pass.lake", "share", Assumed, "share of what comes to the outlet of a lake drawn with --water that gets past it; it stands in for the dam at its end",
		"our choice: as a reservoir; a barrier_pass recorded for the dam wins", within(0, 1),
		func(s *Settings) any { return &s.Drift.Pass.Lake }},
	{"drift.flood_overtop.dam", "share", Assumed, "share of what a dam holds at base flow that gets past it in flood", overtopSource, within(0, 1),
		func(s *Settings) any { return &s.Drift.FloodOvertop.Dam }},
	{"drift.flood_overtop.reservoir", "share", Assumed, "the same for a reservoir", overtopSource, within(0, 1),
		func(s *Settings) any { return &s.Drift.FloodOvertop.Reservoir }},
	{"drift.flood_overtop.weir", "share", Assumed, "the same for a weir", overtopSource, within(0, 1),
		func(s *Settings) any { return &s.Drift.FloodOvertop.Weir }},
	{"drift.flood_overtop.culvert", "share", Assumed, "the same for a culvert", overtopSource, within(0, 1),
		func(s *Settings) any { return &s.Drift.FloodOvertop.Culvert }},
	{"drift.flood_overtop.lake", "share", Assumed, "the same for a lake drawn with --water", overtopSource, within(0, 1),
		func(s *Settings) any { return &s.Drift.FloodOvertop.Lake }},
}

// passSource is the origin of every barrier's share.
const passSource = "our choice: still water holds most of what floats, a weir some, a culvert little; a recorded barrier_pass wins"

// overtopSource is the origin of every barrier's share in flood.
const overtopSource = "our choice: none, so that a barrier holds in flood what it holds at base flow; 1 where the flood goes over it"

var treatmentTable = []Setting{
	{"treatment.hand_pull_m2", "m2", Assumed, "largest infested area that may be proposed for hand removal",
		"our choice: what two people lift in a morning", within(0, 1000),
		func(s *Settings) any { return &s.Treatment.HandPull }},
	{"treatment.revisit_months", "months", Assumed, "a treated stand is looked at again within this time",
		"our choice: one growing season", within(1, 60),
		func(s *Settings) any { return &s.Treatment.RevisitMonths }},
	{"treatment.clear_years", "years", Published, "a stand is released from follow-up after this many clear years in a row",
		"landowner and watershed handbooks: look every year for at least 5", within(1, 50),
		func(s *Settings) any { return &s.Treatment.ClearYears }},
	{"treatment.season_from_month", "month", Assumed, "first month of the season in which regrowth is treated; it may be later than the last",
		"our choice: growth in the north begins in March; put your own here", within(1, 12),
		func(s *Settings) any { return &s.Treatment.SeasonFrom }},
	{"treatment.season_to_month", "month", Assumed, "last month of that season",
		"our choice: growth in the north ends in November; put your own here", within(1, 12),
		func(s *Settings) any { return &s.Treatment.SeasonTo }},
	{"treatment.retreat_days", "days", Assumed, "regrowth is treated again within this time after the quarter, within the season",
		"our choice: two months, while it is low", within(1, 365),
		func(s *Settings) any { return &s.Treatment.RetreatDays }},
	{noticeKey, "m", Assumed, "whoever plans a work this close or closer to a live stand is to be warned, with --works",
		"our choice: room for machines to turn and stack beside a stand", within(0, 10000),
		func(s *Settings) any { return &s.Treatment.Notice }},
	{permitKey, "", Practice, "what work in or at the water needs besides a label: a requirement of every stand in the aquatic zone, in your own words",
		"common practice; which forms, and from what size on, is for the jurisdiction to say", inWords(),
		func(s *Settings) any { return &s.Treatment.Permit }},
}

var trendTable = []Setting{
	{correlationKey, "", Assumed, "correlation of neighbouring quarters that a test for a trend allows for; from 40 quarters on the larger of this and what the quarters show",
		"our choice: estimated from so few quarters it gives false trends (12 to 27 % of trendless series), this 1 to 5 %, by scripts/verdicts", within(0, 0.9),
		func(s *Settings) any { return &s.Trend.Correlation }},
}
