package result

import (
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/internal/apportion"
	"driftreach/internal/aquatic"
	"driftreach/internal/drift"
	"driftreach/internal/lineage"
	"driftreach/internal/stand"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
	"driftreach/internal/unit"
)

// acre is one acre in square metres (NIST SP 811, appendix B).
const acre = 4046.8564224

// region is a run with three named lines of two rivers, one line without a name,
// stands on each and one without a stream.
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

// TestSummarizeByHand: figures of region, added by hand.
func TestSummarizeByHand(t *testing.T) {
	sums := Summarize(region())
	var got []string
	for _, s := range sums {
		got = append(got, fmt.Sprintf("%s %q stands %d isolated %d zone %d infested %d reach %d settled %d",
			s.Scope, s.Name, s.Stands, s.Isolated, s.InZone, s.Infested, s.ReachAtRisk, s.Settled))
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

// TestSummaryByUnit: region in two units; its first stand lies across both and
// outside, its last outside altogether. Added by hand.
func TestSummaryByUnit(t *testing.T) {
	run := region()
	run.Units = []unit.Unit{{ID: "u1", Name: "East"}, {ID: "u2"}}
	shares := [][]apportion.Share{
		{{Unit: 0, Infested: 3000, Gross: 6000, Canopy: 1500, Zone: 2500}, {Unit: 1, Infested: 6000, Gross: 12000, Canopy: 3000}, {Unit: apportion.Outside, Infested: 1000, Gross: 2000, Canopy: 500}},
		{{Unit: 0, Infested: 10000}}, {{Unit: 0, Infested: 10001}}, {{Unit: 1, Infested: 10001}}, {{Unit: apportion.Outside, Infested: 10002}},
	}
	for i := range run.Stands {
		run.Stands[i].Shares = shares[i]
	}
	run.ReachShares = [][]apportion.Length{{{Unit: 0, Km: 10000}}, {{Unit: 0, Km: 1}, {Unit: 1, Km: 19999}}, {{Unit: apportion.Outside, Km: 5000}}}
	var got []string
	for _, s := range Summarize(run)[5:] {
		got = append(got, fmt.Sprintf("%s %q %q stands %d isolated %d infested %d gross %d zone %d untreated %d reach %d settled %d",
			s.Scope, s.Name, s.UnitID, s.Stands, s.Isolated, s.Infested, s.Gross, s.Zone, s.ByStatus[survey.Untreated], s.ReachAtRisk, s.Settled))
	}
	want := []string{
		`unit "East" "u1" stands 2 isolated 1 infested 23001 gross 6000 zone 2500 untreated 3000 reach 10001 settled 666668`,
		`unit "u2" "u2" stands 2 isolated 0 infested 16001 gross 12000 zone 0 untreated 6000 reach 19999 settled 666668`,
		`outsideUnits "" "" stands 1 isolated 0 infested 11002 gross 2000 zone 0 untreated 11002 reach 5000 settled 333334`,
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
}

// TestChangeByUnit: of two stands known before, one of an acre across both units
// shrank to half an acre in the first; one of 2 acres, last seen treated in the
// second, was not detected; one of 3 acres there was not visited; one of 4 acres
// outside is new; one of 5 was not detected before and is not now. By hand.
func TestChangeByUnit(t *testing.T) {
	known := func(id string, acres float64, status survey.Status) lineage.Known {
		return lineage.Known{Stand: stand.Stand{ID: id, Infested: geo.SquareMeters(acres * acre), Status: status}}
	}
	stands := func(id string, acres float64, unit int32) Stand {
		return Stand{Stand: stand.Stand{ID: id, Infested: geo.SquareMeters(acres * acre)}, Zone: aquatic.Membership{Line: -1},
			Shares: []apportion.Share{{Unit: unit, Infested: int64(acres * 1e4)}}}
	}
	run := &Run{Quarter: survey.Quarter{Year: 2026, Number: 3}, Units: []unit.Unit{{ID: "u1"}, {ID: "u2"}}}
	run.Stands = []Stand{stands("a", 0.5, 0), stands("c", 3, 1), stands("n", 4, apportion.Outside)}
	run.Stands[0].Change, run.Stands[0].Parents = lineage.Shrunk, []int32{0}
	run.Stands[1].Change, run.Stands[1].CarriedFrom = lineage.NotResurveyed, survey.Quarter{Year: 2026, Number: 1}
	run.Stands[2].Change = lineage.New
	absent := known("x", 5, survey.Treated)
	absent.Absent = true
	run.Previous = &Previous{
		Known:  []lineage.Known{known("a", 1, 0), known("b", 2, survey.Treated), known("c", 3, 0), absent},
		Fates:  []lineage.Change{"", lineage.NotDetected, lineage.NotResurveyed, lineage.NotDetected},
		Shares: [][]apportion.Share{{{Unit: 0, Infested: 7000}, {Unit: 1, Infested: 3000}}, {{Unit: 1, Infested: 20000}}, {{Unit: 1, Infested: 30000}}, {{Unit: 1, Infested: 50000}}},
	}
	want := map[string]Parts{
		"total ":        {Previous: 60000, Observed: -5000, New: 40000, NotDetected: 20000, Cleared: 20000, Carried: 30000},
		"unit u1":       {Previous: 7000, Observed: -2000},
		"unit u2":       {Previous: 53000, Observed: -3000, NotDetected: 20000, Cleared: 20000, Carried: 30000},
		"outsideUnits ": {New: 40000},
	}
	for _, s := range Summarize(run) {
		if d := cmp.Diff(want[string(s.Scope)+" "+s.UnitID], s.Change); d != "" && s.Scope != NoStream {
			t.Errorf("%s %s: %s", s.Scope, s.UnitID, d)
		}
		if c := s.Change; c.Previous+c.Observed+c.New-c.NotDetected != s.Infested {
			t.Errorf("%s %s: the parts do not add up to %d: %+v", s.Scope, s.UnitID, s.Infested, c)
		}
	}
}

// TestSummaryAddsUp: on any run, each column of the total is the sum of the
// streams' rows, of the units' rows and of the stands' own printed figures; the
// statuses add up to the infested acres and the books balance, all to the last
// digit.
func TestSummaryAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		run := randomRun(t)
		table := SummaryTable(run, Summarize(run))
		stands := StandTable(run)
		for k, f := range table.Fields {
			if f.Kind != Number && f.Kind != Count {
				continue
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
			if own := column(stands, run, table.Fields[k].Name); own != nil && total != *own {
				t.Errorf("%s: total %d, stands %d", f.Name, total, *own)
			}
		}
		checkRows(t, Summarize(run))
	})
}

func checkRows(t *rapid.T, sums []Sum) {
	for _, s := range sums {
		if s.ByStatus[0]+s.ByStatus[1]+s.ByStatus[2]+s.ByStatus[3] != s.Infested {
			t.Errorf("%s: statuses do not add up to the infested acres", s.Name)
		}
		if s.Released != s.Settled+s.Held+s.Left || min(s.Settled, s.Held, s.Left) < 0 {
			t.Errorf("%s: released %d, settled %d, held %d, left %d", s.Name, s.Released, s.Settled, s.Held, s.Left)
		}
		if s.Canopy > s.Infested || s.Infested > s.Gross {
			t.Errorf("%s: canopy %d, infested %d, gross %d", s.Name, s.Canopy, s.Infested, s.Gross)
		}
	}
}

// column returns the sum of a stand column of that name, nil when there is none.
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
		released := rapid.Float64Range(0, 10).Draw(t, "released")
		held := released * rapid.Float64Range(0, 1).Draw(t, "held")
		left := (released - held) * rapid.Float64Range(0, 1).Draw(t, "left")
		run.Stands = append(run.Stands, Stand{
			Stand: stand.Stand{ID: fmt.Sprint(i), Status: survey.Status(i % 4), Gross: geo.SquareMeters(infested * 1.00001),
				Infested: geo.SquareMeters(infested), Canopy: geo.SquareMeters(infested * cover)},
			Zone:  aquatic.Membership{Line: int32(rapid.IntRange(-1, 3).Draw(t, "line"))},
			Drift: drift.Outcome{Released: released, Held: held, Left: left, Settled: released - held - left},
		})
	}
	for range rapid.IntRange(0, 3).Draw(t, "units") {
		run.Units = append(run.Units, unit.Unit{})
	}
	if len(run.Units) > 0 {
		share(t, run)
	}
	return run
}

// share gives the stands and reaches of run to random units, some in two parts.
func share(t *rapid.T, run *Run) {
	anyUnit := rapid.Int32Range(apportion.Outside, int32(len(run.Units)-1))
	for i := range run.Stands {
		s := &run.Stands[i]
		rest := wholeAcres(s)
		part := apportion.Share{Unit: anyUnit.Draw(t, "unit"), Canopy: rest.Canopy / 4, Zone: rest.Zone / 4}
		part.Infested = part.Canopy + (rest.Infested-rest.Canopy)/4
		part.Gross = part.Infested + (rest.Gross-rest.Infested)/4
		rest = apportion.Share{
			Unit: anyUnit.Draw(t, "unit"), Infested: rest.Infested - part.Infested, Gross: rest.Gross - part.Gross,
			Canopy: rest.Canopy - part.Canopy, Zone: rest.Zone - part.Zone,
		}
		s.Shares = []apportion.Share{part, rest}
	}
	run.ReachShares = make([][]apportion.Length, len(run.Reaches))
	for i := range run.Reaches {
		run.ReachShares[i] = []apportion.Length{{Unit: anyUnit.Draw(t, "unit"), Km: units(run.Reaches[i].LengthKm, Kilometers)}}
	}
}
