package stream

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/internal/check"
)

// CheckStructures finishes the barriers of one batch that are points, of all
// their files together: rejects those without a position or a known kind and exact
// copies, leaves out a pass share that is none, makes missing ids from file and
// row and repeated ids unique. It returns them sorted by id with what it found.
// The answer depends on the set of barriers, not on their order. It takes the slice
// over. n log n.
func CheckStructures(structures []Structure, o Options) ([]Structure, []check.Finding) {
	c := structureChecker{log: check.Log{Limit: o.FindingLimit}}
	made := map[string]bool{}
	kept := structures[:0]
	for i := range structures {
		s := structures[i]
		if !c.usable(&s) {
			continue
		}
		if s.ID == "" {
			s.ID = check.MadeID(s.File, s.Row)
			made[s.ID] = true
			c.report(&s, ruleStructureNoID, "barrier_id", "", "the barrier has no id; "+s.ID+" was made from file and row")
		}
		kept = append(kept, s)
	}
	return c.unify(kept, made), c.log.Findings()
}

type structureChecker struct{ log check.Log }

// usable looks at position, kind and pass share; false means rejected.
func (c *structureChecker) usable(s *Structure) bool {
	if rule, bad := misplacedRules[check.PositionOf(s.Position)]; bad {
		c.report(s, rule, "position", fmt.Sprintf("%g %g", s.Position[0], s.Position[1]), "the position cannot be one in degrees; the barrier was rejected")
		return false
	}
	s.Position[0] = earth.Turned(s.Position[0])
	kind, ok := ParseBarrier(string(s.Kind))
	if !ok || kind == NoBarrier {
		c.report(s, ruleStructureKind, "kind", string(s.Kind), "the word is no kind of barrier; the barrier was rejected")
		return false
	}
	s.Kind = kind
	if !math.IsNaN(s.Pass) && !(s.Pass >= 0 && s.Pass <= 1) {
		c.report(s, ruleStructurePass, "barrier_pass", plain(s.Pass), "barrier_pass is not 0 to 1; the share of its kind stands in")
		s.Pass = math.NaN()
	}
	return true
}

// unify sorts the barriers by id and makes the ids unique, as the ids of lines
// are. It takes the slice over.
func (c *structureChecker) unify(structures []Structure, made map[string]bool) []Structure {
	slices.SortFunc(structures, func(a, b Structure) int { return compareStructures(&a, &b) })
	taken := map[string]int{}
	for i := range structures {
		taken[structures[i].ID] = 2
	}
	kept := structures[:0]
	var last Structure // as it came, before it was renamed
	for i, s := range structures {
		before := last
		last = s
		switch {
		case i == 0 || before.ID != s.ID:
		case !made[s.ID] && compareStructureContent(&before, &s) == 0:
			c.report(&s, ruleStructureDuplicate, "", "", "the barrier is there twice, the same in every field; the copy was rejected")
			continue
		default:
			fresh := check.FreeID(s.ID, taken)
			if !made[s.ID] {
				c.report(&s, ruleStructureSameID, "barrier_id", s.ID, "another barrier has the same id; this one is now "+fresh)
			}
			s.ID = fresh
		}
		kept = append(kept, s)
	}
	slices.SortFunc(kept, func(a, b Structure) int { return compareStructures(&a, &b) })
	return kept
}

// compareStructures orders barriers by id, then content, then file and row, which
// tell only exact copies apart.
func compareStructures(a, b *Structure) int {
	if c := strings.Compare(a.ID, b.ID); c != 0 {
		return c
	}
	return cmp.Or(compareStructureContent(a, b), strings.Compare(a.File, b.File), cmp.Compare(a.Row, b.Row))
}

func compareStructureContent(a, b *Structure) int {
	return cmp.Or(geo.ComparePoints(a.Position, b.Position), strings.Compare(string(a.Kind), string(b.Kind)), cmp.Compare(a.Pass, b.Pass))
}

// label returns what findings call the barrier: its id, or "row 12" without one.
func (s *Structure) label() string { return check.Label(s.ID, s.File, s.Row) }

// finding is a finding about the barrier, where it stands.
func (s *Structure) finding(rule check.Rule, field, value, message string) check.Finding {
	f := check.Finding{Rule: rule, File: s.File, Record: s.label(), Field: field, Value: value, Message: message}
	if check.PositionOf(s.Position) == check.WellPlaced {
		f.Position = &orb.Point{earth.Turned(s.Position[0]), s.Position[1]}
	}
	return f
}

func (c *structureChecker) report(s *Structure, rule check.Rule, field, value, message string) {
	c.log.Add(s.finding(rule, field, value, message))
}
