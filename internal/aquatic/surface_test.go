package aquatic

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/flow"
	"driftreach/geo/shape"
	"driftreach/internal/stand"
	"driftreach/internal/stream"
)

// lakeland is a stream that runs 2 km south, half way through a lake 600 m wide and 400 m long, in
// a metric frame.
func lakeland(kind stream.SurfaceKind) (*stream.Network, earth.Frame) {
	frame := earth.NewFrame(orb.Point{20, -33})
	at := func(x, y float64) orb.Point { return frame.Inverse(orb.Point{x, y}) }
	lines := []stream.Centerline{centerline("a", orb.Point{20, -33}, 8, orb.Point{0, 1000}, orb.Point{0, -1000})}
	ring := orb.Ring{at(-300, -200), at(300, -200), at(300, 200), at(-300, 200), at(-300, -200)}
	net, _ := stream.Connect(lines, nil, []stream.Surface{{ID: "l", Name: "Ousel", Kind: kind, Areas: orb.MultiPolygon{{ring}}}}, flow.Options{Snap: 1})
	return net, frame
}

// TestLakeSplitsTheStream: derived by hand, 800, 400 and 800 m, the middle on the lake.
func TestLakeSplitsTheStream(t *testing.T) {
	net, _ := lakeland(stream.Lake)
	want := []struct {
		length float64
		on     int32
	}{{800, -1}, {400, 0}, {800, -1}}
	if len(net.Net.Edges) != len(want) {
		t.Fatalf("%d edges", len(net.Net.Edges))
	}
	for e, w := range want {
		if got := net.Net.Edges[e].Length; math.Abs(float64(got)-w.length) > 0.01 || net.On[e] != w.on {
			t.Errorf("edge %d: %g m on %d, want %g m on %d", e, float64(got), net.On[e], w.length, w.on)
		}
	}
}

// TestZoneOfALake: derived by hand. The lake's edge moved out by 30 m is a rectangle with rounded
// corners. The stream adds two strips 68 m wide, less the part under the rectangle, with half a
// disc at each end.
func TestZoneOfALake(t *testing.T) {
	net, _ := lakeland(stream.Lake)
	w := NewWater(net, DefaultSettings())
	zones := w.Dissolve(1)
	if len(zones) != 1 || zones[0].Lines != 1 {
		t.Fatalf("%+v", zones)
	}
	lake := 600.0*400 + 2*30*(600+400) + math.Pi*30*30
	strips := 2*68.0*(800-30) + math.Pi*34*34
	for _, got := range []geo.SquareMeters{zones[0].Area, earth.Area(zones[0].Geometry.Polygons())} {
		if want := lake + strips; math.Abs(float64(got)/want-1) > 1e-5 {
			t.Errorf("zone of %g m2, want %g", float64(got), want)
		}
	}
}

// TestStandsAtALake: derived by hand: distance to the water's edge, in the zone or not, and where
// fragments enter on the centerline.
func TestStandsAtALake(t *testing.T) {
	net, _ := lakeland(stream.Lake)
	w := NewWater(net, Settings{Setback: 30, WidthByOrder: []geo.Meters{2}})
	for _, c := range []struct {
		name         string
		x, y, radius float64
		away         float64
		zone         bool
		share        float64 // share of its patch in the zone; -1 if not checked
	}{
		{"on the shore", 310, 50, 5, 5, true, 1},
		{"on the water", 200, 0, 5, 0, true, 1},
		{"across the edge of the zone", 330, 50, 5, 25, true, 0.5},
		{"beyond the zone", 340, 50, 5, 35, false, 0},
		{"at a corner", 300 + 24, 200 + 32, 5, 35, false, 0},
		{"on the stream below", 20, -700, 5, 11, true, 1},
	} {
		st, records := oneStand(t, orb.Point{20, -33}, geo.SquareMeters(math.Pi*c.radius*c.radius), orb.Point{c.x, c.y})
		m, touches := w.Judge(st, records, stand.DefaultSettings())
		if math.Abs(float64(m.WaterDistance)-c.away) > 0.01 || m.InZone != c.zone || (len(touches) > 0) != c.zone {
			t.Errorf("%s: %g m away, in zone %v, %d touches; want %g m, %v", c.name, float64(m.WaterDistance), m.InZone, len(touches), c.away, c.zone)
		}
		if got := float64(m.Area / st.Infested); math.Abs(got-c.share) > 2e-3 {
			t.Errorf("%s: %g of the stand in the zone, want %g", c.name, got, c.share)
		}
	}
}

// shoreCase is a lake and a stream, in metres.
type shoreCase struct {
	Lake           []orb.Ring
	Line           []orb.Point
	Width, Setback float64
	Area           float64 // of their zone
	Places         []orb.Point
	Away           []float64 // from each place to the nearest water
}

