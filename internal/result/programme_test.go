package result

import (
	"math"
	"strings"
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/internal/allocate"
	"driftreach/internal/aquatic"
	"driftreach/internal/check"
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
	"driftreach/internal/survey"
	"driftreach/internal/treatable"
	"driftreach/internal/treatment"
	"driftreach/internal/unit"
	"driftreach/internal/work"
)

// The quarters of programme: the present one and the two before it.
var q3, q2, q1 = survey.Quarter{Year: 2026, Number: 3}, survey.Quarter{Year: 2026, Number: 2}, survey.Quarter{Year: 2026, Number: 1}

func date(year, month, d int) time.Time {
	return time.Date(year, time.Month(month), d, 0, 0, 0, 0, time.UTC)
}

// acresOf converts acres to square metres.
func acresOf(n float64) geo.SquareMeters { return geo.SquareMeters(n * acre) }

// square returns a square with sides of a thousandth of a degree, from its south-western corner.
func square(lon, lat float64) orb.MultiPolygon {
	const side = 0.001
	return orb.MultiPolygon{{{{lon, lat}, {lon + side, lat}, {lon + side, lat + side}, {lon, lat + side}, {lon, lat}}}}
}

// programme is a run in which every table has rows and no two figures are equal, so that a field
// with the value of another shows. It has a stand on Alder Creek that continues a known one, was
// treated in part, and reaches 12 km; a stand far from any stream that nobody visited; and a new
// dead stand on a stream without a name. One known stand is gone.
func programme() *Run {
	run := &Run{
		Quarter: q3, Chain: "c0ffee", Setback: 30, RiskShare: 0.01, Draws: 200, WorkGiven: true, WorksGiven: true,
		Assumed:  []string{"aquatic.setback_m", "drift.half_distance_km"},
		Plan:     programmePlan(),
		Links:    []drift.Link{{From: 0, To: 1, Share: 0.25, Fast: 1.5}},
		FollowUp: followup.Settings{RevisitMonths: 12, ClearYears: 3, Season: [2]int{3, 11}, RetreatDays: 60},
		Units:    []unit.Unit{{ID: "u1", Name: "East"}, {ID: "u2"}},
		Centerlines: []stream.Centerline{
			{ID: "la", Name: "Alder Creek"}, {ID: "lb"},
		},
		Stages:     []Stage{{Name: "base", AtRiskKm: 12.5}, {Name: "flood", AtRiskKm: 41.25}},
		AtRiskBand: drift.Band[geo.Kilometers]{P10: 10.5, P50: 12.25, P90: 15.75},
		Zones: []aquatic.Zone{
			{WaterBody: "Alder Creek", Lines: 4, Area: acresOf(120.5), WidthAssumed: true}, {Lines: 1, Area: acresOf(7)},
		},
		Surveyed: lineage.PiecesOf(square(-40, -33), nil),
	}
	run.Stretches = programmeStretches()
	run.Stands, run.Records.Listed = programmeStands(), programmeRecords()
	run.ExtraColumns, run.Crew.Owner = []string{"ground"}, "Ground"
	run.StandOf, run.InZone, run.CarriedFrom = []int32{0, 0, 1, 2, -1}, []bool{true, false, false, true, false}, []survey.Quarter{{}, {}, q2, {}, {}}
	run.Reaches = []drift.Reach{
		{Line: 0, FromKm: 33.3, ToKm: 21.05, LengthKm: 12.25, Exposure: 1.4, Class: drift.High, Stands: 2, NearestStand: 0, HoursFast: 1.256, HoursMean: 2.5, Velocity: drift.JobsonSlope, Barrier: "weir"},
		{Line: 1, FromKm: 0.5, ToKm: 0.25, LengthKm: 0.25, Exposure: 0.01, Class: drift.Low, Stands: 0, NearestStand: -1, HoursFast: geo.Hours(math.NaN()), HoursMean: geo.Hours(math.NaN()), Velocity: drift.ByOrder},
		{Line: 0, FromKm: 21.05, ToKm: 0, LengthKm: 21.05, Exposure: 0.5, Class: drift.Moderate, Stands: 1, NearestStand: 0, HoursFast: 3, HoursMean: 4, Velocity: drift.Recorded, Stage: 1},
		{Line: 0, FromKm: 21.05, ToKm: 13.05, LengthKm: 8, Class: drift.Possible, Stands: 1, NearestStand: 0, HoursFast: 5, HoursMean: 6, Velocity: drift.PowerLaw},
	}
	run.ReachShares = [][]allocate.Length{
		{{Unit: 0, Km: 22500}, {Unit: 1, Km: 100000}}, {{Unit: allocate.Outside, Km: 2500}}, {{Unit: 1, Km: 210500}}, {{Unit: 0, Km: 80000}},
	}
	run.Steps = []drift.Step{
		{Stand: 0, Treat: true, Exposure: 6, FreedKm: 10.25}, {Stand: 1, Exposure: 6, FreedKm: 10.25}, {Stand: 2, Treat: true, Exposure: 8, FreedKm: 12.5},
	}
	run.Network = &stream.Network{
		Net: &flow.Network{Edges: []flow.Edge{
			{Line: 0, Length: 12250.04, Component: 0, Order: 3, Share: 0.7559, OutletKm: 21.05, UpstreamKm: 44.5, Drainage: 99.5},
			{Line: 1, Length: 250, Component: 1, Order: 1, Minor: true, Share: 1, UpstreamKm: 0.25, Drainage: geo.SquareKilometers(math.NaN())},
		}},
		Order: []int{4, 1}, Found: [][]string{{"gap", "loop"}, nil},
	}
	run.Previous = programmeBefore()
	run.Absent = []Absent{{
		Looked: true,
		Known: lineage.Known{
			Stand:   stand.Stand{ID: "2026Q1-0002", First: date(2026, 1, 5), Last: date(2026, 2, 6), Status: survey.Resprout, Isolated: true, Gross: acresOf(0.75), Infested: acresOf(0.625), Canopy: acresOf(0.375)},
			Quarter: q2, Absent: true, Since: q3, Zone: acresOf(0.0625), StreamID: "la", WaterBody: "Alder Creek", RiverKm: 30.5, Memory: lineage.Memory{Ever: 8e9},
		},
	}}
	run.Works = []work.Work{{ID: "w1", Kind: "mowing", Start: date(2026, 10, 1), End: date(2026, 10, 5), Contact: "the county"}, {ID: "w2"}}
	run.Notices = []notice.Notice{
		{Work: 0, Stand: 0, Distance: 12.345, Near: true, Upstream: true, AtWater: true, CleanKm: 2.5}, {Work: 1, Stand: 2, CleanKm: 9},
	}
	run.Treatments = programmeJobs()
	run.Stands[0].Treatable = []treatable.Rule{{StandID: "2026Q1-0001", Permission: treatable.Given, Expires: date(2026, 12, 31), Parcel: "p-7", Method: "cut stump", Owner: "A. Holm", Gate: "chain", Access: "ford", Factor: math.NaN()}}
	run.WaterWork = &WaterWork{
		Distances: []geo.Meters{7.5}, AtWater: 30, Areas: []WaterArea{{Stand: 0, Zone: acresOf(0.25), Within: []geo.SquareMeters{acresOf(0.125)}, Months: []string{"2026-10", "2026-11"}}},
		Pieces: []BankPiece{{Line: 0, Unit: 0, Channel: 1000, Both: 250}, {Line: 0, Unit: 1, Shore: 50}, {Line: 1, Unit: 1, Channel: 16093}},
		Fresh:  []float64{math.NaN(), 1, math.NaN(), math.NaN()},
	}
	run.Visits = programmeVisits()
	run.Findings = []check.Finding{
		{Rule: check.Rule{Code: "no-cover", Severity: check.Warning, Remedy: "record it"}, File: "survey.csv", Record: "r2", Field: "canopy_cover_percent", Value: "n/a", Message: "the default stood in", Position: &orb.Point{-39.99901, -32.9991}},
		{Rule: check.Rule{Code: "nowhere", Severity: check.Error, Remedy: "look it up"}, File: "survey.csv", Record: "row 9", Message: "rejected", Position: &orb.Point{200, 0}},
	}
	return run
}

