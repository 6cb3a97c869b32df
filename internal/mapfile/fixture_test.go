package mapfile

import (
	"bytes"
	"fmt"
	"math"
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/flow"
	geoshape "driftreach/geo/shape"
	"driftreach/internal/allocate"
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
	"driftreach/internal/unit"
	"driftreach/internal/work"
)

// nasty lists texts that have broken map files: markup, formulas, the end of a CDATA section,
// quotes, line ends, characters outside the Basic Multilingual Plane, a viewer's entity, a control
// character, bytes that are not UTF-8.
var nasty = []string{
	"plain", "<script>alert(1)</script>", "=cmd()|' /C calc'!A0", "a]]>b", "🌿 cañón", "say \"hi\", & go",
	"two\r\nlines", "$[name]", "+1", "-2", "@here", "\ttab", "bell\x07", "bad\xff\xfebytes", " padded ", "\u2028",
	"$[description]<b>bold</b>", "&lt;i&gt; &amp;", "&#36;[name]", "\u202egnp.exe\u2066x", `<img src=x onerror="ran(this)">`, "\x1b[31mred\x00",
}

// site is a place of the fixture.
type site struct {
	name string
	at   orb.Point
}

var sites = []site{
	{"south", orb.Point{-20.5, -34.25}},
	{"far north", orb.Point{25.125, 70.05}},
	{"antimeridian", orb.Point{179.9999, -17.5}},
	{"greenwich", orb.Point{0, 51}},
}

// circle returns a ring of n segments and radius r degrees; clockwise if asked for.
func circle(c orb.Point, r float64, n int, clockwise bool) orb.Ring {
	ring := make(orb.Ring, 0, n+1)
	for k := range n {
		a := 2 * math.Pi * float64(k) / float64(n)
		if clockwise {
			a = -a
		}
		ring = append(ring, orb.Point{c[0] + r*math.Cos(a), c[1] + r*math.Sin(a)})
	}
	return append(ring, ring[0])
}

// fixture returns a run with stands at every site: with holes, in several parts, with wrong winding
// on purpose, across 180 degrees, with texts from nasty.
func fixture() *result.Run {
	run := &result.Run{
		Quarter: survey.Quarter{Year: 2026, Number: 3}, ExtraColumns: []string{"", "crew", "stand_id"},
		Setback: 30, RiskShare: 0.05, Assumed: []string{"aquatic.setback_m", "drift.fragments_per_acre"},
		Draws: 200, Seed: 1, Stages: []result.Stage{{Name: "base"}, {Name: "flood"}},
	}
	for k, s := range sites {
		addSite(run, int32(k), s)
	}
	addWorks(run)
	addVisits(run)
	addAbsent(run)
	addUnits(run)
	rule := check.Rule{Code: "date-missing", Severity: check.Warning, Remedy: "fill in eventDate"}
	run.Network, _ = stream.Connect(run.Centerlines, nil, nil, flow.Options{Snap: 1})
	for k, text := range nasty {
		at := &orb.Point{179 + float64(k), 10}
		if k == 0 {
			at = nil
		}
		run.Findings = append(run.Findings, check.Finding{Rule: rule, File: "points.csv", Record: text, Value: text, Message: "no date: " + text, Position: at})
	}
	return run
}

// addVisits adds a visit in every state for each of the nasty texts: on and off the map; due before
// the quarter's end, after it, and never.
func addVisits(run *result.Run) {
	run.FollowUp = followup.DefaultSettings()
	end := run.Quarter.End()
	for k, text := range nasty {
		for state := followup.ToTreat; state <= followup.Released; state++ {
			s := sites[k%len(sites)]
			v := result.Visit{Stand: int32(k%(len(run.Stands)+1)) - 1, Row: &followup.Row{
				StandID: fmt.Sprintf("2025Q1-%02d%02d", k, state), Earlier: []string{"2024Q1-0001", "2024Q2-0001"}[:k%3], State: state,
				Look: followup.Look(k % 3), Status: survey.Status(k % 4), Order: k % 5, Lost: k % 2, LastSeen: end.AddDate(-1, 0, -k), LastLook: end.AddDate(0, 0, -k),
				Place: followup.Place{Position: s.at, StreamID: text, WaterBody: text, Parcel: text, RiverKm: geo.Kilometers(k) / 3},
			}}
			v.Present = v.Stand >= 0
			if k%3 == 0 {
				v.Place.RiverKm = geo.Kilometers(math.NaN())
			}
			if k%2 == 0 {
				v.Work = followup.Work{Days: k + 1, Last: end.AddDate(0, 0, -k), Method: text, FormulationClass: text}
			}
			if state != followup.Released {
				v.Due = end.AddDate(0, 0, 40*(k-5))
			}
			if state == followup.Watch || state == followup.Released {
				v.Clear = followup.Clear{Since: end.AddDate(-2, 0, 0), Last: end.AddDate(-1, 0, 0), Years: 2}
			}
			run.Visits = append(run.Visits, v)
		}
	}
}

