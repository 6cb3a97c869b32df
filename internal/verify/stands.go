package verify

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
	"driftreach/internal/field"
)

// Stand is what a batch says about one stand, in acres as printed.
type Stand struct {
	ID                            string
	Gross, Infested, Canopy, Zone float64
	Zoned, Isolated, Carried      bool
	Footprint                     orb.MultiPolygon // longitude, latitude
	Exact                         *Acres           // nil if the layer has none
}

// Acres are the acreages of a stand without rounding.
type Acres struct {
	Gross, Infested, Canopy, Zone float64
}

// maxAcres is the surface of the Earth, 5.1007e14 m2 (WGS 84), in acres. Sums below it fit easily into
// 64 bits in units of 1e-4 acres.
const maxAcres = 1.2604e11

// The allowed difference between an acreage and the area of the drawn footprint. It has three causes:
// arcs are drawn as chords, coordinates are rounded to 1e-7 degrees, and figures to 1e-4 acres. Earlier
// batches drew chords inside the arcs, at worst 0.64 % too small.
const (
	areaShare = 0.01
	areaAcres = 1e-3
)

// rounding is half of the last digit of an acreage, plus a margin for floating point.
const rounding = 0.51e-4

// Stands checks each stand's figures by themselves: acreages that are not numbers, negative or larger
// than the Earth; canopy, infested and gross acres in an impossible order; and footprints whose area is
// not the stated one. It reports at most twenty problems.
func Stands(stands []Stand) []string {
	var wrong []string
	seen := map[string]bool{}
	for i := range stands {
		s := &stands[i]
		if seen[s.ID] || s.ID == "" {
			wrong = append(wrong, fmt.Sprintf("stand %q is blank or there twice", s.ID))
		}
		seen[s.ID] = true
		if p := s.Problem(); p != "" {
			wrong = append(wrong, "stand "+s.ID+": "+p)
		}
		if len(wrong) >= 20 {
			break
		}
	}
	return wrong
}

// Problem returns the first problem in a stand's figures by themselves; blank if there is none. The
// cost is that of computing the area of its footprint.
func (s *Stand) Problem() string {
	for _, f := range []struct {
		name  string
		acres float64
	}{{field.GrossAcres, s.Gross}, {field.InfestedAcres, s.Infested}, {field.CanopyAcres, s.Canopy}, {field.ZoneAcres, s.Zone}} {
		if p := acreageOf(f.name, f.acres); p != "" {
			return p
		}
	}
	switch {
	case s.Canopy > s.Infested+2*rounding:
		return fmt.Sprintf("canopy_acres %v is more than infested_acres %v", s.Canopy, s.Infested)
	case s.Infested > s.Gross+2*rounding:
		return fmt.Sprintf("infested_acres %v is more than gross_acres %v", s.Infested, s.Gross)
	case s.Zone > s.Infested+2*rounding:
		return fmt.Sprintf("zone_acres %v is more than infested_acres %v", s.Zone, s.Infested)
	}
	if e := s.Exact; e != nil {
		for _, f := range []struct {
			name           string
			printed, exact float64
		}{{field.GrossAcres, s.Gross, e.Gross}, {field.InfestedAcres, s.Infested, e.Infested}, {field.CanopyAcres, s.Canopy, e.Canopy}, {field.ZoneAcres, s.Zone, e.Zone}} {
			if p := Printed(f.name, f.printed, f.exact); p != "" {
				return p
			}
		}
	}
	drawn := float64(earth.Area(s.Footprint).Acres())
	if len(s.Footprint) > 0 && math.Abs(drawn-s.Infested) > areaShare*s.Infested+areaAcres {
		return fmt.Sprintf("infested_acres is %v, and its footprint is %.4f acres", s.Infested, drawn)
	}
	return ""
}

// acreageOf says what is wrong with an acreage by itself; blank if nothing is.
func acreageOf(name string, acres float64) string {
	switch {
	case math.IsNaN(acres) || math.IsInf(acres, 0):
		return name + " is no number"
	case acres < 0:
		return fmt.Sprintf("%s is %v, below 0", name, acres)
	case acres > maxAcres:
		return fmt.Sprintf("%s is %v, more than the surface of the Earth", name, acres)
	}
	return ""
}

// Printed says that a printed acreage does not agree with the exact one; blank if it does.
func Printed(name string, printed, exact float64) string {
	if math.Abs(printed-exact) <= rounding {
		return ""
	}
	return fmt.Sprintf("%s is %v, and the exact value is %v", name, printed, exact)
}

// areas returns the polygons of a footprint; nil if there are none.
func areas(g orb.Geometry) orb.MultiPolygon {
	switch g := g.(type) {
	case orb.Polygon:
		return orb.MultiPolygon{g}
	case orb.MultiPolygon:
		return g
	}
	return nil
}
