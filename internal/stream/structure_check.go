package stream

import (
	"cmp"
	"math"
	"strings"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/internal/check"
)

// CheckStructures finishes the point barriers of one batch, from all its files together. It rejects
// those without a position or a known kind, and exact copies. It leaves out a pass share out of
// range, makes missing ids from file and row, and repeated ids unique. It returns the barriers
// sorted by id, and the findings. The result depends on the set of barriers, not on their order. It
// reuses the slice. n log n.
func CheckStructures(structures []Structure, o Options) ([]Structure, []check.Finding) {
	c := structureChecker{check.Checker[Structure]{Kind: structureKind, Log: check.Log{Limit: o.FindingLimit}}}
	return c.Unify(c.Accept(structures, c.usable)), c.Findings()
}

type structureChecker struct{ check.Checker[Structure] }

// structureKind says how point barriers are told apart and named in findings.
var structureKind = check.Kind[Structure]{
	Noun: "barrier", Duplicate: ruleStructureDuplicate, Compare: compareStructureContent,
	Origin: func(s *Structure) (string, int) { return s.File, s.Row },
	At:     func(s *Structure) *orb.Point { return check.Shown(s.Position) },
	Names: &check.Names[Structure]{
		Field: "barrier_id", ID: func(s *Structure) *string { return &s.ID }, NoID: ruleStructureNoID, SameID: ruleStructureSameID,
	},
}

// usable checks position, kind and pass share; false means rejected.
func (c *structureChecker) usable(s *Structure) bool {
	if rule, bad := structureMisplaced[check.PositionOf(s.Position)]; bad {
		c.Report(s, rule, "position", check.Degrees(s.Position), "the position cannot be one in degrees; the barrier was rejected")
		return false
	}
	s.Position[0] = earth.Turned(s.Position[0])
	kind, ok := ParseBarrier(string(s.Kind))
	if !ok || kind == NoBarrier {
		c.Report(s, ruleStructureKind, "kind", string(s.Kind), "the word is no kind of barrier; the barrier was rejected")
		return false
	}
	s.Kind = kind
	if !math.IsNaN(float64(s.Pass)) && !(s.Pass >= 0 && s.Pass <= 1) {
		c.Report(s, ruleStructurePass, "barrier_pass", check.Number(float64(s.Pass)), "barrier_pass is not 0 to 1; the share of its kind is used")
		s.Pass = geo.Share(math.NaN())
	}
	return true
}

// compareStructureContent orders barriers by all values except file, row and id.
func compareStructureContent(a, b *Structure) int {
	return cmp.Or(geo.ComparePoints(a.Position, b.Position), strings.Compare(string(a.Kind), string(b.Kind)), cmp.Compare(a.Pass, b.Pass))
}