// addUnits adds a unit for each of the nasty texts. It assigns each stand and reach to one unit, to
// two, or to one and the outside.
func addUnits(run *result.Run) {
	for _, text := range nasty {
		run.Units = append(run.Units, unit.Unit{ID: text, Name: text})
	}
	for i := range run.Stands {
		a, b := int32(i%len(nasty)), int32((i+1)%(len(nasty)+1))
		if b == int32(len(nasty)) {
			b = allocate.Outside
		}
		s := &run.Stands[i]
		all := allocate.Share{Unit: a, Gross: s.Gross.Grains(), Infested: s.Infested.Grains(), Canopy: s.Canopy.Grains(), Zone: s.Zone.Area.Grains()}
		s.Shares = []allocate.Share{all}
		if i%2 == 1 {
			part := allocate.Share{Unit: b, Gross: all.Infested / 4, Infested: all.Infested / 4}
			all.Gross, all.Infested = all.Gross-part.Gross, all.Infested-part.Infested
			s.Shares = []allocate.Share{all, part}
		}
	}
	run.ReachShares = make([][]allocate.Length, len(run.Reaches))
	for i := range run.Reaches {
		run.ReachShares[i] = []allocate.Length{{Unit: int32(i % len(nasty)), Km: 5}, {Unit: allocate.Outside, Km: 1}}
	}
}

// addWorks adds at every site a work of points, one of a line and one of an area, and a notice for
// each. At the third site all continue across 180 degrees.
func addWorks(run *result.Run) {
	run.WorksGiven = true
	for k, s := range sites {
		x, y := s.at[0], s.at[1]
		first := int32(len(run.Works))
		run.Works = append(run.Works,
			work.Work{ID: "P " + nasty[k], Kind: nasty[k+4], Contact: nasty[k+8], Points: orb.MultiPoint{{x, y}, {x + 0.001, y}}},
			work.Work{ID: "L " + nasty[k], Kind: work.Mowing, Start: run.Quarter.Begin(), End: run.Quarter.End(),
				Lines: orb.MultiLineString{{{x - 0.001, y}, {x + 0.001, y + 0.001}}, {{x, y - 0.001}, {x + 0.002, y - 0.001}}}},
			work.Work{ID: "A " + nasty[k], Kind: work.Earthwork, Areas: orb.MultiPolygon{{circle(s.at, 0.001, 16, true), circle(s.at, 0.0005, 8, false)}}},
			work.Work{ID: "one " + nasty[k], Kind: work.Earthwork, Points: orb.MultiPoint{s.at}})
		for j := range int32(4) {
			run.Notices = append(run.Notices, notice.Notice{Work: first + j, Stand: int32(2 * k), Distance: 12.345,
				Near: j != 1, Upstream: j > 0, AtWater: j > 0, CleanKm: 1.5})
		}
	}
}

// addSite adds a stream, two stands, records, a zone and three reaches.
func addSite(run *result.Run, k int32, s site) {
	name := s.name
	if k == 3 {
		name = ""
	}
	run.Centerlines = append(run.Centerlines, stream.Centerline{
		ID: fmt.Sprintf("L-%d", k), Name: name, Sequence: math.NaN(), FlowShare: geo.Share(math.NaN()), LocalArea: geo.SquareKilometers(math.NaN()),
		Path: orb.LineString{{s.at[0] - 0.004, s.at[1]}, {s.at[0] + 0.001, s.at[1] + 0.001}, {s.at[0] + 0.004, s.at[1]}},
	})
	footprint := orb.MultiPolygon{
		{circle(s.at, 0.0005, 128, true), circle(s.at, 0.0002, 32, false)},
		{circle(orb.Point{s.at[0] + 0.002, s.at[1]}, 0.0003, 128, false)},
	}
	first := int32(len(run.Records.Listed))
	for j, text := range nasty {
		detected := j%4 != 3
		stand := 2*k + int32(j%2)
		if !detected {
			stand = -1
		}
		run.Records.Listed = append(run.Records.Listed, survey.Record{
			ID: fmt.Sprintf("%s %d %s", s.name, j, text), Position: orb.Point{s.at[0] + float64(j)*1e-4, s.at[1]},
			Begin: survey.DayOf(time.Date(2026, 7, 1+j, 0, 0, 0, 0, time.UTC)), End: survey.DayOf(time.Date(2026, 7, 1+j+j%2, 0, 0, 0, 0, time.UTC)),
			Detected: detected, Status: survey.Status(j % 4), PatchArea: 12.345, Cover: math.NaN(), StemHeight: 4.25,
			Notes: survey.Notes{RecordedBy: text, Remarks: text, Extra: []string{text, "crew " + text, "theirs"}}.Pack(),
		})
		run.StandOf = append(run.StandOf, stand)
		run.InZone = append(run.InZone, j%2 == 0)
	}
	for j := range int32(2) {
		inside := j == 0
		run.Stands = append(run.Stands, result.Stand{
			Stand: stand.Stand{
				ID: fmt.Sprintf("2026Q3-%04d", 2*k+j), Members: []int32{first, first + 1}, Isolated: j == 1,
				Footprint: stand.Pack(footprint), Center: orb.Point{math.Mod(s.at[0]+180.0001, 360) - 180.0001, s.at[1]},
				First: time.Date(2026, 7, 1, 0, 0, 0, 0, time.UTC), Status: survey.Status((k + j) % 4),
				Gross: 5000.5, Infested: geo.SquareMeters(4046.8564224 * (1 + float64(k)/3)), Canopy: 1234.5, CoverPercent: 62.54, StemHeight: geo.Meters(math.NaN()),
				Assumed: []string{"stands.default_patch_acres"},
			},
			Zone:   aquatic.Membership{InZone: inside, Area: 321, WaterDistance: geo.Meters(math.Inf(1)), Line: k, WidthAssumed: inside},
			Drift:  drift.Outcome{Released: 0.1234567, Held: 0.0333333, Left: 0.02, Settled: 0.0701234, ReachKm: 1.25, RiverKm: geo.Kilometers(math.NaN())},
			Advice: priority.Advice{Order: int(2*k + j + 1), Requirements: nasty[:3], WaterUseLow: 1, WaterUseHigh: 13.3333},
		})
	}
	run.Zones = append(run.Zones, aquatic.Zone{WaterBody: name, Lines: 1, Area: 98765, WidthAssumed: true,
		Geometry: geoshape.PackOnSteps(orb.MultiPolygon{{circle(s.at, 0.004, 64, false)}}, perDegree)})
	run.Steps = append(run.Steps, drift.Step{Stand: 2 * k, Exposure: drift.AmountKm(2*k + 1), FreedKm: 1}, drift.Step{Stand: 2*k + 1, Exposure: drift.AmountKm(2*k + 2), FreedKm: 2})
	for c := range 3 {
		run.Reaches = append(run.Reaches, drift.Reach{
			Line: k, FromKm: 3 - geo.Kilometers(c), ToKm: 2 - geo.Kilometers(c), LengthKm: 1, Exposure: 0.1, Class: drift.Class(c), Stands: 2, NearestStand: 2 * k, Stage: uint8(c % 2), HoursFast: 1.5, HoursMean: 2.25,
			Path: orb.LineString{{s.at[0] - 0.001, s.at[1]}, {s.at[0] + 0.0005, s.at[1] + 1e-4*float64(c)}, {s.at[0] + 0.001, s.at[1]}},
		})
	}
}

