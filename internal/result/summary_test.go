package result

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/internal/allocate"
	"driftreach/internal/aquatic"
	"driftreach/internal/drift"
	"driftreach/internal/lineage"
	"driftreach/internal/stand"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
	"driftreach/internal/unit"
)

// printed is the last printed digit of these runs, in grains.
const printed = 1_000_000

// acre is one acre in square metres (NIST SP 811, appendix B).
const acre = 4046.8564224

// region is a run with three named lines of two rivers and one line without a name, stands on each,
// and one stand without a stream.
func region() *Run {
	run := &Run{Quarter: survey.Quarter{Year: 2026, Number: 3}}
	for i, name := range []string{"Beta", "Alpha", "Beta", ""} {
		run.Centerlines = append(run.Centerlines, stream.Centerline{ID: fmt.Sprint(i), Name: name})
	}
	for i, line := range []int32{0, 1, 2, 3, -1} {
		run.Stands = append(run.Stands, Stand{
			Stand: stand.Stand{ID: fmt.Sprint("s", i), Isolated: i == 1, Status: survey.Status(i % 4),
				Gross: 2 * acre, Infested: geo.SquareMeters(acre * (1 + 0.00004*float64(i))), Canopy: 0.5 * acre},
			Zone:  aquatic.Membership{InZone: i != 4, Area: 0.25 * acre, Line: line},
			Drift: drift.Outcome{Released: 1, Held: 1. / 3, Left: 1. / 3, Settled: 1. / 3},
		})
	}
	run.Reaches = []drift.Reach{{Line: 0, LengthKm: 1.00004}, {Line: 2, LengthKm: 2}, {Line: 3, LengthKm: 0.5}}
	return run
}

