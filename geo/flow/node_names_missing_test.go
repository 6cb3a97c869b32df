package flow

import (
	"fmt"
	"math"
	"testing"
)

// records computes values for lines directly from the rules and their node names: each value walks
// every line above or below anew.
type records struct {
	lines    []Line
	in, away map[string][]int // by node: lines that end and that begin there
}

func recordsOf(lines []Line) records {
	r := records{lines, map[string][]int{}, map[string][]int{}}
	for i, l := range lines {
		r.in[l.To] = append(r.in[l.To], i)
		r.away[l.From] = append(r.away[l.From], i)
	}
	return r
}

// above collects a line and every line upstream of it.
func (r records) above(i int, into map[int]bool) {
	if into[i] {
		return
	}
	into[i] = true
	for _, up := range r.in[r.lines[i].From] {
		r.above(up, into)
	}
}

// toOutlet is the length below a line along lines that are not minor paths. ok is false where only
// minor paths continue, so that the main path is a matter of choice.
func (r records) toOutlet(i int) (km float64, ok bool) {
	onward := r.away[r.lines[i].To]
	if len(onward) == 0 {
		return 0, true
	}
	for _, next := range onward {
		if len(onward) == 1 || r.lines[next].Divergence != 2 {
			km, ok = r.toOutlet(next)
			return km + float64(r.lines[next].Length.Kilometers()), ok
		}
	}
	return 0, false
}

// order is the NHDPlus rule: StreamOrde and StreamCalc.
func (r records) order(i int, known map[int][2]int) (order, calc int) {
	if o, ok := known[i]; ok {
		return o[0], o[1]
	}
	largest, highest, times := 0, 0, 0
	for _, up := range r.in[r.lines[i].From] {
		o, c := r.order(up, known)
		largest = max(largest, o)
		if c > highest {
			highest, times = c, 0
		}
		if c == highest {
			times++
		}
	}
	switch {
	case largest == 0:
		order, calc = 1, 1
	case highest == 0:
		order, calc = largest, 0
	default:
		order = highest
		if times > 1 {
			order++
		}
		calc = order
	}
	if r.lines[i].Divergence == 2 {
		calc = 0
	}
	known[i] = [2]int{order, calc}
	return order, calc
}

// TestMissingLines removes every third, ninth and fortieth line from the New Hope extract. Heads,
// braids and the main stem are cut, and several outlets and islands result. Every figure of the
// rest must still follow the rules, according to walks that share no code with the network.
func TestMissingLines(t *testing.T) {
	all, _ := nhdplus(t, "nhdplusv2_new_hope_746.geojson")
	for _, every := range []int{3, 9, 40} {
		t.Run(fmt.Sprint("every ", every), func(t *testing.T) {
			var lines []Line
			for i, l := range all {
				if i%every != 0 {
					lines = append(lines, l)
				}
			}
			compareWithRecords(t, lines)
		})
	}
}

func compareWithRecords(t *testing.T, lines []Line) {
	n, troubles := Build(lines, DefaultOptions())
	kinds := map[string]int{}
	for _, x := range troubles {
		kinds[x.Kind]++
	}
	if kinds[TwoOutlets]+kinds[Island]+kinds[ReversedDirection] == 0 || kinds[CycleCut] > 0 {
		t.Errorf("troubles %v", kinds)
	}
	if len(n.Edges) != len(lines) {
		t.Fatalf("%d edges of %d lines", len(n.Edges), len(lines))
	}
	r, known, chosen := recordsOf(lines), map[int][2]int{}, 0
	for i := range n.Edges {
		e := &n.Edges[i]
		line := int(e.Line)
		name := lines[line].Name
		if order, calc := r.order(line, known); e.Order != order || e.Calc != calc {
			t.Errorf("line %s: order %d calc %d, by the rule %d %d", name, e.Order, e.Calc, order, calc)
		}
		upstream := map[int]bool{}
		r.above(line, upstream)
		var km, km2 float64
		for up := range upstream {
			km, km2 = km+float64(lines[up].Length.Kilometers()), km2+float64(lines[up].Area)
		}
		near(t, name+" upstream", e.UpstreamKm, km, 1e-9)
		near(t, name+" drainage", e.Drainage, km2, 1e-9)
		if km, ok := r.toOutlet(line); ok {
			near(t, name+" to the outlet", e.OutletKm, km, 1e-9)
		} else {
			chosen++
		}
		if math.IsNaN(e.Share) {
			t.Errorf("line %s has no share", name)
		}
	}
	if chosen > len(lines)/20 {
		t.Errorf("%d of %d lines left uncompared", chosen, len(lines))
	}
}
