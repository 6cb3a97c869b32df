package mapfile

import (
	"bytes"
	"encoding/xml"
	"strings"
	"testing"

	"driftreach/internal/drift"
	"driftreach/internal/plan"
)

// If every set found is proved best, the picture has one line with one entry in its key; otherwise
// both lines are named.
func TestPlanKeyNamesTheLinesThatAreSeen(t *testing.T) {
	run := fixture()
	run.Plan = &plan.Plan{Unit: "acres", Curve: []plan.Point{{}, {Money: 1, Exposure: 4, Bound: 4}, {Money: 2, Exposure: 6, Bound: 6}}}
	for _, bound := range []drift.AmountKm{6, 7} {
		run.Plan.Curve[2].Bound = bound
		data, err := written(func(b *bytes.Buffer) error { return writePlanSVG(b, run) })
		if err != nil || xml.Unmarshal(data, new(struct{})) != nil {
			t.Fatal(err)
		}
		one, two := strings.Contains(string(data), "none that keeps the rules takes more<"), strings.Contains(string(data), ">no set that keeps the rules can take more<")
		if one != (bound == 6) || two == one {
			t.Errorf("bound %g: one line %v, two %v", bound, one, two)
		}
	}
}
