package flow

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// TestNetworksOfTheOracle compares every line of fourteen made networks with the results of
// scripts/oracle_flow.py. Half are trees and half are braided, in both hemispheres, at 66 N and
// across the antimeridian. Lengths are from GeodSolve of GeographicLib 2.1, upstream totals from
// the ancestors of networkx 2.8.8, order in trees by Strahler's rule. The test needs only the file
// in testdata and is never skipped.
func TestNetworksOfTheOracle(t *testing.T) {
	raw, err := os.ReadFile(filepath.Join("..", "..", "testdata", "flow", "networks.json"))
	if err != nil {
		t.Fatal(err)
	}
	type told struct {
		Name, From, To string
		Path           orb.LineString
		Divergence     uint8
		Area, Metres   float64
		UpstreamKm     float64 `json:"upstream_km"`
		Drainage       float64 `json:"drainage_km2"`
		OutletKm       float64 `json:"outlet_km"`
		Component      int32
		Order          int // 0 in braided ones
	}
	var networks [][]told
	if err := json.Unmarshal(raw, &networks); err != nil {
		t.Fatal(err)
	}
	checked, ordered := 0, 0
	for k, all := range networks {
		lines := make([]Line, len(all))
		for i, l := range all {
			lines[i] = plain(l.Name, l.Path...)
			lines[i].From, lines[i].To, lines[i].Divergence, lines[i].Area = l.From, l.To, l.Divergence, geo.SquareKilometers(l.Area)
		}
		n, _ := Build(lines, DefaultOptions())
		if len(n.Edges) != len(all) {
			t.Fatalf("network %d: %d edges of %d lines", k, len(n.Edges), len(all))
		}
		for i := range n.Edges {
			e := &n.Edges[i]
			want := all[e.Line]
			name := fmt.Sprintf("network %d, %s", k, want.Name)
			near(t, name+", metres", float64(e.Length), want.Metres, 1e-4)
			near(t, name+", km above", e.UpstreamKm, want.UpstreamKm, 1e-5)
			near(t, name+", km2 above", e.Drainage, want.Drainage, 1e-9)
			near(t, name+", km to the outlet", e.OutletKm, want.OutletKm, 1e-5)
			if e.Component != want.Component {
				t.Errorf("%s: component %d, want %d", name, e.Component, want.Component)
			}
			if checked++; want.Order == 0 {
				continue
			}
			if ordered++; e.Order != want.Order {
				t.Errorf("%s: order %d, want %d", name, e.Order, want.Order)
			}
		}
	}
	if checked < 300 || ordered < 100 {
		t.Errorf("%d lines were held, %d by their order", checked, ordered)
	}
}