// TestSummarizeByHand: figures of region, added up by hand.
func TestSummarizeByHand(t *testing.T) {
	sums := Summarize(region())
	var got []string
	for _, s := range sums {
		got = append(got, fmt.Sprintf("%s %q stands %d isolated %d zone %d infested %d reach %d settled %d",
			s.Scope, s.Name, s.Stands, s.Isolated, s.InZone, s.Infested/printed, s.ReachAtRisk, s.Settled))
	}
	want := []string{
		`total "" stands 5 isolated 1 zone 4 infested 50004 reach 35000 settled 1666670`,
		`waterBody "Alpha" stands 1 isolated 1 zone 1 infested 10000 reach 0 settled 333334`,
		`waterBody "Beta" stands 2 isolated 0 zone 2 infested 20001 reach 30000 settled 666668`,
		`unnamed "" stands 1 isolated 0 zone 1 infested 10001 reach 5000 settled 333334`,
		`noStream "" stands 1 isolated 0 zone 0 infested 10002 reach 0 settled 333334`,
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
}

// TestSummaryByUnit: region in two units; its first stand is in both units and outside, its last is
// wholly outside. Added up by hand.
func TestSummaryByUnit(t *testing.T) {
	run := region()
	run.Units = []unit.Unit{{ID: "u1", Name: "East"}, {ID: "u2"}}
	shares := [][]allocate.Share{
		{{Unit: 0, Infested: 3e9, Gross: 6e9, Canopy: 1.5e9, Zone: 2.5e9}, {Unit: 1, Infested: 6e9, Gross: 12e9, Canopy: 3e9}, {Unit: allocate.Outside, Infested: 1e9, Gross: 2e9, Canopy: 0.5e9}},
	}
	for i, unit := range []int32{0, 0, 1, allocate.Outside} {
		whole := wholeAcres(&run.Stands[i+1])
		whole.Unit = unit
		shares = append(shares, []allocate.Share{whole})
	}
	for i := range run.Stands {
		run.Stands[i].Shares = shares[i]
	}
	run.ReachShares = [][]allocate.Length{{{Unit: 0, Km: 10000}}, {{Unit: 0, Km: 1}, {Unit: 1, Km: 19999}}, {{Unit: allocate.Outside, Km: 5000}}}
	var got []string
	for _, s := range Summarize(run)[5:] {
		got = append(got, fmt.Sprintf("%s %q %q stands %d isolated %d infested %d gross %d zone %d untreated %d reach %d settled %d",
			s.Scope, s.Name, s.UnitID, s.Stands, s.Isolated, s.Infested/printed, s.Gross/printed, s.Zone/printed, s.ByStatus[survey.Untreated]/printed, s.ReachAtRisk, s.Settled))
	}
	want := []string{
		`unit "East" "u1" stands 2 isolated 1 infested 23001 gross 46000 zone 7500 untreated 3000 reach 10001 settled 666668`,
		`unit "u2" "u2" stands 2 isolated 0 infested 16001 gross 32000 zone 2500 untreated 6000 reach 19999 settled 666668`,
		`outsideUnits "" "" stands 1 isolated 0 infested 11002 gross 22000 zone 2500 untreated 11002 reach 5000 settled 333334`,
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
}

// TestChangeByUnit, by hand. Of the stands known before, one of an acre across both units shrank to
// half an acre in the first unit. One of 2 acres, last seen treated in the second unit, was not
// detected. One of 3 acres there was not visited. One of 4 acres outside is new, one acre of it on
// ground first looked at. One of 5 acres was not detected before and is not now.
func TestChangeByUnit(t *testing.T) {
	known := func(id string, acres float64, status survey.Status) lineage.Known {
		return lineage.Known{Stand: stand.Stand{ID: id, Infested: geo.SquareMeters(acres * acre), Status: status}}
	}
	stands := func(id string, acres float64, unit int32) Stand {
		return Stand{Stand: stand.Stand{ID: id, Infested: geo.SquareMeters(acres * acre)}, Zone: aquatic.Membership{Line: -1},
			Shares: []allocate.Share{{Unit: unit, Infested: int64(acres * 1e10)}}}
	}
	run := &Run{Quarter: survey.Quarter{Year: 2026, Number: 3}, Units: []unit.Unit{{ID: "u1"}, {ID: "u2"}}}
	run.Stands = []Stand{stands("a", 0.5, 0), stands("c", 3, 1), stands("n", 4, allocate.Outside)}
	run.Stands[0].Change, run.Stands[0].Parents = lineage.Shrunk, []int32{0}
	run.Stands[1].Change, run.Stands[1].Parents, run.Stands[1].CarriedFrom = lineage.NotResurveyed, []int32{2}, survey.Quarter{Year: 2026, Number: 1}
	run.Stands[2].Change = lineage.New
	run.Stands[0].Parts, run.Stands[1].Parts, run.Stands[2].Parts = StandParts{Own: 5e9}, StandParts{Carried: 3e10}, StandParts{Own: 4e10, FirstLooked: 1e10}
	absent := known("x", 5, survey.Treated)
	absent.Absent = true
	run.Previous = &Previous{
		Known:  []lineage.Known{known("a", 1, 0), known("b", 2, survey.Treated), known("c", 3, 0), absent},
		Fates:  []lineage.Change{"", lineage.NotDetected, lineage.NotResurveyed, lineage.NotDetected},
		Shares: [][]allocate.Share{{{Unit: 0, Infested: 7e9}, {Unit: 1, Infested: 3e9}}, {{Unit: 1, Infested: 2e10}}, {{Unit: 1, Infested: 3e10}}, nil},
		Then:   []Then{{Infested: 1e10}, {Infested: 2e10}, {Infested: 3e10}, {}},
		Home:   []int32{0, -1, 1, -1}, Restated: []int64{1e10, 2e10, 3e10, 0},
		// the units have new borders: half an acre of the second unit was in a third one before
		Printed: []UnitAcres{{InUnit, "u1", "u1", 7e9}, {InUnit, "u2", "u2", 48e9}, {InUnit, "u3", "u3", 5e9}},
	}
	want := map[string]Parts{
		"total ":        {Previous: 6e10, Observed: -5e9, New: 3e10, FirstLooked: 1e10, NotDetected: 2e10, Cleared: 2e10, Carried: 3e10},
		"unit u1":       {Previous: 7e9, Observed: -2e9},
		"unit u2":       {Previous: 48e9, Restated: 5e9, Observed: -3e9, NotDetected: 2e10, Cleared: 2e10, Carried: 3e10},
		"unit u3":       {Previous: 5e9, Restated: -5e9},
		"outsideUnits ": {New: 3e10, FirstLooked: 1e10},
	}
	for _, s := range Summarize(run) {
		if d := cmp.Diff(want[string(s.Scope)+" "+s.UnitID], s.Change); d != "" && s.Scope != NoStream {
			t.Errorf("%s %s: %s", s.Scope, s.UnitID, d)
		}
		if c := s.Change; c.Previous+c.Restated+c.Observed+c.New+c.FoundAgain+c.FirstLooked-c.NotDetected != s.Infested {
			t.Errorf("%s %s: the parts do not add up to %d: %+v", s.Scope, s.UnitID, s.Infested, c)
		}
	}
}

// TestSummaryAddsUp: in any run, each column of the total except percentiles is the sum of the
// streams' rows and of the units' rows. It is also the sum of the stands' exact acres rounded once,
// or of their printed figures. Statuses add up to infested acres, and the mass balance closes, all
// to the last digit.
func TestSummaryAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		run := randomRun(t)
		table := SummaryTable(run, Summarize(run))
		stands := StandTable(run)
		for k, f := range table.Fields {
			if f.Kind != Number && f.Kind != Count || strings.HasSuffix(f.Name, "_p10") || strings.HasSuffix(f.Name, "_p90") {
				continue // percentiles do not add up, as their definitions say
			}
			total, streams, units := f.Value(run, 0).Int, int64(0), int64(0)
			for i := 1; i < table.Rows; i++ {
				if scope := table.Fields[0].Value(run, i).Text; scope == string(InUnit) || scope == string(OutsideUnits) {
					units += f.Value(run, i).Int
				} else {
					streams += f.Value(run, i).Int
				}
			}
			if total != streams || len(run.Units) > 0 && total != units {
				t.Errorf("%s: total %d, streams %d, units %d", f.Name, total, streams, units)
			}
			if own := column(stands, run, table.Fields[k].Name); own != nil && f.Unit != Acres && total != *own {
				t.Errorf("%s: total %d, stands %d", f.Name, total, *own)
			}
			// half of the last digit, and half a grain for each stand
			within := 0.500001*math.Pow10(-int(run.AcreDecimals)) + 0.5e-10*float64(len(run.Stands))
			if exact, is := exactly(run)[f.Name]; is && math.Abs(f.Value(run, 0).Float()-exact) > within {
				t.Errorf("%s: total %v, exact %v", f.Name, f.Value(run, 0), exact)
			}
		}
		checkRows(t, Summarize(run))
	})
}

