package flow

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// nhdplus reads an extract of NHDPlusV2 from the shared data folder beside the
// project, or skips the test where there is none. Keys are lower case.
func nhdplus(t testing.TB, file string) (lines []Line, published []map[string]float64) {
	t.Helper()
	folder := os.Getenv("DRIFTREACH_DATA")
	if folder == "" {
		folder = filepath.Join("..", "..", "..", "shared", "data")
	}
	raw, err := os.ReadFile(filepath.Join(folder, file))
	if err != nil {
		t.Skipf("no shared test data: %v", err)
	}
	var collection struct {
		Features []struct {
			Properties map[string]any
			Geometry   struct{ Coordinates orb.LineString }
		}
	}
	if err := json.Unmarshal(raw, &collection); err != nil {
		t.Fatal(err)
	}
	for _, f := range collection.Features {
		p := map[string]float64{}
		for k, v := range f.Properties {
			if x, ok := v.(float64); ok {
				p[strings.ToLower(k)] = x
			}
		}
		lines = append(lines, lineOf(f.Geometry.Coordinates, p))
		published = append(published, p)
	}
	return lines, published
}

// lineOf returns the line of one NHDPlus record.
func lineOf(path orb.LineString, p map[string]float64) Line {
	l := plain("", path...)
	l.Name = fmt.Sprintf("%.0f", p["comid"]+p["id"])
	l.From, l.To = fmt.Sprintf("%.0f", p["fromnode"]), fmt.Sprintf("%.0f", p["tonode"])
	l.Divergence = uint8(p["divergence"])
	l.Area = geo.SquareKilometers(p["areasqkm"])
	if km, ok := p["lengthkm"]; ok {
		l.Length = meters(km)
	}
	return l
}

// TestNewHope compares every edge with the published answers of NHDPlusV2 (U.S.
// EPA and U.S. Geological Survey; 746 flowlines of the New Hope River, as
// distributed with the hydroloom package). ArbolateSu is published to 0.001 km
// and TotDASqKM to 0.0001 km2.
func TestNewHope(t *testing.T) {
	lines, published := nhdplus(t, "nhdplusv2_new_hope_746.geojson")
	n, troubles := Build(lines, DefaultOptions())
	for _, x := range troubles {
		t.Errorf("unexpected trouble: %+v", x)
	}
	if len(n.Edges) != 746 || n.Components != 1 {
		t.Fatalf("%d edges in %d components, want 746 in 1", len(n.Edges), n.Components)
	}
	// the published path length counts to the sea: the outlet's own is its start
	const toTheSea = 333.790
	for i := range n.Edges {
		e := &n.Edges[i]
		p := published[e.Line]
		if e.Order != int(p["streamorde"]) || e.Calc != int(p["streamcalc"]) {
			t.Errorf("line %s: order %d calc %d, published %v %v", lines[e.Line].Name, e.Order, e.Calc, p["streamorde"], p["streamcalc"])
		}
		near(t, lines[e.Line].Name+" Pathlength", e.OutletKm+toTheSea, p["pathlength"], 0.001)
		near(t, lines[e.Line].Name+" ArbolateSu", e.UpstreamKm, p["arbolatesu"], 0.001)
		near(t, lines[e.Line].Name+" TotDASqKM", e.Drainage, p["totdasqkm"], 0.001)
	}
}

// TestNewHopeStrahler shows that Strahler's plain rule is not enough: it is wrong on 264 of the 746
// lines (scripts/oracle_flow.py).
func TestNewHopeStrahler(t *testing.T) {
	lines, published := nhdplus(t, "nhdplusv2_new_hope_746.geojson")
	n, _ := Build(lines, DefaultOptions())
	order := make([]int, len(n.Edges))
	wrong := 0
	for i := range n.Edges {
		largest, times := 0, 0
		for _, up := range n.In(n.Edges[i].From) {
			if order[up] > largest {
				largest, times = order[up], 0
			}
			if order[up] == largest {
				times++
			}
		}
		order[i] = max(1, largest)
		if times > 1 {
			order[i]++
		}
		if order[i] != int(published[n.Edges[i].Line]["streamorde"]) {
			wrong++
		}
	}
	if wrong != 264 {
		t.Errorf("plain Strahler is wrong on %d lines, want 264", wrong)
	}
}

// TestNewHopeByGeometry leaves the node names out: shared vertices must make the
// same network, and geodesic lengths add up to 577.0502 km (GeodSolve of
// GeographicLib 2.1, by scripts/oracle_flow.py).
func TestNewHopeByGeometry(t *testing.T) {
	lines, published := nhdplus(t, "nhdplusv2_new_hope_746.geojson")
	for i := range lines {
		lines[i].From, lines[i].To, lines[i].Length = "", "", 0
	}
	n, _ := Build(lines, DefaultOptions())
	var outlet float64
	for i := range n.Edges {
		e := &n.Edges[i]
		if p := published[e.Line]; e.Order != int(p["streamorde"]) {
			t.Errorf("line %s: order %d, published %v", lines[e.Line].Name, e.Order, p["streamorde"])
		}
		outlet = max(outlet, float64(e.UpstreamKm))
	}
	near(t, "length above the outlet", outlet, 577.050198, 1e-6)
}

// TestDiversions compares the area above every line of two braided extracts with the sum over
// distinct catchments, found here by a search upstream. The area at the outlet must also equal the
// sum published with them, and each line's area its published TotDASqKM where there is one
// (hydroloom test data). The first extract starts downstream of 184.3632 km2, which its lines below
// that place include too.
func TestDiversions(t *testing.T) {
	for file, want := range map[string]float64{"diversions.geojson": 19.2078, "simple_diversions.geojson": 7.3539} {
		t.Run(file, func(t *testing.T) {
			lines, published := nhdplus(t, file)
			n, _ := Build(lines, DefaultOptions())
			if len(n.Edges) != len(lines) {
				t.Fatalf("%d edges of %d lines", len(n.Edges), len(lines))
			}
			outlet := 0.0
			for i := range n.Edges {
				e := &n.Edges[i]
				outlet = max(outlet, float64(e.Drainage))
				area, above := areaAbove(lines, e.Line)
				near(t, lines[e.Line].Name+" by nodes", float64(e.Drainage), area, 1e-9)
				if p, ok := published[e.Line]["totdasqkm"]; ok {
					if slices.ContainsFunc(above, func(up int32) bool { return published[up]["totdasqkm"] > 184 }) {
						area += 184.3632
					}
					near(t, lines[e.Line].Name+" TotDASqKM", area, p, 0.0002)
				}
			}
			near(t, "area", outlet, want, 1e-9)
		})
	}
}

// areaAbove is the sum of the catchments of a line and of all lines upstream, with the list of
// those lines.
func areaAbove(lines []Line, of int32) (float64, []int32) {
	sum, all := 0.0, []int32{of}
	met := map[int32]bool{of: true}
	for k := 0; k < len(all); k++ {
		at := all[k]
		sum += float64(lines[at].Area)
		for i := range lines {
			if up := int32(i); lines[i].To == lines[at].From && !met[up] {
				met[up], all = true, append(all, up)
			}
		}
	}
	return sum, all
}

// near fails the test when got is further than tolerance from want. Published numbers are rounded,
// so a rounding excess is allowed.
func near[F ~float64](t testing.TB, what string, got F, want, tolerance float64) {
	t.Helper()
	const rounding = 1e-9
	if !(math.Abs(float64(got)-want) <= tolerance+rounding) {
		t.Errorf("%s: got %.9g, want %.9g within %g", what, got, want, tolerance)
	}
}
