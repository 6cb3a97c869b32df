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

// Options are the settings of Check.
type Options struct {
	End          time.Time // last day of the quarter, after which no work should come; zero for none
	FindingLimit int       // as check.Log.Limit
}

// Check finishes the control work of one batch, from all its files together. It rejects work
// without a day, or without a stand or position, and exact copies. It leaves out impossible areas
// and measurements, and an impossible position if the stand is named. It repairs areas that cross
// themselves, reports work without acres, and writes known words in their standard form. It returns
// the accepted work by date and content, and the findings. Work after the quarter is accepted and
// reported; After tells such rows. The result depends on the set of rows, not on their order. It
// reuses the slice. n log n.
func Check(actions []Treatment, o Options) ([]Treatment, []check.Finding) {
	c := checker{check.Checker[Treatment]{Kind: kind, Log: check.Log{Limit: o.FindingLimit}}, o.End}
	return c.Unify(c.Accept(actions, c.accept)), c.Findings()
}

// kind says how pieces of work are told apart and named in findings.
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

// accept checks one piece of work alone; false means rejected.
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

// After says whether the work was done after a day; false for a zero day.
func (a *Treatment) After(day time.Time) bool { return !day.IsZero() && a.Date.After(day) }

// place checks stand and position; false means rejected.
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

// ground checks the treated area. It leaves out an impossible one; the work then counts by its
// position and acres.
func (c *checker) ground(a *Treatment) {
	if len(a.Ground) == 0 {
		return
	}
	if at, why := check.PathsOf(ringsOf(a.Ground)); why != check.WellPlaced {
		c.lostGround(a, check.Degrees(at), "a vertex of the area cannot be a position in degrees")
		return
	}
	earth.RunOnAreas(a.Ground)
	a.Ground, _ = shape.MakeValid(a.Ground) // the track of a walk around a patch often crosses itself
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

// The remedies in findings about unknown words.
var (
	otherMethod = "the method is none of " + strings.Join(Methods(), ", ") + "; it was kept as entered"
	otherClass  = "the class is none of " + strings.Join(FormulationClasses(), ", ") + "; it was kept as entered"
)

// words checks method and formulation class.
func (c *checker) words(a *Treatment) {
	var ok bool
	if a.Method, ok = ParseMethod(a.Method); !ok && a.Method != "" {
		c.Report(a, ruleMethod, "method", a.Method, otherMethod)
	}
	if a.FormulationClass, ok = ParseFormulationClass(a.FormulationClass); !ok && a.FormulationClass != "" {
		c.Report(a, ruleClass, "formulation_class", a.FormulationClass, otherClass)
	}
}

// Compare orders work by date and all other values except file and row.
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

// place separates work with a position from work without.
func place(a *Treatment) string { return strconv.FormatBool(a.Placed) }
