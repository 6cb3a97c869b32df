package allocate

import (
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/internal/aquatic"
	"driftreach/internal/drift"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
	"driftreach/internal/unit"
)

// parishes are 60 by 50 units of 200 vertices, their borders shared, over a
// country of 3 by 2.5 degrees.
func parishes() []unit.Unit {
	const columns, rows, side = 60, 50, 0.05
	border := func(x, y, along, across float64) orb.Point { // a wavy border through a lattice point
		bulge := 0.004 * math.Sin(math.Pi*along) * math.Cos(7*along+3*x+5*y)
		if across == 0 {
			return orb.Point{side * (x + along), 45 + side*y + bulge}
		}
		return orb.Point{side*x + bulge, 45 + side*(y+along)}
	}
	var units []unit.Unit
	for i := range columns {
		for j := range rows {
			x, y := float64(i), float64(j)
			var ring orb.Ring
			for k := range 50 {
				ring = append(ring, border(x, y, float64(k)/50, 0))
			}
			for k := range 50 {
				ring = append(ring, border(x+1, y, float64(k)/50, 1))
			}
			for k := range 50 {
				ring = append(ring, border(x, y+1, 1-float64(k)/50, 0))
			}
			for k := range 50 {
				ring = append(ring, border(x, y, 1-float64(k)/50, 1))
			}
			units = append(units, unit.Unit{ID: fmt.Sprint(i, "-", j), Areas: orb.MultiPolygon{{append(ring, ring[0])}}})
		}
	}
	return units
}

// country is 45 000 stands of 22 records each, strewn over the parishes.
func country(b *testing.B) (Ground, []survey.Record) {
	rng := rand.New(rand.NewPCG(3, 3))
	var records []survey.Record
	for i := range 45_000 {
		frame := earth.NewFrame(orb.Point{3 * rng.Float64(), 45 + 2.5*rng.Float64()})
		x, y := 0.0, 0.0
		for k := range 22 {
			records = append(records, survey.Record{ID: fmt.Sprintf("%05d-%02d", i, k), Position: frame.Inverse(orb.Point{x, y}), Detected: true, Cover: 50, StemHeight: geo.Meters(math.NaN())})
			x, y = x+30*rng.Float64()-10, y+30*rng.Float64()-15
		}
	}
	begin := time.Now()
	stands, _, err := stand.Map(records, survey.Quarter{Year: 2026, Number: 3}, rules, runtime.GOMAXPROCS(0))
	if err != nil {
		b.Fatal(err)
	}
	b.Logf("%d stands mapped in %v", len(stands), time.Since(begin))
	return Ground{Stands: stands, Records: survey.Records{Listed: records}, Rules: rules, Zone: make([]aquatic.Membership, len(stands))}, records
}

// BenchmarkStands splits 45 000 stands by 3000 units of 200 vertices and says
// how that compares with mapping them.
func BenchmarkStands(b *testing.B) {
	units := parishes()
	g, records := country(b)
	begin := time.Now()
	if _, _, err := stand.Map(records, survey.Quarter{Year: 2026, Number: 3}, rules, runtime.GOMAXPROCS(0)); err != nil {
		b.Fatal(err)
	}
	mapping := time.Since(begin)
	cut, rounds := 0, 0
	begin = time.Now()
	for b.Loop() {
		for _, shares := range NewMap(units).Stands(g, runtime.GOMAXPROCS(0)) {
			cut += min(1, len(shares)-1)
		}
		rounds++
	}
	b.ReportMetric(float64(time.Since(begin))/float64(rounds)/float64(mapping), "of-mapping")
	b.ReportMetric(float64(cut)/float64(rounds), "cut")
}

// BenchmarkReaches divides 200 000 reaches of ten vertices by the same units.
func BenchmarkReaches(b *testing.B) {
	rng := rand.New(rand.NewPCG(4, 4))
	reaches := make([]drift.Reach, 200_000)
	for i := range reaches {
		p := orb.Point{3 * rng.Float64(), 45 + 2.5*rng.Float64()}
		for range 10 {
			reaches[i].Path = append(reaches[i].Path, p)
			p = orb.Point{p[0] + 0.002*rng.Float64() - 0.0005, p[1] + 0.002*rng.Float64() - 0.001}
		}
		reaches[i].LengthKm = geo.Kilometers(earth.LineLength(reaches[i].Path).Kilometers())
	}
	m := NewMap(parishes())
	for b.Loop() {
		m.Reaches(reaches, runtime.GOMAXPROCS(0))
	}
}
