package stream

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/flow"
	"driftreach/internal/check"
)

// weir is a valid structure.
func weir(id string, lon, lat float64) Structure {
	return Structure{ID: id, File: "b.csv", Row: 2, Position: orb.Point{lon, lat}, Kind: Weir, Pass: 0.6}
}

// TestCheckStructures checks the finding for every kind of bad barrier; by hand.
func TestCheckStructures(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(s *Structure)
		kept   string
		want   string
	}{
		{"good", func(*Structure) {}, "weir 0.6", ""},
		{"kind in capitals", func(s *Structure) { s.Kind = " DAM " }, "dam 0.6", ""},
		{"no pass", func(s *Structure) { s.Pass = geo.Share(math.NaN()) }, "weir NaN", ""},
		{"pass above 1", func(s *Structure) { s.Pass = 60 }, "weir NaN", "w barrier-pass-out-of-range"},
		{"pass below 0", func(s *Structure) { s.Pass = -0.1 }, "weir NaN", "w barrier-pass-out-of-range"},
		{"infinite pass", func(s *Structure) { s.Pass = geo.Share(math.Inf(1)) }, "weir NaN", "w barrier-pass-out-of-range"},
		{"no kind", func(s *Structure) { s.Kind = "" }, "", "w barrier-kind-unknown"},
		{"none", func(s *Structure) { s.Kind = "none" }, "", "w barrier-kind-unknown"},
		{"other kind", func(s *Structure) { s.Kind = "bridge" }, "", "w barrier-kind-unknown"},
		{"no id", func(s *Structure) { s.ID = "" }, "weir 0.6", "row 2 barrier-id-missing"},
		{"NaN", func(s *Structure) { s.Position[0] = math.NaN() }, "", "w barrier-not-finite"},
		{"projected", func(s *Structure) { s.Position = orb.Point{500000, 4600000} }, "", "w barrier-out-of-range"},
		{"null island", func(s *Structure) { s.Position = orb.Point{} }, "", "w barrier-null-island"},
	} {
		s := weir("w", 10, -20)
		c.change(&s)
		kept, findings := CheckStructures([]Structure{s}, Options{})
		got := ""
		if len(kept) == 1 {
			got = fmt.Sprintf("%s %g", kept[0].Kind, kept[0].Pass)
		}
		if got != c.kept || told(findings) != c.want {
			t.Errorf("%s: kept %q with %q, want %q with %q", c.name, got, told(findings), c.kept, c.want)
		}
	}
}

// TestStructureIDs: copies are dropped, others with the same id get different ids, and the order of
// the records does not matter.
func TestStructureIDs(t *testing.T) {
	other, taken := weir("w", 11, -20), weir("w~2", 12, -20)
	all := []Structure{other, weir("w", 10, -20), taken, weir("w", 10, -20)}
	for range 3 {
		all = append(all[1:], all[0])
		kept, findings := CheckStructures(slices.Clone(all), Options{})
		var ids []string
		for _, s := range kept {
			ids = append(ids, fmt.Sprint(s.ID, s.Position[0]))
		}
		if want := []string{"w10", "w~212", "w~311"}; !slices.Equal(ids, want) {
			t.Errorf("%q, want %q", ids, want)
		}
		if want := "w barrier-duplicate; w barrier-id-duplicate"; told(findings) != want {
			t.Errorf("%q, want %q", told(findings), want)
		}
	}
}