// programmeStretches are the stretches to survey.
func programmeStretches() []stretch.Stretch {
	return []stretch.Stretch{
		{
			ID: "la/2", Lines: []int32{0, 1}, Drawn: &stretch.Drawn{Path: orb.LineString{{-40, -33}, {-40, -33.01}}}, Length: 500, FromKm: 12.5, ToKm: 12,
			Exposure: 1.25, Now: 0.75, Last: stretch.Look{State: stretch.Looked, Quarter: q2}, NeverShare: 0.125, Counted: q2,
			StandsNear: 2, NearestStand: 0, Works: []int32{0}, Access: []string{"boat", "track"}, Draw: 1, Chance: 0.25, Listed: true,
		},
		{
			ID: "lb/1", Lines: []int32{1}, Drawn: &stretch.Drawn{Path: orb.LineString{{-40.5, -33}, {-40, -33.01}}}, Length: 1000, FromKm: 1,
			Last: stretch.Look{State: stretch.Never, Quarter: q3}, NeverShare: 1, Counted: q3, NearestStand: -1, Above: true, Chance: 0.25,
		},
		{
			ID: "lb/2", Lines: []int32{1}, Drawn: &stretch.Drawn{Path: orb.LineString{{-40.5, -33.1}, {-40, -33.01}}}, Length: 1000, FromKm: 1,
			Last: stretch.Look{State: stretch.Unknown, Quarter: q3}, Counted: q3, NearestStand: -1, Chance: 0.25,
		},
	}
}

