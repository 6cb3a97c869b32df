package main

import (
	"fmt"
	"io"
	"math"
	"math/rand/v2"

	"github.com/paulmach/orb"
)

const (
	// meanSize is the mean number of points in a stand.
	meanSize = 25
	// pointArea is the ground in square metres for each point: between the default patch of 0.1 acre
	// and one point every 30 m in dense growth. Our choice.
	pointArea = 300
	// widestBand is the largest distance of riverside stands from the water, in metres.
	widestBand = 60
)

// writePoints writes the given number of survey points, stand by stand, as crews walk them.
func writePoints(w io.Writer, r *rand.Rand, g region, points int, f shape) error {
	place := f.place
	if place == nil {
		place = placeStand
	}
	if _, err := io.WriteString(w, header); err != nil {
		return err
	}
	var b []byte
	row := 0
	for giants := points / 50000; row < points; giants-- {
		size := 0
		if f.size != nil {
			size = f.size(r, points-row)
		} else {
			size = min(points-row, standSize(r, giants > 0))
		}
		one := drawStand(r)
		for _, p := range place(r, g, size) {
			row++
			b = one.appendRow(b[:0], r, row, p)
			if _, err := w.Write(b); err != nil {
				return err
			}
		}
	}
	return nil
}

// standSize draws a size: one in five stands is a single find; the others are lognormal with a
// median of 11 and a mean of 31, and giants have thousands of points.
func standSize(r *rand.Rand, giant bool) int {
	switch {
	case giant:
		return 1500 + r.IntN(3000)
	case r.IntN(5) == 0:
		return 1
	}
	// exp(mu + sigma^2/2) = 31 with mu = ln 11 and sigma = 1.44.
	return max(2, int(11*math.Exp(1.44*r.NormFloat64())))
}

// placeStand returns the positions of a stand's points in degrees: nine in ten stands are along a
// stream, the others on dry land.
func placeStand(r *rand.Rand, g region, size int) []orb.Point {
	if r.IntN(10) == 0 {
		return upland(r, g, size)
	}
	return riverside(r, g, size)
}

// upland scatters points around the middle of the ground between four confluences.
func upland(r *rand.Rand, g region, size int) []orb.Point {
	s := g.streams[r.IntN(len(g.streams))]
	radius := math.Sqrt(float64(size) * pointArea / math.Pi)
	middle := orb.Point{s.path[0][0] + cellSize/2, s.path[0][1] + cellSize/2}
	out := make([]orb.Point, size)
	for i := range out {
		d, angle := radius*math.Sqrt(r.Float64()), 2*math.Pi*r.Float64()
		out[i] = g.degrees(s.basin, orb.Point{middle[0] + d*math.Cos(angle), middle[1] + d*math.Sin(angle)})
	}
	return out
}

// riverside scatters points over a band along both banks, down one line after another; larger
// stands have a wider band.
func riverside(r *rand.Rand, g region, size int) []orb.Point {
	band := min(widestBand, 8*math.Pow(float64(size), 0.35))
	step := pointArea / (2 * band)
	which := r.IntN(len(g.streams))
	on := r.IntN(len(g.streams[which].path) - 1)
	along := 0.0
	out := make([]orb.Point, 0, size)
	for len(out) < size {
		s := g.streams[which]
		p, q := s.path[on], s.path[on+1]
		long := math.Hypot(q[0]-p[0], q[1]-p[1])
		for ; along < long && len(out) < size; along += step * (0.5 + r.Float64()) {
			off := band * (2*r.Float64() - 1)
			t := along / long
			x := p[0] + t*(q[0]-p[0]) - off*(q[1]-p[1])/long
			y := p[1] + t*(q[1]-p[1]) + off*(q[0]-p[0])/long
			out = append(out, g.degrees(s.basin, orb.Point{x, y}))
		}
		along -= long
		if along < 0 {
			break
		}
		if on++; on == len(s.path)-1 {
			on = 0
			if which = s.below; which < 0 {
				which, along = r.IntN(len(g.streams)), 0 // past the outlet: start at another place
			}
		}
	}
	return out
}

// header names the columns: Darwin Core, ours, and two carried ones.
const header = "occurrenceID,eventDate,decimalLongitude,decimalLatitude,coordinateUncertaintyInMeters," +
	"occurrenceStatus,management_status,patch_area_m2,canopy_cover_percent,stem_height_m," +
	"recordedBy,parcel,occurrenceRemarks,bank_slope,photo\r\n"

// stand is what the points of a stand have in common.
type stand struct {
	status string
	day    int
	crew   int
	parcel int
}

func drawStand(r *rand.Rand) stand {
	s := stand{status: "untreated", day: r.IntN(80), crew: 1 + r.IntN(20), parcel: r.IntN(100000)}
	switch d := r.IntN(100); {
	case d < 12:
		s.status = "treated"
	case d < 20:
		s.status = "standing_dead"
	case d < 25:
		s.status = "resprout"
	}
	return s
}

// appendRow writes one point; one in 25 was looked for and not found.
func (s stand) appendRow(b []byte, r *rand.Rand, row int, at orb.Point) []byte {
	b = fmt.Appendf(b, "G26Q3-%07d,2026-%02d-%02d,%.7f,%.7f,%d,", row, 7+s.day/28, 1+s.day%28,
		at[0], at[1], 3+r.IntN(5))
	if r.IntN(25) == 0 {
		return fmt.Appendf(b, "notDetected,,,,,Crew %02d,P-%05d,searched the bank,,\r\n", s.crew, s.parcel)
	}
	b = fmt.Appendf(b, "detected,%s,", s.status)
	if r.IntN(10) < 7 {
		b = fmt.Appendf(b, "%d", int(min(1200, max(4, 180*math.Exp(0.7*r.NormFloat64())))))
	}
	b = append(b, ',')
	if r.IntN(10) < 8 {
		b = fmt.Appendf(b, "%d", 5*(2+r.IntN(19)))
	}
	remark := [4]string{"", "", "", "canes along the waterline"}[r.IntN(4)]
	slope := [3]string{"flat", "gentle", "steep"}[r.IntN(3)]
	return fmt.Appendf(b, ",%.1f,Crew %02d,P-%05d,%s,%s,IMG_%05d.jpg\r\n", 2+5*r.Float64(),
		s.crew, s.parcel, remark, slope, row%100000)
}
