package lineage

import (
	"testing"

	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// knownOf maps records as the known stands of an earlier quarter.
func knownOf(t testing.TB, found []survey.Record) Before {
	t.Helper()
	q := survey.Quarter{Year: 2026, Number: 1}
	stands, _, err := stand.Map(found, q, stand.DefaultSettings(), 2)
	if err != nil {
		t.Fatal(err)
	}
	out := Before{Known: make([]Known, len(stands)), Records: found}
	for i := range stands {
		out.Known[i] = Known{Stand: stands[i], Quarter: q}
	}
	return out
}
