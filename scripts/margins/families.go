package main

import (
	"fmt"
	"math"
	"math/rand/v2"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/internal/survey"
)

// family is one kind of survey: the arrangement of patches and what is recorded of them.
type family struct {
	name    string
	records []survey.Record
}

// middle is the position of the surveys. Any place will do.
var middle = orb.Point{-98.4, 36.2}

// plot is a survey under construction.
type plot struct {
	r       *rand.Rand
	frame   earth.Frame
	records []survey.Record
}

// put adds a patch at a place; area 0 means not measured.
func (p *plot) put(x, y float64, area float64) *survey.Record {
	n := len(p.records)
	p.records = append(p.records, survey.Record{
		ID: fmt.Sprintf("%05d", n), Position: p.frame.Inverse(orb.Point{x, y}), Detected: true,
		PatchArea: geo.SquareMeters(area), Cover: 60, StemHeight: geo.Meters(math.NaN()), Notes: crews[n%len(crews)],
	})
	return &p.records[n]
}

// crews measure in turn.
var crews = []survey.PackedNotes{survey.Notes{RecordedBy: "A"}.Pack(), survey.Notes{RecordedBy: "B"}.Pack(), survey.Notes{RecordedBy: "C"}.Pack()}

// clump draws the area of a patch, lognormal with a median of 110 square metres. Our choice.
func (p *plot) clump() float64 { return 110 * math.Exp(0.8*p.r.NormFloat64()) }

// families are the surveys tried, of some hundred patches each.
func families() []family {
	var out []family
	add := func(name string, lay func(p *plot)) {
		p := &plot{r: rand.New(rand.NewPCG(1, uint64(len(out)))), frame: earth.NewFrame(middle)}
		lay(p)
		out = append(out, family{name, p.records})
	}
	row := func(n int, step float64, of func(p *plot, k int)) func(p *plot) {
		return func(p *plot) {
			for s := range 300 / n {
				for k := range n {
					p.put(float64(k)*step, float64(s)*200, p.clump())
					if of != nil {
						of(p, k)
					}
				}
			}
		}
	}
	add("lone patches", row(1, 0, nil))
	add("rows, 8 m apart", row(10, 8, nil))
	add("rows, 15 m apart", row(10, 15, nil))
	add("rows, 28 m apart", row(10, 28, nil))
	add("rows of small ones", row(10, 15, func(p *plot, _ int) { p.records[len(p.records)-1].PatchArea = 9 }))
	add("rows, scattered", func(p *plot) {
		for s := range 30 {
			for range 10 {
				p.put(150*p.r.Float64(), float64(s)*200+20*p.r.Float64(), p.clump())
			}
		}
	})
	add("a thicket", func(p *plot) {
		for k := range 300 {
			p.put(float64(k%20)*9+3*p.r.Float64(), float64(k/20)*9+3*p.r.Float64(), p.clump())
		}
	})
	add("one stand of three", row(3, 14, nil))
	add("nothing measured", row(10, 18, func(p *plot, _ int) {
		p.records[len(p.records)-1].PatchArea, p.records[len(p.records)-1].Cover = 0, math.NaN()
	}))
	add("an eighth not measured", row(10, 15, func(p *plot, k int) {
		if k == 3 {
			p.records[len(p.records)-1].PatchArea, p.records[len(p.records)-1].Cover = 0, math.NaN()
		}
	}))
	add("drawn and measured", row(10, 15, func(p *plot, k int) {
		if k%3 == 0 {
			p.draw(&p.records[len(p.records)-1])
		}
	}))
	return out
}

// draw turns a patch into an outline of the same area, twice as long as wide.
func (p *plot) draw(r *survey.Record) {
	at := p.frame.Forward(r.Position)
	w, h := math.Sqrt(2*float64(r.PatchArea))/2, math.Sqrt(float64(r.PatchArea)/2)/2
	ring := orb.Ring{{at[0] - w, at[1] - h}, {at[0] + w, at[1] - h}, {at[0] + w, at[1] + h}, {at[0] - w, at[1] + h}, {at[0] - w, at[1] - h}}
	r.Outline, r.PatchArea = p.frame.Unproject(orb.MultiPolygon{{ring}}), 0
}
