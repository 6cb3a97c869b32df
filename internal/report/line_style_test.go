package report

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"driftreach/internal/trend"
)

// luminance of "#rrggbb" or "#rgb": WCAG 2.2, relative luminance.
func luminance(t *testing.T, colour string) float64 {
	t.Helper()
	hex := strings.TrimPrefix(colour, "#")
	if len(hex) == 3 {
		hex = string([]byte{hex[0], hex[0], hex[1], hex[1], hex[2], hex[2]})
	}
	total := 0.0
	for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
		n, err := strconv.ParseUint(hex[2*i:2*i+2], 16, 8)
		if err != nil {
			t.Fatal(err)
		}
		c := float64(n) / 255
		if c <= 0.04045 {
			c /= 12.92
		} else {
			c = math.Pow((c+0.055)/1.055, 2.4)
		}
		total += weight * c
	}
	return total
}

func contrast(t *testing.T, a, b string) float64 {
	x, y := luminance(t, a), luminance(t, b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

// WCAG 2.2: 1.4.11 requires a contrast of 3 : 1 for graphics, 1.4.3 requires 4.5 : 1 for text.
func TestColoursHaveContrast(t *testing.T) {
	for _, k := range inks {
		if c := contrast(t, k.light, "#fff"); c < 3 {
			t.Errorf("%s on white: %.2f", k.class, c)
		}
		if c := contrast(t, k.dark, "#16181d"); c < 3 {
			t.Errorf("%s on dark: %.2f", k.class, c)
		}
	}
	for _, c := range [][2]string{{"#1a1a1a", "#fff"}, {"#555", "#fff"}, {"#eee", "#16181d"}, {"#b5b8bf", "#16181d"}} {
		if !strings.Contains(style(), c[0]) || !strings.Contains(style(), c[1]) || contrast(t, c[0], c[1]) < 4.5 {
			t.Errorf("%v: %.2f", c, contrast(t, c[0], c[1]))
		}
	}
}

// Each measure has a colour. No two measures of one chart have the same mark and dashes, so colour
// is never the only difference.
func TestInksDifferByMoreThanColour(t *testing.T) {
	if len(inks) != len(trend.Measures()) {
		t.Fatalf("%d inks for %d measures", len(inks), len(trend.Measures()))
	}
	for _, chart := range [][]trend.Measure{{trend.Live, trend.Infested, trend.Gross, trend.Canopy}, {trend.Zone, trend.Treated, trend.StandingDead}} {
		for i, a := range chart {
			for _, b := range chart[i+1:] {
				if inks[a].mark == inks[b].mark || inks[a].dashes == inks[b].dashes {
					t.Errorf("%s and %s look alike", inks[a].class, inks[b].class)
				}
			}
		}
	}
	for m, class := range map[trend.Measure]string{trend.Zone: "zone", trend.StandingDead: "dead", trend.ReachAtRisk: "reach"} {
		if inks[m].class != class {
			t.Errorf("%s has the ink of %s", m.Label(), inks[m].class)
		}
	}
	if !strings.Contains(style(), "prefers-color-scheme:dark") {
		t.Error("no dark colours")
	}
}