// TestPlaceStructures: barriers go to the nearest line, at most 100 m away, except coasts; by hand
// at 60 degrees south, where a thousandth of a degree is 55.8 m of parallel and 111.4 m of meridian
// (WGS 84).
func TestPlaceStructures(t *testing.T) {
	coast := line("c", 3, orb.Point{0, -60}, orb.Point{0, -61})
	coast.Coast = true
	lines := []Centerline{coast, line("a", 1, orb.Point{0.01, -60}, orb.Point{0.01, -60.01}), line("b", 2, orb.Point{0.02, -60}, orb.Point{0.02, -60.01})}
	placed, findings := PlaceStructures(lines, []Structure{
		weir("1", 0.0115, -60.005), weir("2", 0.0185, -60.001), weir("3", 0.015, -60.005), weir("4", 0, -60.005), weir("5", 0.0099, -60.005),
	})
	var got []string
	for _, s := range placed {
		got = append(got, fmt.Sprintf("%s on %s at %.0f", s.ID, lines[s.Line].ID, float64(s.Measure)))
	}
	// 5 is at the place of 1, on the other bank
	if want := []string{"1 on a at 557", "2 on b at 111"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	if want := "3 barrier-far-from-streams; 4 barrier-far-from-streams; 5 barrier-same-place"; told(findings) != want {
		t.Errorf("%q, want %q", told(findings), want)
	}
	if placed, findings := PlaceStructures(nil, []Structure{weir("1", 1, 1)}); len(placed) > 0 || told(findings) != "1 barrier-far-from-streams" {
		t.Error(placed, told(findings))
	}
}

// TestPlaceStructuresAlongARiver: on a line of many vertices, asked about in any order, each barrier is as
// far along as the vertex at which it stands, added up from the start.
func TestPlaceStructuresAlongARiver(t *testing.T) {
	river := line("a", 1)
	for i := range 1000 {
		river.Path = append(river.Path, orb.Point{10 + 0.001*float64(i%7), 40 - 0.0001*float64(i)})
	}
	var weirs []Structure
	for i := range river.Path {
		at := i * 7 % len(river.Path)
		weirs = append(weirs, weir(fmt.Sprintf("%03d", at), river.Path[at][0], river.Path[at][1]))
	}
	placed, findings := PlaceStructures([]Centerline{river}, weirs)
	if len(placed) != len(weirs) || len(findings) > 0 {
		t.Fatalf("%d barriers, %d findings", len(placed), len(findings))
	}
	for _, s := range placed {
		at := slices.Index(river.Path, s.Position)
		if want := earth.LineLength(river.Path[:at+1]); math.Abs(float64(s.Measure-want)) > 1e-6 {
			t.Errorf("%s is at %v m, not %v", s.ID, s.Measure, want)
		}
	}
}

// barred connects lines with placed structures and writes the barrier at the lower end of each
// edge.
func barred(t testing.TB, lines []Centerline, structures ...Structure) (string, *Network, []check.Finding) {
	t.Helper()
	placed, findings := PlaceStructures(lines, structures)
	if len(findings) > 0 {
		t.Fatal(findings)
	}
	n, findings := ConnectBarriers(lines, placed, flow.Options{Snap: 1})
	out := ""
	for e := range n.Net.Edges {
		kind, pass := n.BarrierAt(int32(e))
		out += strings.TrimSpace(fmt.Sprintf("%s %.0f %s %g", lines[n.Net.Edges[e].Line].ID, float64(n.Net.Edges[e].End), kind, pass)) + "; "
	}
	return out, n, findings
}

// TestConnectBarriers: the barrier at the end of each edge, by hand; a hundredth of a degree of
// meridian from the equator is 1105.7 m, of the equator 1113.2 m; half of each is the side of a
// branch's triangle, 784.5 m long.
func TestConnectBarriers(t *testing.T) {
	a, b := line("a", 1, orb.Point{10, 0}, orb.Point{10, -0.01}), line("b", 2, orb.Point{10, -0.01}, orb.Point{10, -0.02})
	side := line("s", 3, orb.Point{10.01, -0.01}, orb.Point{10, -0.01})
	left, right := line("l", 4, orb.Point{10, -0.02}, orb.Point{9.995, -0.025}, orb.Point{10, -0.03}), line("r", 5, orb.Point{10, -0.02}, orb.Point{10.005, -0.025}, orb.Point{10, -0.03})
	dammed := a
	dammed.Barrier, dammed.BarrierPass = Dam, 0.2
	for _, c := range []struct {
		name       string
		lines      []Centerline
		structures []Structure
		want, told string
	}{
		{"in the middle", []Centerline{a, b}, []Structure{weir("w", 10, -0.005)}, "a 553 weir 0.6; a 1106  1; b 1106  1; ", ""},
		{"beside the middle", []Centerline{a, b}, []Structure{weir("w", 10.0005, -0.005)}, "a 553 weir 0.6; a 1106  1; b 1106  1; ", ""},
		{"where lines follow", []Centerline{a, b}, []Structure{weir("w", 10, -0.01)}, "a 1106 weir 0.6; b 1106  1; ", ""},
		{"where streams meet", []Centerline{a, b, side}, []Structure{weir("w", 10, -0.01)}, "a 1106 weir 0.6; s 1113 weir 0.6; b 1106  1; ", ""},
		{"on a branch of a braid", []Centerline{a, b, left, right}, []Structure{weir("w", 9.995, -0.025)}, "a 1106  1; b 1106  1; l 785 weir 0.6; r 1569  1; l 1569  1; ", ""},
		{"where the braid parts", []Centerline{a, b, left, right}, []Structure{weir("w", 10, -0.02)}, "a 1106  1; b 1106 weir 0.6; l 1569  1; r 1569  1; ", ""},
		{"where the line has a dam", []Centerline{dammed, b}, []Structure{weir("w", 10, -0.01)}, "a 1106 weir 0.6; b 1106  1; ", "w barrier-on-stream-too"},
		{"above the line's dam", []Centerline{dammed, b}, []Structure{weir("w", 10, -0.005)}, "a 553 weir 0.6; a 1106 dam 0.2; b 1106  1; ", ""},
		{"two behind each other", []Centerline{a, b}, []Structure{weir("w", 10, -0.005), weir("x", 10, -0.006)}, "a 553 weir 0.6; a 663 weir 0.6; a 1106  1; b 1106  1; ", ""},
		{"at the head", []Centerline{a, b}, []Structure{weir("w", 10, 0)}, "a 1106  1; b 1106  1; ", "w barrier-without-effect"},
		{"two at one junction", []Centerline{a, b, side}, []Structure{weir("w", 10, -0.01), weir("x", 10.000001, -0.010008)}, "a 1106 weir 0.6; s 1113 weir 0.6; b 1106  1; ", "x barrier-without-effect"},
	} {
		got, _, findings := barred(t, c.lines, c.structures...)
		if got != c.want || told(findings) != c.told {
			t.Errorf("%s: %s%q, want %s%q", c.name, got, told(findings), c.want, c.told)
		}
	}
}

// TestBarrierPieces: the pieces of a split line join end to end and keep its path.
func TestBarrierPieces(t *testing.T) {
	a := line("a", 1, orb.Point{10, 0}, orb.Point{10.003, -0.004}, orb.Point{10, -0.01})
	_, n, _ := barred(t, []Centerline{a}, weir("w", 10, -0.008), weir("v", 10.003, -0.004))
	path := orb.LineString{a.Path[0]}
	for e := range n.Paths.Len() {
		piece := n.Paths.At(e)
		if piece[0] != path[len(path)-1] {
			t.Errorf("piece %d begins at %v, the one before ended at %v", e, piece[0], path[len(path)-1])
		}
		path = append(path, piece[1:]...)
	}
	if n.Paths.Len() != 3 || path[len(path)-1] != a.Path[2] {
		t.Errorf("%d pieces, %v", n.Paths.Len(), path)
	}
}

// TestBarriersInAnyOrder: shuffled lines and barriers give the same network.
func TestBarriersInAnyOrder(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		lines := []Centerline{
			line("a", 1, orb.Point{10, 0}, orb.Point{10, -0.01}), line("b", 2, orb.Point{10, -0.01}, orb.Point{10, -0.02}),
			line("s", 3, orb.Point{10.01, -0.01}, orb.Point{10, -0.01}),
		}
		var structures []Structure
		for i := range rapid.IntRange(0, 5).Draw(r, "barriers") {
			s := weir(fmt.Sprint("w", i%4), 10+0.0005*float64(rapid.IntRange(-1, 1).Draw(r, "x")), -0.0005*float64(rapid.IntRange(0, 41).Draw(r, "y")))
			s.Row = i
			structures = append(structures, s)
		}
		run := func(structures []Structure) string {
			checked, one := CheckStructures(slices.Clone(structures), Options{})
			placed, two := PlaceStructures(lines, checked)
			n, three := ConnectBarriers(lines, placed, flow.Options{Snap: 1})
			return fmt.Sprint(told(one), told(two), told(three), pathsOf(n), placed)
		}
		if x, y := run(structures), run(rapid.Permutation(structures).Draw(r, "shuffled")); x != y {
			r.Fatalf("%s\n%s", x, y)
		}
	})
}

