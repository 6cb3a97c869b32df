package report

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/internal/aquatic"
	"driftreach/internal/check"
	"driftreach/internal/drift"
	"driftreach/internal/followup"
	"driftreach/internal/notice"
	"driftreach/internal/priority"
	"driftreach/internal/result"
	"driftreach/internal/stand"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
	"driftreach/internal/trend"
	"driftreach/internal/work"
)

// hostile lists texts that have broken pages: markup, the ends of attributes, elements and
// comments, reversed text direction, half characters, very long texts.
var hostile = []string{
	"<script>alert(1)</script>", `" onload="alert(1)`, "' style='x", "</style></svg></table>", "<!-- ", "]]>", "&lt;b&gt; & <b>",
	"\u202eright to left\u202e", "שלום", "bell\x07", "bad\xff\xfebytes", "\uffff\ufdd0\x85", strings.Repeat("long ", 100), strings.Repeat("x", 500), "{{.Style}}",
}

// invented returns a run of parallel lines a kilometre long. Each has the given number of stands
// along it, a reach at risk below the first stand, and a dam at its end. Texts are used in turn.
func invented(lines, standsPerLine int, texts []string) *result.Run {
	run := &result.Run{
		Quarter: survey.Quarter{Year: 2026, Number: 3}, Setback: 30, RiskShare: 0.05, Draws: 200, Seed: 1,
		Assumed: []string{"aquatic.setback_m"}, Stages: []result.Stage{{Name: "base"}}, WorksGiven: true,
	}
	side := int(math.Ceil(math.Sqrt(float64(lines))))
	for l := range lines {
		south, west := 10+0.012*float64(l/side), 20+0.012*float64(l%side)
		var path orb.LineString
		for k := range 21 {
			path = append(path, orb.Point{west + 0.0005*float64(k), south + 0.0003*math.Sin(float64(k))})
		}
		run.Centerlines = append(run.Centerlines, stream.Centerline{
			ID: fmt.Sprint("L", l), Name: texts[l%len(texts)], Path: path, Order: 1 + l%5, Barrier: stream.Dam, BarrierPass: geo.Share(math.NaN()),
			Sequence: math.NaN(), FlowShare: geo.Share(math.NaN()), LocalArea: geo.SquareKilometers(math.NaN()),
		})
		run.Reaches = append(run.Reaches, drift.Reach{Line: int32(l), LengthKm: 0.5, Class: drift.Class(l % 3), Path: path[10:]})
		for s := range standsPerLine {
			run.Stands = append(run.Stands, inventedStand(len(run.Stands), int32(l), path[1+s%19]))
		}
	}
	run.Network, _ = stream.Connect(run.Centerlines, nil, nil, flow.Options{Snap: 1})
	exposure := 0.0
	for i := range run.Stands {
		run.Stands[i].Advice.Requirements = texts[:min(2, len(texts))]
		exposure++
		run.Visits = append(run.Visits, result.Visit{Stand: int32(i), Row: &followup.Row{
			StandID: run.Stands[i].ID, Present: true, State: followup.LookAgain, Due: time.Date(2026, 9, 1+i, 0, 0, 0, 0, time.UTC),
			Place: followup.Place{Position: run.Stands[i].Center, WaterBody: texts[i%len(texts)], RiverKm: 0.5},
		}})
		run.Steps = append(run.Steps, drift.Step{Stand: int32(i), Treat: priority.Asked(run.Stands[i].Status), Exposure: drift.AmountKm(exposure)})
	}
	for k, text := range texts {
		run.Findings = append(run.Findings, check.Finding{Rule: check.Rule{Code: "rule-" + fmt.Sprint(k), Severity: check.Severity(k % 3), Remedy: text}, Message: text})
		run.Works = append(run.Works, work.Work{ID: text, Kind: text, Contact: text, Points: orb.MultiPoint{run.Stands[0].Center}})
		run.Notices = append(run.Notices, notice.Notice{Work: int32(k), Stand: int32(k % len(run.Stands)), Distance: 12.3, Near: true})
	}
	return run
}

func inventedStand(i int, line int32, at orb.Point) result.Stand {
	ring := orb.Ring{}
	for k := range 33 {
		turn := 2 * math.Pi * float64(k%32) / 32
		ring = append(ring, orb.Point{at[0] + 0.0002*math.Cos(turn), at[1] + 0.0002*math.Sin(turn)})
	}
	return result.Stand{
		Stand: stand.Stand{
			ID: fmt.Sprintf("2026Q3-%04d", i+1), Center: at, Footprint: stand.Pack(orb.MultiPolygon{{ring}}), Status: survey.Status(i % 4),
			Gross: 1600, Infested: geo.SquareMeters(100 + i%1500), Canopy: 50, CoverPercent: 50, StemHeight: geo.Meters(math.NaN()),
		},
		Zone:      aquatic.Membership{InZone: i%3 > 0, Area: 40, Line: line},
		Drift:     drift.Outcome{Released: 0.5, Settled: 0.5, ReachKm: 0.5, AloneKm: 0.25, RiverKm: 0.9, Reached: []int32{0}},
		ReachBand: drift.Band[geo.Kilometers]{P10: 0.25, P50: 0.5, P90: 0.75},
		Advice:    priority.Advice{Order: i + 1, WaterUseLow: 1.25, WaterUseHigh: 20.5},
	}
}

// printed writes the page of a run.
func printed(t testing.TB, run *result.Run, h *trend.History) string {
	t.Helper()
	var b bytes.Buffer
	settings := []Setting{{Key: "aquatic.setback_m", Value: "30", Unit: "m", Origin: "[A]", Meaning: "width of the zone", Source: "our choice"}}
	if err := WritePage(&b, run, Sources{Version: "1.2.3", Settings: settings, History: h}); err != nil {
		t.Fatal(err)
	}
	return b.String()
}