func programmeStands() []Stand {
	return []Stand{
		{
			Stand: stand.Stand{
				ID: "2026Q1-0001", Members: []int32{0, 1}, First: date(2026, 7, 2), Last: date(2026, 7, 9), Footprint: stand.Pack(square(-40, -33)), Center: orb.Point{-39.9995, -32.9995},
				Gross: acresOf(3), Infested: acresOf(2), Canopy: acresOf(1), CoverPercent: 50.04, StemHeight: 4.256, Assumed: []string{"stands.default_patch_acres"},
			},
			Zone: aquatic.Membership{InZone: true, Area: acresOf(0.5), WaterDistance: 3.456, WidthAssumed: true},
			Drift: drift.Outcome{
				Released: 1.5, Held: 0.25, Aged: 0.125, Left: 0.5, Settled: 0.625, ReachKm: 12.34567, AloneKm: 1.25, PossibleKm: 20.5, Exposure: 7.25, RiverKm: 33.3,
			},
			Flood: &drift.Outcome{ReachKm: 40.5}, ReachBand: drift.Band[geo.Kilometers]{P10: 10, P50: 12, P90: 14.5}, ExposureBand: drift.Band[drift.AmountKm]{P10: 5, P50: 7, P90: 9},
			Advice:  priority.Advice{Order: 1, Requirements: []string{"ask first", "go by boat"}, WaterUseLow: 1.8046, WaterUseHigh: 12},
			Done:    followup.Part{Share: 0.4, ByAcres: 0.1, Cut: &followup.Cut{Ground: square(-40, -33), At: orb.Point{-39.9999, -32.9999}, Rest: square(-39.9995, -33), RestAt: orb.Point{-39.9991, -32.9991}}},
			Waiting: &drift.Outcome{ReachKm: 11.5, AloneKm: 1.125, Exposure: 6}, Treated: &drift.Outcome{ReachKm: 5.5, Exposure: 2.5},
			NextVisit: date(2027, 1, 15), FollowUp: "treat the rest",
			Shares: []allocate.Share{{Unit: 0, Infested: 15e9, Gross: 2e10, Canopy: 75e8, Zone: 5e9}, {Unit: 1, Infested: 5e9, Gross: 1e10, Canopy: 25e8}},
			Change: lineage.Grown, Parents: []int32{0}, Parts: StandParts{Own: 15e9, Carried: 5e9, FirstLooked: 25e8, FoundAgain: 1e9},
			Memory: lineage.Memory{Ever: 26e9, Lost: true}, Margin: margin.Stand{Resting: stand.Resting{Infested: acresOf(0.5), Canopy: acresOf(0.125)}},
		},
		{
			Stand: stand.Stand{
				ID: "2026Q2-0003", Members: []int32{2}, Isolated: true, Status: survey.Treated,
				Gross: acresOf(1), Infested: acresOf(1), Canopy: acresOf(0.25), CoverPercent: 25, StemHeight: geo.Meters(math.NaN()),
			},
			Zone: aquatic.Membership{Line: -1, WaterDistance: geo.Meters(math.Inf(1))}, Drift: drift.Outcome{RiverKm: geo.Kilometers(math.NaN())},
			Advice: priority.Advice{Order: 2},
			Shares: []allocate.Share{{Unit: allocate.Outside, Infested: 1e10, Gross: 1e10, Canopy: 25e8}},
			Change: lineage.NotResurveyed, Parents: []int32{1}, CarriedFrom: q2, Parts: StandParts{Carried: 1e10},
		},
		{
			Stand: stand.Stand{
				ID: "2026Q3-0001", Members: []int32{3}, Isolated: true, Status: survey.StandingDead, First: date(2026, 8, 1), Last: date(2026, 8, 1),
				Gross: acresOf(0.5), Infested: acresOf(0.5), CoverPercent: 0, StemHeight: 2,
			},
			Zone: aquatic.Membership{InZone: true, Area: acresOf(0.125), Line: 1}, Drift: drift.Outcome{Released: 0.0625, Settled: 0.0625, ReachKm: 0.5, RiverKm: 0}, Waiting: &drift.Outcome{},
			Advice: priority.Advice{Order: 3}, Shares: []allocate.Share{{Unit: 1, Infested: 5e9, Gross: 5e9, Zone: 125e7}},
			Change: lineage.New, Parts: StandParts{Own: 5e9}, Memory: lineage.Memory{Ever: 5e9},
		},
	}
}