// TestShoresAgainstGEOS compares zones and distances with GEOS on the same lakes and streams, on a
// plane (scripts/oracle_water.py, GEOS 3.11 by python3-shapely, 4096 sides a quarter circle): the
// areas of the whole zone, stated and drawn, within 1e-5; cut out around a place within 1e-4, with
// 32 sides a quarter circle; distances within a centimetre.
func TestShoresAgainstGEOS(t *testing.T) {
	raw, err := os.ReadFile(filepath.Join("..", "..", "testdata", "water", "shores.json"))
	if err != nil {
		t.Fatal(err)
	}
	var cases []shoreCase
	if err := json.Unmarshal(raw, &cases); err != nil || len(cases) == 0 {
		t.Fatal(err)
	}
	for place, middle := range places {
		t.Run(place, func(t *testing.T) {
			step := 5
			if middle[0] > 179 {
				step = 1
			}
			for k := 0; k < len(cases); k += step {
				holdShore(t, k, cases[k], middle)
			}
		})
	}
}

func holdShore(t *testing.T, k int, c shoreCase, middle orb.Point) {
	frame := earth.NewFrame(middle)
	lake := orb.Polygon{}
	for _, ring := range c.Lake {
		var degrees orb.Ring
		for _, p := range ring {
			degrees = append(degrees, frame.Inverse(p))
		}
		lake = append(lake, degrees)
	}
	surfaces, findings := stream.CheckSurfaces([]stream.Surface{{ID: "l", Kind: stream.Lake, Areas: orb.MultiPolygon{lake}}}, stream.Options{})
	if len(findings) > 0 {
		t.Fatal(findings)
	}
	net, _ := stream.Connect([]stream.Centerline{centerline("a", middle, geo.Meters(c.Width), c.Line...)}, nil, surfaces, flow.Options{Snap: 0.01})
	w := NewWater(net, Settings{Setback: geo.Meters(c.Setback), WidthByOrder: []geo.Meters{2}, Chord: 0.02})
	zones := w.Dissolve(1)
	if len(zones) != 1 || zones[0].Lines != 1 || shape.Valid(zones[0].Geometry.Polygons()) != nil {
		t.Fatalf("case %d: %d zones", k, len(zones))
	}
	for _, got := range []geo.SquareMeters{zones[0].Area, earth.Area(zones[0].Geometry.Polygons())} {
		if math.Abs(float64(got)/c.Area-1) > 1e-5 {
			t.Errorf("case %d: zone of %.1f m2, GEOS has %.1f", k, float64(got), c.Area)
		}
	}
	zone := w.Around(middle, orb.Bound{Min: orb.Point{-2500, -2500}, Max: orb.Point{2500, 2500}})
	if got := float64(shape.Area(zone)); math.Abs(got/c.Area-1) > 1e-4 {
		t.Errorf("case %d: zone of %.1f m2, GEOS has %.1f", k, got, c.Area)
	}
	const r = 1.0
	for i, p := range c.Places {
		st, records := oneStand(t, middle, math.Pi*r*r, p)
		m, _ := w.Judge(st, records, stand.DefaultSettings())
		if want := max(0, c.Away[i]-r); math.Abs(float64(m.WaterDistance)-want) > 0.01 || m.InZone != (want <= c.Setback) && math.Abs(want-c.Setback) > 0.01 {
			t.Errorf("case %d: %v is %.3f m from the water, in zone %v; GEOS has %.3f", k, p, float64(m.WaterDistance), m.InZone, want)
		}
	}
}

// TestZoneOfALongRiver: a river a kilometre wide along three degrees of the equator, across the
// antimeridian, is several squares and one shape. By hand: its area, its shore's length times the
// setback, and a disc for its corners together.
func TestZoneOfALongRiver(t *testing.T) {
	var ring orb.Ring
	for i := range 31 {
		ring = append(ring, orb.Point{178.5 + 0.1*float64(i), 0.5})
	}
	for i := range 31 {
		ring = append(ring, orb.Point{181.5 - 0.1*float64(i), 0.51})
	}
	areas := orb.MultiPolygon{{append(ring, ring[0])}}
	net, _ := stream.Connect(nil, nil, []stream.Surface{{ID: "r", Name: "Wide", Kind: stream.River, Areas: areas}}, flow.Options{Snap: 1})
	zones := NewWater(net, DefaultSettings()).Dissolve(2)
	if len(zones) != 1 || len(zones[0].Geometry.Polygons()) != 1 || len(zones[0].Geometry.Polygons()[0]) != 1 {
		t.Fatalf("%d zones", len(zones))
	}
	want := float64(earth.Area(areas)) + 30*float64(earth.LineLength(orb.LineString(areas[0][0]))) + math.Pi*30*30
	if got := float64(zones[0].Area); math.Abs(got/want-1) > 1e-5 {
		t.Errorf("zone of %.0f m2, want %.0f", got, want)
	}
	if box := zones[0].Geometry.Polygons().Bound(); math.Abs(box.Min[0]-178.5) > 0.001 || math.Abs(box.Max[0]-181.5) > 0.001 {
		t.Errorf("longitudes from %g to %g", box.Min[0], box.Max[0])
	}
}

// TestZoneWithoutSetback: the zone is the water.
func TestZoneWithoutSetback(t *testing.T) {
	net, _ := lakeland(stream.Lake)
	w := NewWater(net, Settings{WidthByOrder: []geo.Meters{2}, Chord: 0.02})
	if got, want := float64(w.Dissolve(1)[0].Area), 600.0*400+2*8*800+math.Pi*4*4; math.Abs(got/want-1) > 1e-5 {
		t.Errorf("zone of %g m2, want %g", got, want)
	}
}