func checkRows(t *rapid.T, sums []Sum) {
	for i, s := range sums {
		more := int64(0) // printed canopy above printed infested acres
		if i > 0 {
			more = printed // in a row, so that rows add up to the total (printInside)
		}
		if s.ByStatus[0]+s.ByStatus[1]+s.ByStatus[2]+s.ByStatus[3] != s.Infested {
			t.Errorf("%s: statuses do not add up to the infested acres", s.Name)
		}
		if s.Released != s.Settled+s.Held+s.Left || min(s.Settled, s.Held, s.Left) < 0 {
			t.Errorf("%s: released %d, settled %d, held %d, left %d", s.Name, s.Released, s.Settled, s.Held, s.Left)
		}
		if s.Canopy > s.Infested+more || s.Infested > s.Gross {
			t.Errorf("%s: canopy %d, infested %d, gross %d", s.Name, s.Canopy, s.Infested, s.Gross)
		}
	}
}

// exactly returns the sums of the stands' areas, in acres, without rounding.
func exactly(run *Run) map[string]float64 {
	sums := map[string]float64{}
	for i := range run.Stands {
		s := &run.Stands[i]
		sums["gross_acres"] += float64(s.Gross) / acre
		sums["infested_acres"] += float64(s.Infested) / acre
		sums["canopy_acres"] += float64(s.Canopy) / acre
		sums["zone_acres"] += float64(s.Zone.Area) / acre
	}
	return sums
}