func TestStructureRules(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range append(Rules(), StructureRules()...) {
		if seen[r.Code] || r.Remedy == "" {
			t.Errorf("%+v", r)
		}
		seen[r.Code] = true
	}
}

// TestApart: of barriers along lines the first is kept, and each that is at least samePlace from
// those kept; by comparing every one with every other.
func TestApart(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		var structures, want []Structure
		var told []string
		for i := range rapid.IntRange(0, 12).Draw(r, "barriers") {
			s := Structure{ID: fmt.Sprint(i), Line: rapid.Int32Range(0, 1).Draw(r, "line"), Measure: geo.Meters(rapid.IntRange(0, 24).Draw(r, "measure")) / 4}
			structures = append(structures, s)
			same := slices.IndexFunc(want, func(o Structure) bool {
				return o.Line == s.Line && max(o.Measure-s.Measure, s.Measure-o.Measure) <= samePlace
			})
			if same < 0 {
				want = append(want, s)
				continue
			}
			told = append(told, s.ID+" "+want[same].ID)
		}
		var log check.Log
		got := apart(structures, &log)
		var said []string
		for _, f := range log.Findings() {
			said = append(said, f.Record+" "+strings.Fields(f.Message)[1])
		}
		if !slices.Equal(got, want) || !slices.Equal(said, told) {
			r.Fatalf("%v and %v, want %v and %v", got, said, want, told)
		}
	})
}

// ConnectBarriers is Connect with the given options and with placed barriers on the lines: each
// obstructs its line at the lower end of the edge above it. A barrier at a confluence obstructs
// everything that flows into it. Where the line also records a barrier at its end, the point takes
// precedence, and a finding says so.
func ConnectBarriers(lines []Centerline, structures []Structure, o flow.Options) (*Network, []check.Finding) {
	return Connect(lines, structures, nil, o)
}
