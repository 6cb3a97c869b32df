package unit

import (
	"math"
	"strconv"
	"testing"

	"github.com/paulmach/orb"
)

// parcels is rows by columns of units that share their borders corner by corner, each with 200
// vertices.
func parcels(rows, columns int) []Unit {
	const steps = 50 // edges a side
	// a border meanders; its position depends only on its own place
	across := func(row, at int) orb.Point {
		x := float64(at) / steps
		return orb.Point{10 + 0.02*x, -20 + 0.02*(float64(row)+0.2*math.Sin(7*x+float64(row))*math.Sin(math.Pi*x))}
	}
	along := func(column, at int) orb.Point {
		y := float64(at) / steps
		return orb.Point{10 + 0.02*(float64(column)+0.2*math.Sin(5*y+float64(column))*math.Sin(math.Pi*y)), -20 + 0.02*y}
	}
	var units []Unit
	for row := range rows {
		for column := range columns {
			var ring orb.Ring
			for k := range steps {
				ring = append(ring, across(row, column*steps+k))
			}
			for k := range steps {
				ring = append(ring, along(column+1, row*steps+k))
			}
			for k := range steps {
				ring = append(ring, across(row+1, (column+1)*steps-k))
			}
			for k := range steps {
				ring = append(ring, along(column, (row+1)*steps-k))
			}
			units = append(units, Unit{ID: strconv.Itoa(row*columns + column), File: "u", Areas: orb.MultiPolygon{{append(ring, ring[0])}}})
		}
	}
	return units
}

// BenchmarkCheck checks clean units that share all borders, and units drawn separately: each border
// twice, with different corners. The time for a unit hardly grows with their number.
func BenchmarkCheck(b *testing.B) {
	for _, c := range []struct {
		name          string
		rows, columns int
		apart         bool
	}{{"750", 25, 30, false}, {"3000", 50, 60, false}, {"750 apart", 25, 30, true}, {"3000 apart", 50, 60, true}} {
		b.Run(c.name, func(b *testing.B) {
			units := parcels(c.rows, c.columns)
			if c.apart {
				drawApart(units)
			}
			for b.Loop() {
				Check(copied(units), Options{})
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*len(units)), "us/unit")
		})
	}
}

// drawApart moves every corner of every unit by up to a metre, each differently.
func drawApart(units []Unit) {
	for i := range units {
		ring := units[i].Areas[0][0]
		for k := range ring {
			ring[k][0] += 1e-5 * math.Sin(float64(1+i)*float64(k))
			ring[k][1] += 1e-5 * math.Cos(float64(2+i)*float64(k))
		}
		ring[len(ring)-1] = ring[0]
	}
}