// By hand: a thousand plants of a quarter of a square metre are 250 m2, 0.0618 acres; of a fifth,
// 0.0494. Each prints with three significant digits, and streams and statuses add up to the total.
func TestSmallPlants(t *testing.T) {
	for area, want := range map[float64][2]string{0.25: {"0.0617763", "0.0000618"}, 0.2: {"0.0494211", "0.0000494"}, 4: {"0.988422", "0.000988"}, 404.68564224: {"100", "0.1"}} {
		run := region()
		run.Stands = nil
		for i := range 1000 {
			run.Stands = append(run.Stands, Stand{
				Stand: stand.Stand{Status: survey.Status(i % 3), Gross: geo.SquareMeters(area), Infested: geo.SquareMeters(area)},
				Zone:  aquatic.Membership{Line: int32(i % 3)},
			})
		}
		run.AcreDecimals = AcreDecimals(run)
		sums := SummaryTable(run, Summarize(run))
		at := slices.IndexFunc(sums.Fields, func(f Field) bool { return f.Name == "infested_acres" })
		if got := sums.Fields[at].Value(run, 0).String(); got != want[0] {
			t.Errorf("a thousand of %g m2 are %s acres, want %s", area, got, want[0])
		}
		stands := StandTable(run)
		at = slices.IndexFunc(stands.Fields, func(f Field) bool { return f.Name == "infested_acres" })
		if got := stands.Fields[at].Value(run, 0).String(); got != want[1] {
			t.Errorf("one of %g m2 is %s acres, want %s", area, got, want[1])
		}
	}
}

// column returns the sum of a stand column with a name; nil if there is none.
func column(stands Table, run *Run, name string) *int64 {
	for _, f := range stands.Fields {
		if f.Name == name && f.Kind == Number {
			sum := int64(0)
			for i := range run.Stands {
				sum += f.Value(run, i).Int
			}
			return &sum
		}
	}
	return nil
}

func randomRun(t *rapid.T) *Run {
	run := region()
	run.Stands = nil
	for i := range rapid.IntRange(0, 30).Draw(t, "stands") {
		cover := rapid.Float64Range(0, 1).Draw(t, "cover")
		infested := rapid.Float64Range(0, 1e5).Draw(t, "infested")
		if rapid.IntRange(0, 9).Draw(t, "small") == 0 {
			infested *= 1e-6
		}
		released := rapid.Float64Range(0, 10).Draw(t, "released")
		held := released * rapid.Float64Range(0, 1).Draw(t, "held")
		left := (released - held) * rapid.Float64Range(0, 1).Draw(t, "left")
		run.Stands = append(run.Stands, Stand{
			Stand: stand.Stand{ID: fmt.Sprint(i), Status: survey.Status(i % 4), Gross: geo.SquareMeters(infested * 1.00001),
				Infested: geo.SquareMeters(infested), Canopy: geo.SquareMeters(infested * cover)},
			Zone:  aquatic.Membership{Line: int32(rapid.IntRange(-1, 3).Draw(t, "line"))},
			Drift: drift.Outcome{Released: drift.Amount(released), Held: drift.Amount(held), Left: drift.Amount(left), Settled: drift.Amount(released - held - left)},
		})
	}
	for range rapid.IntRange(0, 3).Draw(t, "units") {
		run.Units = append(run.Units, unit.Unit{})
	}
	if len(run.Units) > 0 {
		share(t, run)
	}
	run.AcreDecimals = AcreDecimals(run)
	return run
}

// share assigns the stands and reaches of a run to random units, some divided in two parts.
func share(t *rapid.T, run *Run) {
	anyUnit := rapid.Int32Range(allocate.Outside, int32(len(run.Units)-1))
	for i := range run.Stands {
		s := &run.Stands[i]
		rest := wholeAcres(s)
		part := allocate.Share{Unit: anyUnit.Draw(t, "unit"), Canopy: rest.Canopy / 4, Zone: rest.Zone / 4}
		part.Infested = part.Canopy + (rest.Infested-rest.Canopy)/4
		part.Gross = part.Infested + (rest.Gross-rest.Infested)/4
		rest = allocate.Share{
			Unit: anyUnit.Draw(t, "unit"), Infested: rest.Infested - part.Infested, Gross: rest.Gross - part.Gross,
			Canopy: rest.Canopy - part.Canopy, Zone: rest.Zone - part.Zone,
		}
		s.Shares = []allocate.Share{part, rest}
	}
	run.ReachShares = make([][]allocate.Length, len(run.Reaches))
	for i := range run.Reaches {
		run.ReachShares[i] = []allocate.Length{{Unit: anyUnit.Draw(t, "unit"), Km: units(float64(run.Reaches[i].LengthKm), Kilometers)}}
	}
}
