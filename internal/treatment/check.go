package treatment

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/shape"
	"driftreach/internal/check"
)

// Options says what Check holds the work against.
type Options struct {
	End          time.Time // last day of the quarter; zero for none: no work comes after it
	FindingLimit int       // as check.Log.Limit
}

// Check finishes the control work of one batch, of all its files together:
// rejects work without a day, or without stand or position, and exact copies;
// leaves out a position that cannot be one where the stand is named, an area that
// cannot be one, and measures that cannot be; repairs areas that cross themselves;
// reports work without acres; writes known words as we do. It returns the accepted
// work by date and content with what it found. Work after the quarter is accepted and
// reported; After says whether a row is such. The answer depends on the set of rows, not on their
// order. It takes the slice over. n log n.
func Check(actions []Treatment, o Options) ([]Treatment, []check.Finding) {
	c := checker{check.Checker[Treatment]{Kind: kind, Log: check.Log{Limit: o.FindingLimit}}, o.End}
	return c.Unify(c.Accept(actions, c.accept)), c.Findings()
}

type checker struct {
	check.Checker[Treatment]
	end time.Time // of the quarter
}

// kind is how pieces of work are told apart and reported.
var kind = check.Kind[Treatment]{
	Noun: "work", Duplicate: ruleDuplicate, Compare: Compare,
	Origin: func(a *Treatment) (string, int) { return a.File, a.Row },
	At: func(a *Treatment) *orb.Point {
		if !a.Placed {
			return nil
		}
		return check.Shown(a.Position)
	},
}

// accept looks at one piece of work by itself; false means rejected.
func (c *checker) accept(a *Treatment) bool {
	if a.Date.IsZero() {
		c.Report(a, ruleNoDate, "date", "", "the work has no day; it was rejected")
		return false
	}
	if !c.place(a) {
		return false
	}
	c.ground(a)
	c.words(a)
	c.bound(a)
	c.application(a)
	if a.After(c.end) {
		c.Report(a, ruleAfter, "date", a.Date.Format(time.DateOnly), "the work was done after the quarter; it does not count yet")
	}
	return true
}

// After says whether the work was done after a day; no work comes after a zero day.
func (a *Treatment) After(day time.Time) bool { return !day.IsZero() && a.Date.After(day) }

// place looks at stand and position; false means rejected.
func (c *checker) place(a *Treatment) bool {
	if !a.Placed {
		if a.StandID == "" {
			c.Report(a, ruleNoPlace, "stand_id", "", "the work names neither a stand nor a position; it was rejected")
		}
		return a.StandID != ""
	}
	why := check.PositionOf(a.Position)
	if why == check.WellPlaced {
		a.Position[0] = earth.Turned(a.Position[0])
		return true
	}
	at := check.Degrees(a.Position)
	a.Placed, a.Position = false, orb.Point{}
	if a.StandID == "" {
		c.Report(a, misplaced[why], "position", at, "the position cannot be one in degrees; the work was rejected")
		return false
	}
	c.Report(a, ruleLostPlace, "position", at, "the position cannot be one in degrees; it was left out")
	return true
}

// ground looks at the area that was treated: one that cannot be is left out, and the
// work goes by its position and acres.
func (c *checker) ground(a *Treatment) {
	if len(a.Ground) == 0 {
		return
	}
	if at, why := check.PathsOf(ringsOf(a.Ground)); why != check.WellPlaced {
		c.lostGround(a, check.Degrees(at), "a vertex of the area cannot be a position in degrees")
		return
	}
	earth.RunOnAreas(a.Ground)
	a.Ground, _ = shape.MakeValid(a.Ground) // a loop walked about a patch often crosses itself
	switch acres := float64(earth.Area(a.Ground).Acres()); {
	case !(acres > 0):
		c.lostGround(a, "", "the area covers nothing")
	case acres > MostAcres:
		c.lostGround(a, fmt.Sprintf("%.0f", acres), fmt.Sprintf("the area has more than %d acres", MostAcres))
	}
}

func (c *checker) lostGround(a *Treatment, value, why string) {
	c.Report(a, ruleLostGround, "geometry", value, why+"; it was left out, and the work counts by its position and acres")
	a.Ground = nil
}

// ringsOf returns the rings of an area.
func ringsOf(area orb.MultiPolygon) []orb.Ring {
	var out []orb.Ring
	for _, polygon := range area {
		out = append(out, polygon...)
	}
	return out
}

// What findings say about unknown words.
var (
	otherMethod = "the method is none of " + strings.Join(Methods(), ", ") + "; it was kept as entered"
	otherClass  = "the class is none of " + strings.Join(FormulationClasses(), ", ") + "; it was kept as entered"
)

// words looks at method and class.
func (c *checker) words(a *Treatment) {
	var ok bool
	if a.Method, ok = ParseMethod(a.Method); !ok && a.Method != "" {
		c.Report(a, ruleMethod, "method", a.Method, otherMethod)
	}
	if a.FormulationClass, ok = ParseFormulationClass(a.FormulationClass); !ok && a.FormulationClass != "" {
		c.Report(a, ruleClass, "formulation_class", a.FormulationClass, otherClass)
	}
}

// Compare orders work by date and everything else it says, file and row apart.
func Compare(a, b *Treatment) int {
	if c := cmp.Or(a.Date.Compare(b.Date), strings.Compare(a.StandID, b.StandID)); c != 0 {
		return c
	}
	return cmp.Or(
		strings.Compare(place(a), place(b)), cmp.Compare(a.Position[0], b.Position[0]), cmp.Compare(a.Position[1], b.Position[1]),
		strings.Compare(a.Method, b.Method), strings.Compare(a.FormulationClass, b.FormulationClass), cmp.Compare(a.TreatedAcres, b.TreatedAcres),
		compareApplication(&a.Application, &b.Application), geo.CompareAreas(a.Ground, b.Ground),
	)
}

// place tells work with a position from work without.
func place(a *Treatment) string { return strconv.FormatBool(a.Placed) }
