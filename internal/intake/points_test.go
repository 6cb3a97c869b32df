package intake

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"pgregory.net/rapid"

	"driftreach/internal/column"
	"driftreach/internal/survey"
	"driftreach/internal/testkit"
)

// TestPointFields reads every field once; values by hand.
func TestPointFields(t *testing.T) {
	text := "occurrenceID,eventDate,decimalLongitude,decimalLatitude,coordinateUncertaintyInMeters,occurrenceStatus,management_status,patch_area_m2,canopy_cover_percent,stem_height_m,recordedBy,parcel,occurrenceRemarks,zeta,alpha\n" +
		"a,2026-07-01/2026-07-03,-117.5,34.25,4.5,notDetected,resprout,12.5,40,3.5,Ann,P1,\"two\nlines\",z,a\n"
	records, findings, p := readPoints(t, text, testOptions())
	if len(records) != 1 || len(findings) != 0 {
		t.Fatalf("%d records, %s", len(records), codes(findings))
	}
	r := records[0]
	day := func(d int) survey.Day { return survey.DayOf(time.Date(2026, 7, d, 0, 0, 0, 0, time.UTC)) }
	if r.ID != "a" || r.Row != 1 || r.File != "points" || r.Begin != day(1) || r.End != day(3) || r.Position != (orb.Point{-117.5, 34.25}) ||
		r.Uncertainty != 4.5 || r.Detected || r.Status != survey.Resprout || r.PatchArea != 12.5 || r.Cover != 40 || r.StemHeight != 3.5 ||
		r.RecordedBy() != "Ann" || r.Parcel() != "P1" || r.Remarks() != "two\nlines" {
		t.Errorf("%+v", r)
	}
	if !slices.Equal(p.Extra, []string{"alpha", "zeta"}) || !slices.Equal(r.Told().Extra, []string{"a", "z"}) {
		t.Errorf("carried %v with %v", p.Extra, r.Told().Extra)
	}
}

// TestPatch: the first measure that is given determines the patch; by hand.
func TestPatch(t *testing.T) {
	head := "id,lon,lat,patch_area_m2,patch_length_m,patch_width_m,patch_diameter_m\n"
	for row, want := range map[string]float64{
		"a,1,2,30,4,5,6":  30,
		"a,1,2,,4,5,6":    20,
		"a,1,2,,4,,6":     math.Pi * 9,
		"a,1,2,-1,4,5,":   20,
		"a,1,2,0,,,2":     math.Pi,
		"a,1,2,,,,":       0,
		"a,1,2,,-4,-5,":   0,
		"a,1,2,NaN,4,0,4": math.Pi * 4,
	} {
		records, _, _ := readPoints(t, head+row, testOptions())
		if got := float64(records[0].PatchArea); math.Abs(got-want) > 1e-12*want {
			t.Errorf("%s makes %v square metres, want %v", row, got, want)
		}
	}
}

// TestCover: percent takes precedence over class; midpoints as published (see survey).
func TestCover(t *testing.T) {
	head := "id,lon,lat,canopy_cover_percent,canopy_cover_class\n"
	for row, want := range map[string]float64{
		"a,1,2,33,6": 33, "a,1,2,,3": 37.5, "a,1,2,,3.0": 37.5, "a,1,2,,wide": 97.5, "a,1,2,,": math.NaN(), "a,1,2,,T": math.NaN(), "a,1,2,120,": math.NaN(),
	} {
		o := testOptions()
		o.Mapping.Values = map[string]map[string]string{"canopy_cover_class": {"Wide": "6"}}
		records, _, _ := readPoints(t, head+row, o)
		if got := records[0].Cover; got != want && !(math.IsNaN(got) && math.IsNaN(want)) {
			t.Errorf("%s makes %v percent, want %v", row, got, want)
		}
	}
}

// TestPointMapping reads a user's columns and words through the mapping.
func TestPointMapping(t *testing.T) {
	text := "FID;Ost;Nord;Zustand;Fund;parcel\n1;10,5;50,5;behandelt;ja;X\n2;10,6;50,6;neu;nein;Y\n"
	o := testOptions()
	o.Mapping = column.Mapping{
		Columns: single(map[string]string{"occurrenceid": "fid", "decimalLongitude": "OST", "decimalLatitude": "nord", "management_status": "Zustand", "occurrenceStatus": "Fund", "parcel": "Flurstück"}),
		Values:  map[string]map[string]string{"Management_Status": {"Behandelt": "treated"}, "occurrenceStatus": {"JA": "detected", "nein": "notDetected"}},
	}
	records, findings, p := readPoints(t, text, o)
	if len(records) != 2 || codes(findings) != "date-missing; 2 status-unknown" {
		t.Fatalf("%d records, %s", len(records), codes(findings))
	}
	if r := records[0]; r.ID != "1" || r.Position != (orb.Point{10.5, 50.5}) || r.Status != survey.Treated || !r.Detected || r.Parcel() != "X" {
		t.Errorf("%+v", r)
	}
	// the file lacks the mapped Flurstück and has parcel, our own name
	if records[1].Detected || len(p.Extra) > 0 || records[1].Parcel() != "Y" {
		t.Errorf("%+v, carried %v", records[1], p.Extra)
	}
}

