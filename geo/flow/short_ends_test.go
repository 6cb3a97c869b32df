package flow

import "testing"

// TestShortEnds: ends that stop short of a line, and those that do not look so; by hand, in metres
// east and north.
func TestShortEnds(t *testing.T) {
	for _, g := range grounds {
		stem, low := g.line("stem", 0, 900, 0, 600), g.line("low", 0, 600, 0, 0)
		for name, c := range map[string]struct {
			lines []Line
			want  []one
		}{
			"a beginning just short": {[]Line{g.line("stem", 0, 900, 0, 0), g.line("x", 4, 500, 300, 900)},
				[]one{{Dangle, "stem x", [2]float64{4, 500}, "line x begins 4.0 m short of line stem", "left open: no water passes"}}},
			"an end at the bank of a wide river": {[]Line{g.line("stem", 0, 900, 0, 0), g.line("x", 600, 700, 60, 500)},
				[]one{{Dangle, "stem x", [2]float64{60, 500}, "m short of line stem", "left open: no water passes"}}},
			"an end short of a junction": {[]Line{stem, low, g.line("x", 300, 900, 12, 600)},
				[]one{{Dangle, "low x", [2]float64{12, 600}, "line x ends 12.0 m short of line low", "left open: no water passes"}}},
			"an end far from any line":    {[]Line{g.line("stem", 0, 900, 0, 0), g.line("x", 600, 700, 101, 500)}, nil},
			"an end that points away":     {[]Line{g.line("stem", 0, 900, 0, 0), g.line("x", 30, 100, 90, 500)}, nil},
			"a source near another water": {[]Line{g.line("stem", 0, 900, 0, 0), g.line("x", 60, 500, 600, 400)}, nil},
		} {
			_, troubles := Build(c.lines, DefaultOptions())
			if len(troubles) != len(c.want) {
				t.Errorf("%s, %s: %v, want %v", g.name, name, troubles, c.want)
				continue
			}
			for i, w := range c.want {
				checkTrouble(t, g, c.lines, troubles[i], w)
			}
		}
	}
}
