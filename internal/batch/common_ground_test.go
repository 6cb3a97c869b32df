package batch

import (
	"strings"
	"testing"

	"driftreach/internal/observed"
	"driftreach/internal/survey"
)

// TestGroundThatCountsTwice: two lone plants on the default patch of 0.1 acre, circles with a radius of
// 11.3497 m. 4 m apart, 314.4 m2 lie in both (MathWorld, "Circle-Circle Intersection", eq. 14), 0.0777
// acres; where one in a thousand acres or less counts twice, nothing is told, nor where three plants are
// one stand.
func TestGroundThatCountsTwice(t *testing.T) {
	for name, c := range map[string]struct {
		plants [][3]float64
		want   string
	}{
		"a pair":               {[][3]float64{{20, 0, 0}, {24, 0, 0}}, "2 stands have ground in common with others, and it counts in each: 0.0777 of 0.20 infested acres count twice or more; most in 2026Q1-0001 and 2026Q1-0002, 0.0777 acres"},
		"beside a large stand": {[][3]float64{{20, 0, 0}, {24, 0, 0}, {20, 900, 400000}}, ""},
		"three are one stand":  {[][3]float64{{20, 0, 0}, {24, 0, 0}, {28, 0, 0}}, ""},
		"apart":                {[][3]float64{{20, 0, 0}, {60, 0, 0}}, ""},
	} {
		in := observed.Quarter{Records: survey.Records{Listed: plantsAt(c.plants...)}, Centerlines: chainStreams, Files: inputsOf("s", "")}
		_, run := chainOfTwo(t, link{in: in}, link{in: in})
		if told := messages(run, "ground-in-two-stands"); (told == "") != (c.want == "") || !strings.Contains(told, c.want) {
			t.Errorf("%s: %q, want %q", name, told, c.want)
		}
	}
}
