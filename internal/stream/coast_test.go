package stream

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo/flow"
	"driftreach/internal/check"
)

// TestCoast: which lines are a coast. NHDPlus has FTYPE Coastline with StreamOrde -9; all other
// types carry water.
func TestCoast(t *testing.T) {
	for _, c := range []struct {
		feature string
		order   int
		want    bool
	}{
		{"", 0, false}, {"", 3, false}, {"", -8, false}, {"StreamRiver", 1, false}, {"Connector", 1, false}, {"Pipeline", 1, false},
		{"ArtificialPath", 4, false}, {"Coastlines of note", 2, false}, {"460", 1, false},
		{"Coastline", -9, true}, {"Coastline", 0, true}, {"COASTLINE", 0, true}, {" coastline ", 3, true}, {"566", 0, true}, {"56600", 0, true},
		{"", -9, true}, {"StreamRiver", -9, true},
	} {
		l := line("a", 1, orb.Point{1, 2}, orb.Point{3, 4})
		l.FeatureType, l.Order = c.feature, c.order
		lines, findings := Check([]Centerline{l}, Options{})
		if len(lines) != 1 || lines[0].Coast != c.want {
			t.Fatalf("%+v: %d lines, coast %v", c, len(lines), lines[0].Coast)
		}
		if want := map[bool]string{true: "line-coast", false: ""}[c.want]; c.order != -8 && told(findings) != want {
			t.Errorf("%+v: %s, want %q", c, told(findings), want)
		}
	}
}

// TestCoastIsToldOncePerFile: two files, three coasts, one note each with the number. Filler values
// in a coast's columns are not reported, nor is an island's closed coast; a coast that cannot be
// drawn is rejected like any line.
func TestCoastIsToldOncePerFile(t *testing.T) {
	var lines []Centerline
	for i, file := range []string{"b.geojson", "a.geojson", "b.geojson"} {
		l := line(string(rune('x'+i)), i+1, orb.Point{1, float64(i)}, orb.Point{3, 4}, orb.Point{3, 5}, orb.Point{1, float64(i)})
		l.File, l.FeatureType, l.Order = file, "Coastline", -9
		l.Divergence, l.FlowShare, l.Length, l.Slope, l.LocalArea, l.Barrier, l.FromNode = 9, -9, -9, -9998, -9999, "?", "17"
		lines = append(lines, l)
	}
	river := line("r", 9, orb.Point{2, 9}, orb.Point{3, 5})
	river.File = "a.geojson"
	broken := line("s", 4, orb.Point{1, 2})
	broken.File, broken.Order = "a.geojson", -9
	for range 3 {
		got, findings := Check(clone(append(lines, river, broken)), Options{})
		if len(got) != 4 || told(findings) != "line-coast; s line-one-vertex; line-coast" {
			t.Fatalf("%d lines with %s", len(got), told(findings))
		}
		if f := findings[0]; f.File != "a.geojson" || !strings.HasPrefix(f.Message, "1 lines are coastline") || f.Value != "y" || f.Rule.Severity != check.Note {
			t.Errorf("%+v", f)
		}
		if f := findings[2]; f.File != "b.geojson" || !strings.HasPrefix(f.Message, "2 lines are coastline") {
			t.Errorf("%+v", f)
		}
		for _, l := range got {
			if l.Coast && (l.Order != 0 || l.FromNode != "" || l.Divergence != 0 || l.Length != 0 || !math.IsNaN(float64(l.LocalArea)) || !math.IsNaN(l.Slope)) {
				t.Errorf("%+v", l)
			}
			if l.ID == "r" && l.Coast {
				t.Error("the river became a coast")
			}
		}
		lines = append(lines[1:], lines[0])
	}
}

// TestConnectAtACoast: the river ends at the coast at river km 0 and the coast has no edge, so it
// has no zone, no drift and no reach.
func TestConnectAtACoast(t *testing.T) {
	coast := line("coast", 1, orb.Point{-1, 60}, orb.Point{0, 60}, orb.Point{1, 60})
	coast.FeatureType = "Coastline"
	lines, _ := Check([]Centerline{coast, line("upper", 2, orb.Point{0, 60.2}, orb.Point{0, 60.1}), line("lower", 3, orb.Point{0, 60.1}, orb.Point{0, 60})}, Options{})
	n, findings := Connect(lines, nil, nil, flow.Options{Snap: 1})
	if len(findings) != 0 || len(n.Net.Edges) != 2 || n.Paths.Len() != 2 || len(n.Lines) != 3 {
		t.Fatalf("%d edges, %s", len(n.Net.Edges), told(findings))
	}
	at := slices.IndexFunc(lines, func(l Centerline) bool { return l.ID == "coast" })
	if edges := n.Net.EdgesOf(int32(at)); len(edges) != 0 || n.Net.At(int32(at), 5).Edge != -1 {
		t.Errorf("the coast has edges %v", edges)
	}
	last := n.Net.Edges[1]
	// a tenth of a degree of latitude at 60.05 N is 11.141 km (Snyder 1987, table of lengths: 111.412 km a degree at 60)
	if lines[last.Line].ID != "lower" || last.OutletKm != 0 || math.Abs(float64(n.Net.Edges[0].OutletKm)-11.141) > 0.001 {
		t.Errorf("river km %v and %v", last.OutletKm, n.Net.Edges[0].OutletKm)
	}
}