// programmeRecords are a drawn patch with a hole, a place where nothing was found, and three other
// records.
func programmeRecords() []survey.Record {
	return []survey.Record{
		{
			ID: "r1", Position: orb.Point{-39.99951, -32.9995}, Begin: survey.DayOf(date(2026, 7, 2)), End: survey.DayOf(date(2026, 7, 4)), Uncertainty: 31.5,
			PatchArea: 120.256, Cover: 62.54, StemHeight: 4.256, Detected: true, Notes: survey.Notes{RecordedBy: "crew A", Parcel: "p-7", Remarks: "by the ford", Extra: []string{"wet"}}.Pack(),
		},
		{ID: "r2", Position: orb.Point{-39.99901, -32.9991}, Begin: survey.DayOf(date(2026, 7, 9)), End: survey.DayOf(date(2026, 7, 9)), Cover: math.NaN(), StemHeight: geo.Meters(math.NaN()), Detected: true, Status: survey.Resprout},
		{ID: "r3", Position: orb.Point{-39, -33}, Cover: 25, StemHeight: geo.Meters(math.NaN()), Detected: true, Status: survey.Treated, Outline: append(square(-39, -33), orb.Polygon{{{1, 2}, {1.5, 2}, {1.5, 2.5}, {1, 2}}, {{1.3, 2.1}, {1.4, 2.1}, {1.4, 2.2}, {1.3, 2.1}}})},
		{ID: "r4", Position: orb.Point{-38, -33}, Cover: math.NaN(), StemHeight: 2, Detected: true, Status: survey.StandingDead},
		{ID: "r5", Position: orb.Point{-37, -33}, Begin: survey.DayOf(date(2026, 9, 1)), End: survey.DayOf(date(2026, 9, 1)), Cover: math.NaN(), StemHeight: geo.Meters(math.NaN())},
	}
}