// TestDateColumnMissing: one finding for the file, whatever its size.
func TestDateColumnMissing(t *testing.T) {
	_, findings, _ := readPoints(t, "id,lon,lat\na,1,2\nb,2,3\n", testOptions())
	if codes(findings) != "date-missing; id-missing" || !strings.Contains(findings[0].Message, "2026Q3") {
		t.Errorf("%v", findings)
	}
}

func TestDuplicateHeader(t *testing.T) {
	records, findings, p := readPoints(t, "occurrenceID,lon,lat,lat,eventDate,,\na,1,2,3,2026-07-01,k,l\n", testOptions())
	if codes(findings) != "header-duplicate" || records[0].Position != (orb.Point{1, 2}) || !slices.Equal(p.Extra, []string{"column 6", "column 7", "lat~2"}) {
		t.Errorf("%v, %v, carried %v", findings, records, p.Extra)
	}
}

func TestMergePoints(t *testing.T) {
	read := func(text string) Points {
		p, _, err := ReadPoints(testkit.Source("f", strings.NewReader(text)), testOptions())
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	one, two := read("occurrenceID,lon,lat,k,m\na,1,2,K,M\n"), read("occurrenceID,lon,lat,m,b\nb,1,2,N,B\n")
	records, extra := MergePoints([]Points{one, two})
	if !slices.Equal(extra, []string{"b", "k", "m"}) || !slices.Equal(records[0].Told().Extra, []string{"", "K", "M"}) || !slices.Equal(records[1].Told().Extra, []string{"B", "", "N"}) {
		t.Errorf("%v: %v, %v", extra, records[0].Told().Extra, records[1].Told().Extra)
	}
	records, extra = MergePoints([]Points{one})
	if len(records) != 1 || !slices.Equal(extra, one.Extra) {
		t.Errorf("one file merges to %v, %v", records, extra)
	}
}

// TestPlaceInside compares with orb's point-in-polygon test on random stars, some very concave,
// also across 180 degrees.
func TestPlaceInside(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		n := rapid.IntRange(3, 12).Draw(r, "n")
		center := rapid.SampledFrom([]float64{0, 10, 179.999, -180}).Draw(r, "center")
		var flat, wrapped orb.Ring
		for i := range n {
			a := 2 * math.Pi * float64(i) / float64(n)
			d := rapid.Float64Range(0.01, 1).Draw(r, "d")
			p := orb.Point{center + d*math.Cos(a), 60 + d*math.Sin(a)}
			flat = append(flat, p)
			wrapped = append(wrapped, orb.Point{turned(p[0]), p[1]})
		}
		flat, wrapped = append(flat, flat[0]), append(wrapped, wrapped[0])
		got := placeInside(orb.MultiPolygon{{wrapped}})
		if math.Abs(got[0]) > 180 {
			r.Fatalf("longitude %v", got[0])
		}
		got[0] += 360 * math.Round((center-got[0])/360)
		if !planar.RingContains(flat, got) {
			r.Fatalf("%v is outside %v", got, flat)
		}
	})
}

// TestPlaceInsideHole: not in the hole of a ring-shaped patch; by hand.
func TestPlaceInsideHole(t *testing.T) {
	text := `{"type":"Feature","properties":{"occurrenceID":"a","eventDate":"2026-07-01"},"geometry":{"type":"Polygon","coordinates":[[[0,0],[0.004,0],[0.004,0.004],[0,0.004],[0,0]],[[0.001,0.001],[0.0035,0.001],[0.0035,0.003],[0.001,0.003],[0.001,0.001]]]}}`
	records, _, _ := readPoints(t, text, testOptions())
	if p := records[0].Position; p[0] != 0.0005 || p[1] <= 0.001 || p[1] >= 0.003 {
		t.Errorf("position %v, want longitude 0.0005 between the rings", p)
	}
	if o := records[0].Outline; len(o) != 1 || len(o[0]) != 2 || records[0].PatchArea != 0 {
		t.Errorf("outline %v", o)
	}
}
