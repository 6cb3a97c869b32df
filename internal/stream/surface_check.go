package stream

import (
	"cmp"
	"strings"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/shape"
	"driftreach/internal/check"
)

// CheckSurfaces finishes the water surfaces of one batch, from all its files together. It rejects
// those without area and exact copies, repairs outlines that cross themselves and reads the kind.
// It makes missing ids from file and row, and repeated ids unique. It returns the surfaces sorted
// by id, and the findings. The result depends on the set of surfaces, not on their order. It reuses
// the slice and its geometry. n log n.
func CheckSurfaces(surfaces []Surface, o Options) ([]Surface, []check.Finding) {
	c := surfaceChecker{check.Checker[Surface]{Kind: surfaceKind, Log: check.Log{Limit: o.FindingLimit}}}
	return c.Unify(c.Accept(surfaces, c.accept)), c.Findings()
}

type surfaceChecker struct{ check.Checker[Surface] }

// surfaceKind says how water surfaces are told apart and named in findings.
var surfaceKind = check.Kind[Surface]{
	Noun: "water", Duplicate: ruleSurfaceDuplicate, Compare: compareSurfaceContent,
	Origin: func(s *Surface) (string, int) { return s.File, s.Row },
	At: func(s *Surface) *orb.Point {
		if len(s.Areas) == 0 {
			return nil
		}
		return check.ShownFirst(s.Areas[0])
	},
	Names: &check.Names[Surface]{
		Field: "water_id", ID: func(s *Surface) *string { return &s.ID }, NoID: ruleSurfaceNoID, SameID: ruleSurfaceSameID,
	},
}

// accept checks one surface alone; false means rejected.
func (c *surfaceChecker) accept(s *Surface) bool {
	if !c.place(s) {
		return false
	}
	c.word(s)
	return true
}

// place checks every vertex, makes longitudes continuous and repairs the outline; false means
// rejected.
func (c *surfaceChecker) place(s *Surface) bool {
	var rings []orb.Ring
	for _, polygon := range s.Areas {
		rings = append(rings, polygon...)
	}
	if len(rings) == 0 {
		c.Report(s, ruleSurfaceEmpty, "geometry", "", "the water has no outline; it was rejected")
		return false
	}
	at, why := check.PathsOf(rings)
	if rule, bad := surfaceMisplaced[why]; bad {
		c.Report(s, rule, "geometry", check.Degrees(at), "a corner cannot be one in degrees; the water was rejected")
		return false
	}
	earth.RunOnAreas(s.Areas)
	areas, faulty := shape.Mend(s.Areas)
	if len(areas) == 0 || !(earth.Area(areas) > 0) {
		c.Report(s, ruleSurfaceNoArea, "geometry", "", "the outline encloses no water; it was rejected")
		return false
	}
	if faulty {
		c.Report(s, ruleSurfaceRepaired, "geometry", "", "the outline crosses or touches itself; it was repaired")
	}
	s.Areas = areas
	return true
}

// word reads the kind. Water of unknown kind counts as flowing.
func (c *surfaceChecker) word(s *Surface) {
	word, known := ParseSurfaceKind(string(s.Kind))
	if !known {
		c.Report(s, ruleSurfaceKind, "kind", string(s.Kind), "the kind is neither lake nor river; the water is read as a river, which holds nothing back")
		word = River
	}
	s.Kind = word
}

// compareSurfaceContent orders surfaces by all values except file, row and id.
func compareSurfaceContent(a, b *Surface) int {
	return cmp.Or(strings.Compare(a.Name, b.Name), strings.Compare(string(a.Kind), string(b.Kind)), geo.CompareAreas(a.Areas, b.Areas))
}