// programmePlan has one of everything: a follow-up, a block of a large stand, a held stand, and a
// curve of two amounts of money.
func programmePlan() *plan.Plan {
	return &plan.Plan{
		Unit: "hours", Budget: 40, Draws: 200,
		Rows: []plan.Row{
			{Stand: 1, Kind: plan.FollowUp, Quarter: q3.Next(), Place: 1, Block: 1, Blocks: 1, At: orb.Point{-39.5, -33.5}, From: date(2026, 10, 1), To: date(2026, 12, 31), Site: 2, Acres: 1, Cost: 2.5, Running: 2.5, Due: date(2026, 11, 30), Year: 1, Draws: -1, Why: "treated on 2026-07-12"},
			{Stand: 0, Kind: plan.First, Quarter: q3.Next(), Place: 2, Block: 2, Blocks: 3, At: orb.Point{-39.9995, -32.9996}, From: date(2026, 10, 15), To: date(2026, 12, 31), Site: 1, Acres: 0.4, Cost: 30.12345, Running: 32.62345, Exposure: 2, Draws: 150, Why: "of the best set for the money"},
		},
		Quarters: []plan.Quarter{{Quarter: q3.Next(), FollowUp: 2.5, PutOff: 1, First: 30.12345, Free: 37.5, Exposure: 2, Bound: 2.01, All: 6}},
		Held:     []plan.Held{{Stand: 2, Why: "no permission", Until: survey.Quarter{Year: 2027, Number: 2}, Seeds: []int32{0, 1}, Leaves: 2}},
		RowOf:    []int32{1, 0, -1},
		Curve:    []plan.Point{{}, {Money: 37.5, Exposure: 2, Bound: 2.01}},
	}
}

// programmeBefore is the last batch: a stand of 1.5 acres that grew, a stand of an acre that nobody
// visited, and a stand of 0.625 acres that is gone.
func programmeBefore() *Previous {
	return &Previous{
		Quarter: q2,
		Known: []lineage.Known{
			{Stand: stand.Stand{ID: "2026Q1-0001", Infested: acresOf(1.5), Gross: acresOf(1.75), Canopy: acresOf(0.5)}, Quarter: q2, StreamID: "la", WaterBody: "Alder Creek", Zone: acresOf(0.25)},
			{Stand: stand.Stand{ID: "2026Q2-0003", Status: survey.Treated, Infested: acresOf(1), Gross: acresOf(1), Canopy: acresOf(0.25)}, Quarter: q2},
			{Stand: stand.Stand{ID: "2026Q1-0002", Status: survey.Resprout, Infested: acresOf(0.625), Gross: acresOf(0.75), Canopy: acresOf(0.375)}, Quarter: q2, StreamID: "la", WaterBody: "Alder Creek", Zone: acresOf(0.0625)},
		},
		Then:     []Then{{14e9, "la", "Alder Creek"}, {Infested: 1e10}, {625e7, "la", "Alder Creek"}},
		Looks:    []lineage.Look{{Share: 0.7512}, {}, {Share: 1}},
		Links:    []lineage.Link{{Known: 0, Stand: 0, Shared: acresOf(1.375), Apart: 0, Heir: true}},
		Fates:    []lineage.Change{"", lineage.NotResurveyed, lineage.NotDetected},
		Home:     []int32{0, 1, -1},
		Restated: []int64{15e9, 1e10, 625e7},
		Shares: [][]allocate.Share{
			{{Unit: 0, Infested: 15e9, Gross: 175e8, Canopy: 5e9, Zone: 25e8}}, {{Unit: allocate.Outside, Infested: 1e10, Gross: 1e10, Canopy: 25e8}},
			{{Unit: 1, Infested: 625e7, Gross: 75e8, Canopy: 375e7, Zone: 625e6}},
		},
		ReachApart: []string{"drift.half_distance_km"},
	}
}

