package flow

import (
	"fmt"
	"testing"

	"github.com/paulmach/orb"
)

// TestBareCrossingOnPublishedNetwork reads the New Hope extract (U.S. Geological Survey, NHDPlusV2)
// by geometry alone and draws a canal of two lines over a middle vertex of its main stem, so that
// one line ends and another begins there. The canal must change none of the published orders and no
// path length. When it was taken for a junction, all the water from upstream flowed into it.
func TestBareCrossingOnPublishedNetwork(t *testing.T) {
	lines, published := nhdplus(t, "nhdplusv2_new_hope_746.geojson")
	for i := range lines {
		lines[i].From, lines[i].To = "", ""
	}
	before, _ := Build(lines, DefaultOptions())
	stem, most := -1, 0.0
	for i, p := range published {
		if p["arbolatesu"] > most && len(lines[i].Path) > 8 {
			stem, most = i, p["arbolatesu"]
		}
	}
	at := lines[stem].Path[len(lines[stem].Path)/2]
	crossed := append(append([]Line(nil), lines...),
		plain("canal a", orb.Point{at[0] - 0.001, at[1] + 0.0004}, at), plain("canal b", at, orb.Point{at[0] + 0.001, at[1] - 0.0004}))
	after, troubles := Build(crossed, DefaultOptions())
	told := false
	for _, x := range troubles {
		told = told || x.Kind == Crossing && x.Lines[0] == int32(stem)
	}
	if !told {
		t.Error("the crossing is not told of")
	}
	quiet := DefaultOptions()
	quiet.Quiet = true
	unsearched, _ := Build(crossed, quiet)
	if fmt.Sprint(unsearched.Edges, unsearched.Nodes) != fmt.Sprint(after.Edges, after.Nodes) { // some drainages are NaN
		t.Error("the network is another where crossings are not looked for")
	}
	right, same := 0, 0
	for i := range lines {
		a, b := before.EdgesOf(int32(i)), after.EdgesOf(int32(i))
		x, y := before.Edges[a[len(a)-1]], after.Edges[b[len(b)-1]]
		if y.Order == int(published[i]["streamorde"]) {
			right++
		}
		if fmt.Sprintf("%.6f %.6f %d", x.OutletKm, x.UpstreamKm, x.Order) == fmt.Sprintf("%.6f %.6f %d", y.OutletKm, y.UpstreamKm, y.Order) {
			same++
		}
	}
	if same != len(lines) || right != len(lines) {
		t.Errorf("%d of %d lines keep their figures, %d have the published order", same, len(lines), right)
	}
}

// TestCrossingOfLongStrokes: two lines of 57 km, each of one segment, among brooks of 10 m, cross
// in the middle of the ground; only that is reported; by hand.
func TestCrossingOfLongStrokes(t *testing.T) {
	for _, g := range grounds[:4] {
		lines := []Line{g.line("x", -20000, 20000, 20000, -20000), g.line("y", 20000, 20000, -20000, -20000)}
		for i := range 200 {
			lines = append(lines, g.line(fmt.Sprintf("brook%03d", i), 30000+20*float64(i), 0, 30000+20*float64(i), 10))
		}
		_, troubles := Build(lines, DefaultOptions())
		var told []Trouble
		for _, tr := range troubles {
			if tr.Kind == Crossing {
				told = append(told, tr)
			}
		}
		// straight in degrees, not on the ground: half a kilometre at 70 N
		if len(told) != 1 || len(told[0].Lines) != 2 || told[0].Lines[0] != 0 || told[0].Lines[1] != 1 || metresApart(told[0].At, g.at(0, 0)) > 1 {
			t.Errorf("%s: %v", g.name, told)
		}
	}
}

// TestQuiet: two lines that pass over each other are told of, unless that is not looked for.
func TestQuiet(t *testing.T) {
	lines := []Line{plain("a", orb.Point{0, 0}, orb.Point{0.01, 0.01}), plain("b", orb.Point{0, 0.01}, orb.Point{0.01, 0})}
	for _, quiet := range []bool{false, true} {
		options := DefaultOptions()
		options.Quiet = quiet
		_, troubles := Build(lines, options)
		n := 0
		for _, x := range troubles {
			if x.Kind == Crossing {
				n++
			}
		}
		if want := map[bool]int{false: 1, true: 0}[quiet]; n != want {
			t.Errorf("quiet %t: %d crossings are told of, not %d", quiet, n, want)
		}
	}
}