// many returns a run of n records in n/12 round stands of the given segments,
// for the benchmarks.
func many(n, segments int) *result.Run {
	run := &result.Run{Quarter: survey.Quarter{Year: 2026, Number: 3}, Setback: 30, RiskShare: 0.05}
	for k := range 100 {
		run.Centerlines = append(run.Centerlines, stream.Centerline{ID: fmt.Sprintf("L-%d", k), Name: fmt.Sprintf("River %d", k/10)})
	}
	for i := range n {
		at := orb.Point{-20 + float64(i%1000)*1e-3, -34 - float64(i/1000)*1e-3}
		run.Records.Listed = append(run.Records.Listed, survey.Record{
			ID: fmt.Sprintf("rec-%07d", i), Position: orb.Point{at[0] + 1.23456e-4, at[1] - 6.54321e-4}, Detected: i%10 != 0, Status: survey.Status(i % 4),
			Begin: survey.DayOf(time.Date(2026, 7, 1+i%28, 0, 0, 0, 0, time.UTC)), Uncertainty: 4, PatchArea: geo.SquareMeters(100 + i%50), Cover: 62.5, StemHeight: 3.5,
			Notes: survey.Notes{RecordedBy: "surveyor four", Parcel: "parcel 12", Remarks: "dense growth on the bank"}.Pack(),
		})
		run.StandOf = append(run.StandOf, int32(i/12)%int32(max(1, n/12)))
		run.InZone = append(run.InZone, i%2 == 0)
	}
	for i := range n / 12 {
		at := orb.Point{-20 + float64(i%1000)*1e-3, -34 - float64(i/1000)*1e-3}
		run.Stands = append(run.Stands, result.Stand{
			Stand: stand.Stand{ID: fmt.Sprintf("2026Q3-%04d", i), Members: make([]int32, 12), Footprint: stand.Pack(orb.MultiPolygon{{circle(at, 3e-4, segments, false)}}),
				Center: at, Gross: 5000, Infested: 4000, Canopy: 2500, CoverPercent: 62.5, StemHeight: 4},
			Zone:   aquatic.Membership{InZone: i%2 == 0, Line: int32(i % 100), WaterDistance: 3},
			Advice: priority.Advice{Order: i + 1, Requirements: []string{"aquatic-labelled formulation", "the permit before work"}},
		})
		run.Reaches = append(run.Reaches, drift.Reach{Line: int32(i % 100), LengthKm: 1, Class: drift.Class(i % 3), NearestStand: int32(i),
			Path: orb.LineString(circle(at, 1e-3, 20, false))})
	}
	return run
}

// written returns the bytes that a function wrote.
func written(write func(*bytes.Buffer) error) ([]byte, error) {
	var b bytes.Buffer
	err := write(&b)
	return b.Bytes(), err
}