func programmeJobs() []Treatment {
	nothing := treatment.Application{Amount: math.NaN(), Wind: math.NaN(), Temperature: math.NaN(), Hours: math.NaN()}
	used := treatment.Application{
		Product: "Reed Away", Registration: "R-12", Amount: 2.25, AmountUnit: "l", Applicator: "J. Doe", Licence: "L-9", Start: "08:00", End: "11:30", Wind: 1.25, Temperature: 18.25, Hours: 3.5, Photos: "0412-0418",
	}
	more := used
	more.Product, more.Registration, more.AmountUnit, more.Amount, more.Hours, more.Photos = "reed  away", "r-12", " L", 1.5, math.NaN(), ""
	untold := used
	untold.Amount, untold.Registration, untold.Photos = math.NaN(), "R-13", ""
	return []Treatment{
		{
			Treatment: treatment.Treatment{Date: date(2026, 5, 3), StandID: "S9", Method: treatment.CutStump, FormulationClass: treatment.General, TreatedAcres: 0.25, Application: untold},
			Key:       "k0", CountedIn: q2, Carried: true, Told: Place{Stands: []string{"2026Q1-0002"}, Waters: []string{"Alder Creek"}, UnitIDs: []string{"u2"}}, Unit: UnknownUnit,
		},
		{
			Treatment: treatment.Treatment{
				Date: date(2026, 7, 12), StandID: "2026Q1-0001", Position: orb.Point{-39.9999, -32.9999}, Placed: true, Ground: square(-40.000000012, -33), Method: treatment.FoliarSpray,
				FormulationClass: treatment.AquaticLabelled, TreatedAcres: 0.8, Application: used,
			},
			Key: "k1", CountedIn: q3, On: []Ground{{0, -1}}, Unit: 0,
		},
		{
			Treatment: treatment.Treatment{Date: date(2026, 7, 20), Method: "goats", TreatedAcres: math.NaN(), Application: nothing}, Key: "k2", CountedIn: q3, Unit: UnknownUnit,
		},
		{
			Treatment: treatment.Treatment{Date: date(2026, 7, 30), TreatedAcres: 0.125, Application: more}, Key: "k3", On: []Ground{{-1, 2}}, Unit: UnknownUnit,
		},
	}
}

func programmeVisits() []Visit {
	return []Visit{
		{Stand: -1, Row: &followup.Row{
			StandID: "2026Q1-0002", Look: followup.NotFound, State: followup.Watch, Due: date(2026, 9, 20), Status: survey.Resprout, LastSeen: date(2026, 2, 6), LastLook: date(2026, 8, 8),
			Clear: followup.Clear{Since: date(2026, 8, 8), Last: date(2026, 8, 9), Years: 1}, Lost: 1,
			Place: followup.Place{Position: orb.Point{-39.5, -32.5}, StreamID: "la", WaterBody: "Alder Creek", RiverKm: 30.5, Parcel: "p-2"},
		}},
		{Stand: 0, Row: &followup.Row{
			StandID: "2026Q1-0001", Earlier: []string{"2026Q1-0007", "2026Q1-0009"}, Present: true, State: followup.ToTreat, Again: date(2027, 7, 12), Order: 1, Status: survey.Untreated,
			Done: followup.Part{Share: 0.4, ByAcres: 0.1, Cut: &followup.Cut{Ground: square(-40, -33), At: orb.Point{-39.9999, -32.9998}, Rest: square(-39.9995, -33)}}, LastSeen: date(2026, 7, 9), LastLook: date(2026, 7, 10),
			Work:  followup.Work{Days: 2, Last: date(2026, 7, 12), Method: "foliar spray", FormulationClass: "aquatic-labelled"},
			Place: followup.Place{Position: orb.Point{-39.9995, -32.9996}, RiverKm: geo.Kilometers(math.NaN())},
		}},
		{Stand: 1, Row: &followup.Row{StandID: "2026Q2-0003", Present: true, Look: followup.Nobody, State: followup.LookAgain, Due: date(2027, 5, 3), Status: survey.Treated, LastSeen: date(2026, 5, 3), Place: followup.Place{RiverKm: geo.Kilometers(math.NaN())}}},
	}
}

// said lists the fields of each row of a table that are not blank; zeros only if zeros is set.
func said(run *Run, table Table, zeros bool) []string {
	var out []string
	for i := range table.Rows {
		var cells []string
		for k, v := range table.Row(run, i, nil) {
			if s := v.String(); s != "" && (zeros || s != "0") {
				cells = append(cells, table.Fields[k].Name+"="+s)
			}
		}
		out = append(out, strings.Join(cells, " | "))
	}
	return out
}

// rowsOf splits a text into rows at blank lines; each cell may be on its own line.
func rowsOf(text string) []string {
	var out []string
	for _, row := range strings.Split(strings.TrimSpace(text), "\n\n") {
		out = append(out, strings.Join(strings.Split(row, "\n"), " | "))
	}
	return out
}
