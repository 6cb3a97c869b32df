package intake

import (
	"errors"
	"strings"
	"testing"

	"driftreach/internal/check"
	"driftreach/internal/correction"
	"driftreach/internal/format"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
	"driftreach/internal/surveyed"
	"driftreach/internal/testkit"
	"driftreach/internal/treatment"
	"driftreach/internal/unit"
	"driftreach/internal/work"
)

// FuzzCheck runs the batch checks on everything that the readers accept.
func FuzzCheck(f *testing.F) {
	f.Add(sampleJSON)
	f.Add(`{"type":"LineString","coordinates":[[0,0],[2,2],[2,0],[0,2]]}`)
	for _, file := range testkit.Stored(f, "handed-in/*.geojson", "handed-in/*.csv") {
		f.Add(string(file))
	}
	f.Fuzz(func(t *testing.T, text string) {
		readAny(t, text)
		if p, _, err := ReadPoints(testkit.Source("f", strings.NewReader(text)), testOptions()); err == nil {
			survey.Examine(p.Records, survey.DefaultOptions(quarter))
		}
		if s, _, err := ReadStreams(testkit.Source("f", strings.NewReader(text)), testOptions()); err == nil {
			stream.Check(s.Centerlines, stream.Options{})
		}
	})
}

// FuzzOtherInputs reads any text as works, units, surveyed ground, control work, barriers, water
// and corrections, and runs their checks on what the readers accept: no panic, errors of one type,
// and totals that add up.
func FuzzOtherInputs(f *testing.F) {
	for _, seed := range []string{
		unitsGeoJSON, gpxText, kmlText, unitFeature(`{"kind":"dam","date":"2026-07-01","eventDate":"2026-07"}`, square),
		"unit_id,WKT\na,\"POLYGON ((1 2, 3 2, 3 4, 1 2))\"\n", "date,stand_id,lon,lat,treated_acres\n2026-07-01,s,1,2,-1\n",
		unitFeature(`{}`, `{"type":"Polygon","coordinates":[[[1,2],[3,4],[1,4],[3,2],[1,2]]]}`),
		"date,correction,occurrenceID,stand_id,other_stand_id\n2026-07-01,look-alike,r,,\n2026-07-01,same as,,s,t\n2026-07-02,not the same stand,,t,s\n,absence was wrong,,,\n",
		unitFeature(`{"kind":"lake","water_id":"w"}`, `{"type":"Polygon","coordinates":[[[179,2],[-179,2],[-179,4],[179,2]]]}`),
	} {
		f.Add(seed)
	}
	for _, file := range testkit.Stored(f, "handed-in/*streams.geojson", "parquet/patches.geojson", "handed-in/wkt.csv", "handed-in/*.gpx") {
		f.Add(string(file))
	}
	f.Fuzz(func(t *testing.T, text string) {
		source := func() format.Source { return testkit.Source("f", strings.NewReader(text)) }
		adds := func(file File, kept, rejected int, err error) {
			var unusable *format.UnusableError
			if err != nil && !errors.As(err, &unusable) || err == nil && (file.Read != kept+file.Rejected || file.Rejected != rejected) {
				t.Fatalf("%q: read %d, kept %d, rejected %d, told %d, %v", text, file.Read, kept, file.Rejected, rejected, err)
			}
		}
		works, told, err := ReadWorks(source(), testOptions())
		adds(works.File, len(works.Works), check.Count(told, check.Error), err)
		work.Check(works.Works, work.Options{})
		units, told, err := ReadUnits(source(), testOptions())
		adds(units.File, len(units.Units), check.Count(told, check.Error), err)
		unit.Check(units.Units, unit.Options{})
		walked, told, err := ReadSurveyed(source(), testOptions())
		adds(walked.File, len(walked.Ground), check.Count(told, check.Error), err)
		surveyed.Check(walked.Ground, surveyed.Options{})
		done, told, err := ReadTreatments(source(), testOptions())
		adds(done.File, len(done.Actions), check.Count(told, check.Error), err)
		treatment.Check(done.Actions, treatment.Options{})
		barriers, told, err := ReadBarriers(source(), testOptions())
		adds(barriers.File, len(barriers.Structures), check.Count(told, check.Error), err)
		stream.CheckStructures(barriers.Structures, stream.Options{})
		water, told, err := ReadWater(source(), testOptions())
		adds(water.File, len(water.Surfaces), check.Count(told, check.Error), err)
		stream.CheckSurfaces(water.Surfaces, stream.Options{})
		found, told, err := ReadCorrections(source(), testOptions())
		adds(found.File, len(found.Rows), check.Count(told, check.Error), err)
		rows, _ := correction.Check(found.Rows, correction.Options{End: quarter.End()})
		half := len(rows) / 2
		for i := range rows[:half] { // as accepted earlier in the chain
			rows[i].Taken = quarter.String()
		}
		if kept, _ := correction.Join(rows[:half], rows[half:]); len(kept) > len(rows) {
			t.Fatalf("%q: %d corrections came of %d", text, len(kept), len(rows))
		}
	})
}
