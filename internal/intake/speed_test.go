package intake

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/internal/format"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
	"driftreach/internal/testkit"
	"driftreach/internal/testkit/layers"
)

// pointsCSV makes a survey of n records with the columns a field app writes.
func pointsCSV(n int) []byte {
	var b bytes.Buffer
	b.WriteString("occurrenceID,eventDate,decimalLongitude,decimalLatitude,coordinateUncertaintyInMeters,occurrenceStatus,management_status,patch_area_m2,canopy_cover_percent,recordedBy,parcel,occurrenceRemarks\r\n")
	rng := rand.New(rand.NewPCG(1, 2))
	words := []string{"untreated", "treated", "resprout", "standing_dead"}
	for i := range n {
		fmt.Fprintf(&b, "SV-%07d,2026-%02d-%02d,%.6f,%.6f,%d,detected,%s,%.1f,%d,Crew %d,P-%04d,\r\n", i, 7+rng.IntN(3), 1+rng.IntN(28),
			10+rng.Float64(), 45+rng.Float64(), 3+rng.IntN(9), words[rng.IntN(4)], 1+400*rng.Float64(), rng.IntN(101), rng.IntN(9), rng.IntN(3000))
	}
	return b.Bytes()
}

// streamsGeoJSON makes n lines of 20 vertices.
func streamsGeoJSON(n int) []byte {
	var b bytes.Buffer
	b.WriteString(`{"type":"FeatureCollection","features":[` + "\n")
	rng := rand.New(rand.NewPCG(3, 4))
	for i := range n {
		if i > 0 {
			b.WriteString(",\n")
		}
		fmt.Fprintf(&b, `{"type":"Feature","properties":{"stream_id":"R%06d","waterBody":"River %d","stream_order":%d,"bankfull_width_m":%.1f},"geometry":{"type":"LineString","coordinates":[`,
			i, i%500, 1+i%5, 2+rng.Float64()*30)
		x, y := 10+rng.Float64(), 45+rng.Float64()
		for k := range 20 {
			if k > 0 {
				b.WriteString(", ")
			}
			x, y = x+0.0005*rng.Float64(), y-0.0005*rng.Float64()
			fmt.Fprintf(&b, "[%.7f, %.7f]", x, y)
		}
		b.WriteString("]}}")
	}
	b.WriteString("\n]}\n")
	return b.Bytes()
}

func BenchmarkReadPointsCSV(b *testing.B) {
	text := pointsCSV(100_000)
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		s := testkit.Source("points.csv", bytes.NewReader(text))
		s.Size = int64(len(text))
		p, findings, err := ReadPoints(s, DefaultOptions())
		if err != nil || len(p.Records) != 100_000 || len(findings) > 0 {
			b.Fatal(err, len(p.Records), findings[:min(3, len(findings))])
		}
	}
}

func BenchmarkReadStreamsGeoJSON(b *testing.B) {
	text := streamsGeoJSON(20_000)
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		s, findings, err := ReadStreams(testkit.Source("streams.geojson", bytes.NewReader(text)), DefaultOptions())
		if err != nil || len(s.Centerlines) != 20_000 || len(findings) > 0 {
			b.Fatal(err, len(s.Centerlines), findings)
		}
	}
}

func BenchmarkCheckPoints(b *testing.B) {
	text := pointsCSV(100_000)
	b.ReportAllocs()
	for b.Loop() {
		b.StopTimer()
		p, _, _ := ReadPoints(testkit.Source("points.csv", bytes.NewReader(text)), DefaultOptions())
		rand.New(rand.NewPCG(5, 6)).Shuffle(len(p.Records), func(i, k int) { p.Records[i], p.Records[k] = p.Records[k], p.Records[i] })
		b.StartTimer()
		kept := survey.Examine(p.Records, survey.DefaultOptions(survey.Quarter{Year: 2026, Number: 3})).Records
		if len(kept) != 100_000 {
			b.Fatal(len(kept))
		}
	}
}

func BenchmarkCheckStreams(b *testing.B) {
	text := streamsGeoJSON(20_000)
	b.ReportAllocs()
	for b.Loop() {
		b.StopTimer()
		s, _, _ := ReadStreams(testkit.Source("streams.geojson", bytes.NewReader(text)), DefaultOptions())
		b.StartTimer()
		kept, findings := stream.Check(s.Centerlines, stream.Options{})
		if len(kept) != 20_000 {
			b.Fatal(len(kept), findings[:3])
		}
	}
}

// BenchmarkReadGeoPackage, BenchmarkReadShapefile and BenchmarkReadKML read
// twenty thousand records each.
func BenchmarkReadGeoPackage(b *testing.B) {
	content := layers.GeoPackage(b, "WITH RECURSIVE n(i) AS (SELECT 3 UNION ALL SELECT i+1 FROM n WHERE i < 20000) INSERT INTO finds SELECT i, x'4750000100000000010100000000000000000025c00000000000804140', 'r' || i, '2026-07-02', i FROM n")
	b.SetBytes(int64(len(content)))
	readEach(b, func() format.Source { return testkit.Source("f", bytes.NewReader(content)) })
}

func BenchmarkReadShapefile(b *testing.B) {
	points := make([]orb.Point, 20_000)
	for i := range points {
		points[i] = orb.Point{float64(i) / 1000, 40}
	}
	shp, dbf := layers.Shapefile(points)
	b.SetBytes(int64(len(shp) + len(dbf)))
	readEach(b, func() format.Source { return shapeSource(shp, dbf) })
}

func BenchmarkReadKML(b *testing.B) {
	var text bytes.Buffer
	text.WriteString("<kml><Document>")
	for i := range 20_000 {
		fmt.Fprintf(&text, "<Placemark><ExtendedData><Data name='occurrenceID'><value>r%d</value></Data></ExtendedData><Point><coordinates>%g,40</coordinates></Point></Placemark>", i, float64(i)/1000)
	}
	text.WriteString("</Document></kml>")
	b.SetBytes(int64(text.Len()))
	readEach(b, func() format.Source { return testkit.Source("f", bytes.NewReader(text.Bytes())) })
}

func readEach(b *testing.B, source func() format.Source) {
	b.ReportAllocs()
	for range b.N {
		if p, _, err := ReadPoints(source(), testOptions()); err != nil || len(p.Records) != 20_000 {
			b.Fatal(len(p.Records), err)
		}
	}
}
