package result

import (
	"slices"
	"strings"
	"testing"
)

// TestCrewCautions: what binds at a stand comes first for everybody, and a crew is told where the assumed
// values are named, if there are any, but not their names.
func TestCrewCautions(t *testing.T) {
	run := &Run{Setback: 45.5, Assumed: []string{"drift.viable_days", "stands.default_patch_acres"}}
	work, crew, all := WorkCautions(run), CrewCautions(run), Cautions(run)
	if !slices.Equal(work, all[:len(work)]) || !slices.Equal(work, crew[:len(work)]) || len(crew) != len(work)+1 {
		t.Errorf("of work %q, for crews %q, of all %q", work, crew, all)
	}
	for _, want := range []string{"does not authorise", "label is the law", "licensed applicators", "45.5 m", "flood water"} {
		if !strings.Contains(strings.Join(work, " "), want) {
			t.Errorf("none has %q: %q", want, work)
		}
	}
	if last := crew[len(crew)-1]; !strings.Contains(last, "report.html") || strings.Contains(strings.Join(crew, " "), "viable_days") {
		t.Errorf("crews are told %q", crew)
	}
	run.Assumed = nil
	if crew := CrewCautions(run); !slices.Equal(crew, work) {
		t.Errorf("nothing assumed: %q", crew)
	}
}
