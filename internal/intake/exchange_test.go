package intake

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/paulmach/orb"

	"driftreach/geo/earth"
	"driftreach/internal/check"
	"driftreach/internal/correction"
	"driftreach/internal/format"
	"driftreach/internal/stream"
	"driftreach/internal/surveyed"
	"driftreach/internal/testkit"
	"driftreach/internal/treatment"
)

// exchanged is a layer written by GDAL, and how it is read.
type exchanged struct {
	text  string
	cut   map[string]string // names shortened to a Shapefile's ten letters
	areas bool              // it has areas, so GPX cannot hold it
	lines bool              // it has lines, which GPX holds as tracks
	told  string            // the single expected finding; blank for none
	read  func(s format.Source, o Options) (any, []check.Finding, error)
}

// walkedGeoJSON is lines walked, one in two parts, one without a day.
const walkedGeoJSON = `{"type":"FeatureCollection","features":[
{"type":"Feature","properties":{"surveyed_id":"w1","start_date":"2026-07-03","end_date":"2026-07-05"},"geometry":{"type":"LineString","coordinates":[[-118.2,34.1],[-118.21,34.12],[-118.22,34.11]]}},
{"type":"Feature","properties":{"surveyed_id":"w2","start_date":"2026-08-01","end_date":null},"geometry":{"type":"MultiLineString","coordinates":[[[-118.3,34.2],[-118.31,34.21]],[[-118.31,34.2],[-118.32,34.2],[-118.33,34.25]]]}},
{"type":"Feature","properties":{"surveyed_id":"w3","start_date":null,"end_date":null},"geometry":{"type":"LineString","coordinates":[[-118.1,34.0],[-118.15,34.05]]}}
]}`

// flownGeoJSON is areas flown, one with a hole, one in two parts.
const flownGeoJSON = `{"type":"FeatureCollection","features":[
{"type":"Feature","properties":{"surveyed_id":"f1","eventDate":"2026-07-03"},"geometry":{"type":"Polygon","coordinates":[[[-118.3,34],[-118.2,34],[-118.2,34.1],[-118.3,34.1],[-118.3,34]],[[-118.27,34.03],[-118.27,34.06],[-118.24,34.06],[-118.24,34.03],[-118.27,34.03]]]}},
{"type":"Feature","properties":{"surveyed_id":"f2","eventDate":null},"geometry":{"type":"MultiPolygon","coordinates":[[[[-118.2,34],[-118.1,34],[-118.1,34.1],[-118.2,34]]],[[[-118,34],[-117.95,34],[-118,34.05],[-118,34]]]]}}
]}`

// doneGeoJSON is control work done at places, with and without a stand.
const doneGeoJSON = `{"type":"FeatureCollection","features":[
{"type":"Feature","properties":{"treatment_id":"t1","date":"2026-07-03","stand_id":"2026Q1-0001","method":"foliar spray","formulation_class":"aquatic labelled","treated_acres":0.25},"geometry":{"type":"Point","coordinates":[-118.2123457,34.1234567]}},
{"type":"Feature","properties":{"treatment_id":"t2","date":"2026-08-09","stand_id":null,"method":"hand pull","formulation_class":"none","treated_acres":null},"geometry":{"type":"Point","coordinates":[-118.3,34.2]}}
]}`

// barriersGeoJSON is barriers with and without a pass share.
const barriersGeoJSON = `{"type":"FeatureCollection","features":[
{"type":"Feature","properties":{"barrier_id":"b1","kind":"dam","barrier_pass":0.25},"geometry":{"type":"Point","coordinates":[-118.2123457,34.1234567]}},
{"type":"Feature","properties":{"barrier_id":"Río 2","kind":"weir","barrier_pass":null},"geometry":{"type":"Point","coordinates":[-118.3,34.2]}}
]}`

// waterGeoJSON is a lake with an island and a wide river in two parts.
const waterGeoJSON = `{"type":"FeatureCollection","features":[
{"type":"Feature","properties":{"water_id":"l1","waterBody":"Río Lake","kind":"lake"},"geometry":{"type":"Polygon","coordinates":[[[-118.22,34.12],[-118.2,34.12],[-118.2,34.14],[-118.22,34.14],[-118.22,34.12]],[[-118.215,34.125],[-118.215,34.13],[-118.21,34.13],[-118.21,34.125],[-118.215,34.125]]]}},
{"type":"Feature","properties":{"water_id":"r2","waterBody":null,"kind":"river"},"geometry":{"type":"MultiPolygon","coordinates":[[[[-118.3,34.2],[-118.29,34.2],[-118.29,34.21],[-118.3,34.2]]],[[[-118.28,34.2],[-118.27,34.2],[-118.27,34.21],[-118.28,34.2]]]]}}
]}`

// foundGeoJSON is corrections with unnecessary positions, as GIS programs write any table.
const foundGeoJSON = `{"type":"FeatureCollection","features":[
{"type":"Feature","properties":{"correction_id":"c1","date":"2026-07-03","correction":"misidentified","occurrenceID":"r1","stand_id":null,"other_stand_id":null,"reason":"Río grass, \"tall\""},"geometry":{"type":"Point","coordinates":[-118.2123457,34.1234567]}},
{"type":"Feature","properties":{"correction_id":"c2","date":"2026-08-09","correction":"same stand as","occurrenceID":null,"stand_id":"2026Q1-0002","other_stand_id":"2026Q1-0001","reason":null},"geometry":{"type":"Point","coordinates":[-118.3,34.2]}}
]}`

