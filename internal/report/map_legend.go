package report

import (
	"fmt"

	"driftreach/internal/drift"
	"driftreach/internal/result"
	"driftreach/internal/stream"
)

// legend explains the map's symbols, each with a small picture.
func (c *composer) legend() []Legend {
	kinds := map[standKind]bool{}
	for i := range c.run.Stands {
		kinds[kindOf(&c.run.Stands[i])] = true
	}
	var out []Legend
	for _, k := range []standKind{{true, true}, {true, false}, {false, true}, {false, false}} {
		if kinds[k] {
			out = append(out, Legend{swatch("stand "+k.class(), string(appendMark(nil, dot{14, 12}, 9, k.inZone))), k.label()})
		}
	}
	for i := range c.run.Stands {
		if c.run.Stands[i].Carried() {
			out = append(out, Legend{swatch("unseen", string(appendMark(nil, dot{14, 12}, 10, true))), "carried: nobody went there this quarter"})
			break
		}
	}
	if len(c.chosen) > 0 {
		out = append(out, Legend{tag(`<svg class="swatch" viewBox="0 0 28 24" aria-hidden="true"><circle class="badge" cx="14" cy="12" r="11"/><text class="number" x="14" y="17">1</text></svg>`),
			"first stands to treat, numbered as in the table"})
	}
	for _, class := range []string{"high", "moderate", "low"} {
		if c.hasReach(class) {
			out = append(out, Legend{swatch("risk "+class, "M0 12h28"), "stream at risk, " + class})
		}
	}
	if c.hasReach("possible") {
		out = append(out, Legend{swatch("risk possible", "M0 12h28"), "possible, not at risk"})
	}
	if c.run.Network != nil && c.run.Network.Paths.Len() > 0 {
		out = append(out, Legend{swatch("water grade1", "M0 12h28"), "stream"})
		for e := range c.run.Network.Paths.Len() {
			if kind, _ := c.run.Network.BarrierAt(int32(e)); kind != stream.NoBarrier {
				return append(out, Legend{swatch("barrier", "M14 2v20"), "barrier across a stream"})
			}
		}
	}
	return out
}

func swatch(class, data string) tag {
	return tag(fmt.Sprintf(`<svg class="swatch" viewBox="0 0 28 24" aria-hidden="true"><path class="%s" d="%s"/></svg>`, class, data))
}

func (c *composer) hasReach(class string) bool {
	for i := range c.run.Reaches {
		if r := &c.run.Reaches[i]; r.Stage == 0 && classWord(r) == class {
			return true
		}
	}
	return false
}

func classWord(r *drift.Reach) string { return result.ClassWord(r.Class) }
