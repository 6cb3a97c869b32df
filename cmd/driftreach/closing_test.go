package main

import (
	"strings"
	"testing"

	"driftreach/geo"
	"driftreach/internal/aquatic"
	"driftreach/internal/check"
	"driftreach/internal/drift"
	"driftreach/internal/result"
	"driftreach/internal/stand"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
)

// Two stands of 1234.5 and 1 acres, one of them in the zone; every expected
// figure is derived by hand.
func TestClosingTellsTheTotals(t *testing.T) {
	acre := geo.Acres(1).SquareMeters()
	run := &result.Run{
		Quarter:     survey.Quarter{Year: 2026, Number: 3},
		Records:     survey.Records{Listed: []survey.Record{{ID: "a", Detected: true}, {ID: "b", Detected: true}, {ID: "c"}}},
		StandOf:     []int32{0, 1, -1},
		InZone:      []bool{true, false, false},
		Centerlines: []stream.Centerline{{ID: "s", Name: "Long Water"}},
		Stands: []result.Stand{
			{
				Stand: stand.Stand{ID: "2026Q3-0001", Gross: 2000 * acre, Infested: 1234.5 * acre, Canopy: 500 * acre},
				Zone:  aquatic.Membership{InZone: true, Area: 1000.004 * acre, Line: 0},
				Drift: drift.Outcome{Released: 500, Settled: 450, Held: 30, Left: 20, ReachKm: 12.34},
			},
			{
				Stand: stand.Stand{ID: "2026Q3-0002", Isolated: true, Gross: acre, Infested: acre, Canopy: acre / 2},
				Zone:  aquatic.Membership{Line: 0, WaterDistance: 900},
			},
		},
		Reaches: []drift.Reach{{Line: 0, FromKm: 12.34, LengthKm: 12.34}},
		Stages:  []result.Stage{{Name: "base", Balance: drift.Balance{Released: 5500, Settled: 5440, Held: 30, Aged: 10, Left: 20}, AtRiskKm: 12.34}},
		Setback: 30, RiskShare: 0.05, Draws: 200, AtRiskBand: drift.Band[geo.Kilometers]{P10: 8.04, P50: 12.4, P90: 20.26},
		Findings: []check.Finding{{Rule: check.Rule{Severity: check.Warning}}, {Rule: check.Rule{Severity: check.Warning}}, {Rule: check.Rule{Severity: check.Error}}},
	}
	var out strings.Builder
	closing{run: run, out: "out\x1b[2J", open: "open it"}.write(&out)
	for _, want := range []string{
		"driftreach 2026Q3\n",
		"survey points    3               2 detected, 1 not detected",
		"stands           2               1 in the aquatic zone, 1 upland; 1 isolated",
		"gross            2 001.00 ac",
		"infested         1 235.50 ac",
		"canopy           500.50 ac",
		"in the zone      1 000.00 ac     infested within 30 m of a bank",
		"stream at risk   12.3 km         stream where at least 5 % of",
		"8.0 to 20.3 km  P10 to P90 of 200 draws",
		"5 500.000",
		"released = 5 440.000 settled + 30.000 held at barriers + 10.000 lost to age + 20.000 left at outlets",
		"findings         3               1 error, 2 warnings, 0 notes",
		`files in         out\u001b[2J`,
	} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("no %q in\n%s", want, out.String())
		}
	}
}

// TestBalanceAddsUpAsPrinted: 5.0744 is printed as 5.074, and its parts 4.6333, 0.2574 and 0.1837 as
// 4.633, 0.257 and 0.184, by largest remainder: rounded one by one they are 5.074 too; 4.6334, 0.2574
// and 0.1834 are not (5.073), and the largest rest gets what is missing. By hand.
func TestBalanceAddsUpAsPrinted(t *testing.T) {
	for _, c := range []struct {
		of   drift.Balance
		want [4]string
	}{
		{drift.Balance{Released: 5.0744, Settled: 4.6333, Held: 0.2574, Left: 0.1837}, [4]string{"4.633", "0.257", "0.000", "0.184"}},
		{drift.Balance{Released: 5.0743, Settled: 4.6334, Held: 0.2574, Left: 0.1835}, [4]string{"4.633", "0.257", "0.000", "0.184"}},
		{drift.Balance{Released: 5.0742, Settled: 4.6334, Held: 0.2574, Left: 0.1834}, [4]string{"4.634", "0.257", "0.000", "0.183"}},
		{drift.Balance{Released: 2e9, Settled: 2e9}, [4]string{"2 000 000 000.000", "0.000", "0.000", "0.000"}},
		{},
	} {
		if c.of == (drift.Balance{}) {
			c.want = [4]string{"0.000", "0.000", "0.000", "0.000"}
		}
		if got := balanceParts(c.of); got != c.want {
			t.Errorf("%+v: %v, want %v", c.of, got, c.want)
		}
	}
}

func TestGroupsOfThree(t *testing.T) {
	for in, want := range map[string]string{
		"0": "0", "999": "999", "1000": "1 000", "1234567": "1 234 567", "1234.5678": "1 234.5678", "-1234.5": "-1 234.5", "-12": "-12",
	} {
		if got := groups(in); got != want {
			t.Errorf("groups(%q) = %q, want %q", in, got, want)
		}
	}
}

func TestDecimalsAreGrouped(t *testing.T) {
	if got := decimals(38736.66, 1) + ", " + decimals(25125.03, 3) + ", " + decimals(0, 3); got != "38 736.7, 25 125.030, 0.000" {
		t.Error(got)
	}
}

func TestTrimDropsTheTailOfBinaryFractions(t *testing.T) {
	for in, want := range map[float64]string{100 * 0.05: "5", 100 * 0.07: "7", 30: "30", 12.5: "12.5"} {
		if got := trim(in); got != want {
			t.Errorf("trim(%v) = %q, want %q", in, got, want)
		}
	}
}
