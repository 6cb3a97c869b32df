package stream

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/shape"
	"driftreach/internal/check"
)

// CheckSurfaces finishes the water surfaces of one batch, of all their files
// together: rejects those that enclose no water and exact copies, repairs outlines
// that cross themselves, reads the kind, makes missing ids from file and row and
// repeated ids unique. It returns them sorted by id with what it found. The answer
// depends on the set of surfaces, not on their order. It takes the slice and its
// geometry over. n log n.
func CheckSurfaces(surfaces []Surface, o Options) ([]Surface, []check.Finding) {
	c := surfaceChecker{log: check.Log{Limit: o.FindingLimit}}
	made := map[string]bool{}
	kept := surfaces[:0]
	for i := range surfaces {
		s := surfaces[i]
		if !c.place(&s) {
			continue
		}
		c.kind(&s)
		if s.ID == "" {
			s.ID = check.MadeID(s.File, s.Row)
			made[s.ID] = true
			c.report(&s, ruleSurfaceNoID, "water_id", "", "the water has no id; "+s.ID+" was made from file and row")
		}
		kept = append(kept, s)
	}
	return c.unify(kept, made), c.log.Findings()
}

type surfaceChecker struct{ log check.Log }

// place looks at every vertex, makes longitudes run on and repairs the outline;
// false means rejected.
func (c *surfaceChecker) place(s *Surface) bool {
	var rings []orb.Ring
	for _, polygon := range s.Areas {
		rings = append(rings, polygon...)
	}
	if len(rings) == 0 {
		c.report(s, ruleSurfaceEmpty, "geometry", "", "the water has no outline; it was rejected")
		return false
	}
	at, why := check.PathsOf(rings)
	if rule, bad := misplacedSurfaceRules[why]; bad {
		c.report(s, rule, "geometry", fmt.Sprintf("%g %g", at[0], at[1]), "a corner cannot be one in degrees; the water was rejected")
		return false
	}
	earth.RunOnAreas(s.Areas)
	areas, changed := shape.MakeValid(s.Areas)
	if len(areas) == 0 || !(earth.Area(areas) > 0) {
		c.report(s, ruleSurfaceNoArea, "geometry", "", "the outline encloses no water; it was rejected")
		return false
	}
	if changed && slices.ContainsFunc(s.Areas, func(p orb.Polygon) bool { return shape.Valid(orb.MultiPolygon{p}) != nil }) {
		c.report(s, ruleSurfaceRepaired, "geometry", "", "the outline crosses or touches itself; it was repaired")
	}
	if changed {
		s.Areas = areas
	}
	return true
}

// kind reads the word of the kind. Water of no known kind keeps flowing.
func (c *surfaceChecker) kind(s *Surface) {
	kind, known := ParseSurfaceKind(string(s.Kind))
	if !known {
		c.report(s, ruleSurfaceKind, "kind", string(s.Kind), "the kind is neither lake nor river; the water is read as a river, which holds nothing back")
		kind = River
	}
	s.Kind = kind
}

// unify sorts the surfaces by id and makes the ids unique.
func (c *surfaceChecker) unify(surfaces []Surface, made map[string]bool) []Surface {
	slices.SortFunc(surfaces, func(a, b Surface) int { return compareSurfaces(&a, &b) })
	taken := map[string]int{}
	for i := range surfaces {
		taken[surfaces[i].ID] = 2
	}
	kept := surfaces[:0]
	var last Surface // as it came, before it was renamed
	for i, s := range surfaces {
		before := last
		last = s
		switch {
		case i == 0 || before.ID != s.ID:
		case !made[s.ID] && compareSurfaceContent(&before, &s) == 0:
			c.report(&s, ruleSurfaceDuplicate, "", "", "the water is there twice, the same in every field; the copy was rejected")
			continue
		default:
			fresh := check.FreeID(s.ID, taken)
			if !made[s.ID] {
				c.report(&s, ruleSurfaceSameID, "water_id", s.ID, "another water has the same id; this one is now "+fresh)
			}
			s.ID = fresh
		}
		kept = append(kept, s)
	}
	slices.SortFunc(kept, func(a, b Surface) int { return compareSurfaces(&a, &b) })
	return kept
}

// compareSurfaces orders surfaces by id, then content, then file and row, which tell
// only exact copies apart.
func compareSurfaces(a, b *Surface) int {
	if c := strings.Compare(a.ID, b.ID); c != 0 {
		return c
	}
	return cmp.Or(compareSurfaceContent(a, b), strings.Compare(a.File, b.File), cmp.Compare(a.Row, b.Row))
}

func compareSurfaceContent(a, b *Surface) int {
	rings := func(p, q orb.Ring) int { return slices.CompareFunc(p, q, geo.ComparePoints) }
	polygons := func(p, q orb.Polygon) int { return slices.CompareFunc(p, q, rings) }
	return cmp.Or(strings.Compare(a.Name, b.Name), strings.Compare(string(a.Kind), string(b.Kind)), slices.CompareFunc(a.Areas, b.Areas, polygons))
}

func (s *Surface) finding(rule check.Rule, field, value, message string) check.Finding {
	f := check.Finding{Rule: rule, File: s.File, Record: check.Label(s.ID, s.File, s.Row), Field: field, Value: value, Message: message}
	if len(s.Areas) > 0 && len(s.Areas[0]) > 0 && len(s.Areas[0][0]) > 0 {
		if at := s.Areas[0][0][0]; check.PositionOf(at) == check.WellPlaced {
			f.Position = &orb.Point{earth.Turned(at[0]), at[1]}
		}
	}
	return f
}

func (c *surfaceChecker) report(s *Surface, rule check.Rule, field, value, message string) {
	c.log.Add(s.finding(rule, field, value, message))
}