func takeCorrections(s format.Source, o Options) (any, []check.Finding, error) {
	file, findings, err := ReadCorrections(s, o)
	rows, more := correction.Check(file.Rows, correction.Options{End: quarter.End()})
	return rows, append(findings, more...), err
}

func takeWater(s format.Source, o Options) (any, []check.Finding, error) {
	file, findings, err := ReadWater(s, o)
	surfaces, more := stream.CheckSurfaces(file.Surfaces, stream.Options{})
	return surfaces, append(findings, more...), err
}

func takeSurveyed(s format.Source, o Options) (any, []check.Finding, error) {
	file, findings, err := ReadSurveyed(s, o)
	ground, more := surveyed.Check(file.Ground, surveyed.Options{Begin: quarter.Begin(), End: quarter.End()})
	return ground, append(findings, more...), err
}

func takeTreatments(s format.Source, o Options) (any, []check.Finding, error) {
	file, findings, err := ReadTreatments(s, o)
	actions, more := treatment.Check(file.Actions, treatment.Options{End: quarter.End()})
	return actions, append(findings, more...), err
}

func takeBarriers(s format.Source, o Options) (any, []check.Finding, error) {
	file, findings, err := ReadBarriers(s, o)
	structures, more := stream.CheckStructures(file.Structures, stream.Options{})
	return structures, append(findings, more...), err
}

// TestOthersOfGDAL is TestPointsOfGDAL for surveyed ground, control work,
// barriers, water surfaces and corrections: every field the same, positions within 1 cm.
func TestOthersOfGDAL(t *testing.T) {
	for name, x := range map[string]exchanged{
		"walked":   {walkedGeoJSON, nil, false, true, "w3 date-missing", takeSurveyed},
		"flown":    {flownGeoJSON, nil, true, false, "f2 date-missing", takeSurveyed},
		"done":     {doneGeoJSON, map[string]string{"formulation_class": "formulatio", "treated_acres": "treated_ac"}, false, false, "row 2 treatment-acres-missing", takeTreatments},
		"barriers": {barriersGeoJSON, map[string]string{"barrier_pass": "barrier_pa"}, false, false, "", takeBarriers},
		"water":    {waterGeoJSON, nil, true, false, "", takeWater},
		"found": {foundGeoJSON, map[string]string{"correction_id": "correction", "correction": "correcti_1", "occurrenceID": "occurrence", "other_stand_id": "other_stan"},
			false, false, "", takeCorrections},
	} {
		t.Run(name, func(t *testing.T) {
			want, told, err := x.read(testkit.Source("layer", strings.NewReader(x.text)), testOptions())
			if err != nil || codes(told) != x.told {
				t.Fatal(err, codes(told))
			}
			inTurn(t, func(t *testing.T, w written, system string) { x.same(t, w, system, want) })
		})
	}
}

// same writes the layer with GDAL and compares what is read of it.
func (x *exchanged) same(t *testing.T, w written, system string, want any) {
	o := testOptions()
	switch {
	case w.file == "a.gpx" && x.areas:
		t.Skip("GPX holds no areas")
	case w.file == "a.gpx" && x.lines:
		w.options = append(slices.Clone(w.options), "-nlt", "MULTILINESTRING", "-lco", "FORCE_GPX_TRACK=YES")
	case w.file == "a.csv":
		o.CRS = definition(t, system)
	case strings.HasPrefix(w.file, "a.sh"):
		o.Mapping.Columns = single(x.cut)
	}
	got, told, err := x.read(onDisk(gdal(t, x.text, w, system), w.layer), o)
	if err != nil {
		t.Fatal(err)
	}
	if n := check.Count(told, check.Error) + check.Count(told, check.Warning); n > 1 || n > 0 && x.told == "" {
		t.Errorf("%d troubles: %s", n, codes(told))
	}
	ours := cmp.Options{
		equateNaNs, cmp.Comparer(near), cmp.Comparer(sameAreas),
		cmpopts.IgnoreFields(surveyed.Ground{}, "File"), cmpopts.IgnoreFields(treatment.Treatment{}, "File"), cmpopts.IgnoreFields(stream.Structure{}, "File"),
		cmpopts.IgnoreFields(stream.Surface{}, "File"), cmpopts.IgnoreFields(correction.Correction{}, "File"),
	}
	if diff := cmp.Diff(want, got, ours); diff != "" {
		t.Errorf("another layer than from GeoJSON (-GeoJSON +this):\n%.3000s", diff)
	}
}

// sameAreas says whether areas have the same rings, to a hundred-thousandth of their area and 1 cm
// of their extent; formats differ in the first vertex and direction of rings.
func sameAreas(a, b orb.MultiPolygon) bool {
	if len(a) == 0 || len(b) == 0 {
		return len(a) == len(b)
	}
	size, other := float64(earth.Area(a)), float64(earth.Area(b))
	return rings(a) == rings(b) && math.Abs(size-other) <= 1e-5*size && near(a.Bound().Min, b.Bound().Min) && near(a.Bound().Max, b.Bound().Max)
}
