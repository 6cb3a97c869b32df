package stream

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/geo/linear"
	"driftreach/internal/check"
)

// changed returns, by field, a line that differs from a plain one in that field alone, and is larger
// there.
func changed(t *testing.T) map[string]Centerline {
	t.Helper()
	out := map[string]Centerline{}
	for i := range reflect.TypeFor[Centerline]().NumField() {
		l := full()
		field := reflect.ValueOf(&l).Elem().Field(i)
		switch v := field.Addr().Interface().(type) {
		case *orb.LineString:
			*v = orb.LineString{{1, 2}, {3, 5}}
		default:
			switch field.Kind() {
			case reflect.String:
				field.SetString(field.String() + "z")
			case reflect.Float64:
				field.SetFloat(field.Float() + 0.25)
			case reflect.Int:
				field.SetInt(field.Int() + 1)
			case reflect.Uint8:
				field.SetUint(field.Uint() + 1)
			case reflect.Bool:
				field.SetBool(true)
			default:
				t.Fatalf("%s is of no kind that is changed here", reflect.TypeFor[Centerline]().Field(i).Name)
			}
		}
		out[reflect.TypeFor[Centerline]().Field(i).Name] = l
	}
	return out
}

// full is a line with every value recorded.
func full() Centerline {
	return Centerline{
		ID: "i", Name: "n", File: "f", Row: 3, Path: orb.LineString{{1, 2}, {3, 4}}, FromNode: "a", ToNode: "b", Sequence: 7, Divergence: 1, FlowShare: 0.5, Order: 3,
		BankfullWidth: 20, MeanVelocity: 1, Drainage: 100, Discharge: 5, MeanDischarge: 4, Slope: 0.25, Barrier: Weir, BarrierPass: 0.5, Length: 900, LocalArea: 8,
		FeatureType: "t", Permanence: Perennial,
	}
}

// Each value counts when copies are looked for, but for those that say where a line came from and
// what is set later.
func TestEveryValueTellsLinesApart(t *testing.T) {
	origin := []string{"ID", "File", "Row", "Coast"}
	for name, other := range changed(t) {
		plain := full()
		want := -1
		if slices.Contains(origin, name) {
			want = 0
		}
		if got := compareContent(&plain, &other); got != want {
			t.Errorf("%s: %d, want %d", name, got, want)
		}
		if got := compareContent(&other, &plain); got != -want {
			t.Errorf("%s the other way: %d, want %d", name, got, -want)
		}
	}
}

// Each value changes the digest, but for those that say where a line came from, and for the words of
// its type, which count as a coast or not at all.
func TestEveryValueIsInTheDigest(t *testing.T) {
	before := Digest([]Centerline{full()})
	for name, other := range changed(t) {
		same := Digest([]Centerline{other}) == before
		if want := slices.Contains([]string{"ID", "File", "Row", "FeatureType"}, name); same != want {
			t.Errorf("%s: the same digest is %v", name, same)
		}
	}
}

// Nine significant digits count, and no more: of a velocity of 1.2345 the ninth is 1e-8.
func TestDigitsOfTheDigest(t *testing.T) {
	for velocity, same := range map[float64]bool{1.2345: true, 1.2345 + 3e-9: true, 1.2345 + 1e-8: false, 1.2345 - 1e-8: false} {
		a, b := full(), full()
		a.MeanVelocity, b.MeanVelocity = 1.2345, geo.MetersPerSecond(velocity)
		if got := Digest([]Centerline{a}) == Digest([]Centerline{b}); got != same {
			t.Errorf("%.10f has the same digest: %v", velocity, got)
		}
	}
}

// A line whose last side ends on its first side is found where both only share their end along the
// longer axis; and one that stops short of it is not.
func TestTouchAtTheEndOfTheAxis(t *testing.T) {
	for x, want := range map[float64]bool{4: true, 3.99: false} {
		var c crosser
		at, found := c.crossing(orb.LineString{{4, -1}, {4, 1}, {0, 1}, {0, 0}, {x, 0}})
		if found != want || found && at != (orb.Point{4, 0}) {
			t.Errorf("to %g: %v at %v", x, found, at)
		}
	}
}

// Each value that the network needs reaches it as it is.
func TestFlowLinesPassOn(t *testing.T) {
	l := full()
	l.Coast = true
	weir := Structure{Measure: 30, Line: 1}
	given := flowLines{[]Centerline{{}, l}, stopsOf([]Structure{{Measure: 70, Line: 1}, {Line: 0}, weir})}
	got := []flow.Line{given.Line(0), given.Line(1)}
	want := flow.Line{Name: "i", Path: l.Path, From: "a", To: "b", Sequence: 7, Divergence: 1, Share: 0.5, Width: 20, Length: 900, Area: 8, Order: 3, Barrier: true, Fall: 1, Shore: true,
		Along: &flow.Along{Stops: []flow.Stop{{At: 30, Number: 3}, {At: 70, Number: 1}}}}
	if diff := cmp.Diff(want, got[1]); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	if got[0].Barrier || got[0].Fall != 0 || len(got[0].Along.Stops) != 1 {
		t.Errorf("%+v", got[0])
	}
	for want, l := range map[int8]Centerline{1: {Slope: 1e-9}, -1: {Slope: 0.5, Rises: true}, 0: {}} {
		if got := l.fall(); got != want {
			t.Errorf("%+v falls %d, want %d", l, got, want)
		}
	}
}

// Values at their limits stay, and those a step past them go, each with a finding of its field.
func TestMeasuresAtTheirLimits(t *testing.T) {
	up := func(v float64) float64 { return math.Nextafter(v, math.Inf(1)) }
	for _, tt := range []struct {
		field string
		set   func(l *Centerline, v float64)
		get   func(l *Centerline) float64
		most  float64
	}{
		{"mean_velocity_mps", func(l *Centerline, v float64) { l.MeanVelocity = geo.MetersPerSecond(v) }, func(l *Centerline) float64 { return float64(l.MeanVelocity) }, 10},
		{"drainage_km2", func(l *Centerline, v float64) { l.Drainage = geo.SquareKilometers(v) }, func(l *Centerline) float64 { return float64(l.Drainage) }, 1e7},
		{"discharge_m3s", func(l *Centerline, v float64) { l.Discharge = geo.CubicMetersPerSecond(v) }, func(l *Centerline) float64 { return float64(l.Discharge) }, 1e6},
		{"mean_discharge_m3s", func(l *Centerline, v float64) { l.MeanDischarge = geo.CubicMetersPerSecond(v) }, func(l *Centerline) float64 { return float64(l.MeanDischarge) }, 1e6},
		{"slope", func(l *Centerline, v float64) { l.Slope = v }, func(l *Centerline) float64 { return l.Slope }, 1},
		{"catchment_km2", func(l *Centerline, v float64) { l.LocalArea = geo.SquareKilometers(v) }, func(l *Centerline) float64 { return float64(l.LocalArea) }, 1e7},
		{"flow_share", func(l *Centerline, v float64) { l.FlowShare = geo.Share(v) }, func(l *Centerline) float64 { return float64(l.FlowShare) }, 1},
		{"barrier_pass", func(l *Centerline, v float64) { l.BarrierPass = geo.Share(v) }, func(l *Centerline) float64 { return float64(l.BarrierPass) }, 1},
		{"bankfull_width_m", func(l *Centerline, v float64) { l.BankfullWidth = geo.Meters(v) }, func(l *Centerline) float64 { return float64(l.BankfullWidth) }, 5000},
	} {
		for _, v := range []float64{0, tt.most / 2, tt.most, up(tt.most), -5e-324} {
			l := line("a", 1, orb.Point{1, 2}, orb.Point{3, 4})
			tt.set(&l, v)
			lines, findings := Check([]Centerline{l}, Options{})
			got, kept := tt.get(&lines[0]), v >= 0 && v <= tt.most
			if kept && (got != v || len(findings) > 0) || !kept && (got == v || len(findings) != 1 || findings[0].Field != tt.field || findings[0].Value != check.Number(v)) {
				t.Errorf("%s of %g: %g, %v", tt.field, v, got, findings)
			}
		}
	}
	l := line("a", 1, orb.Point{1, 2}, orb.Point{3, 4})
	l.BankfullWidth, l.Slope = geo.Meters(math.NaN()), -0.001
	lines, findings := Check([]Centerline{l}, Options{})
	if lines[0].BankfullWidth != 0 || !lines[0].Rises || !math.IsNaN(lines[0].Slope) || told(findings) != "a measure-negative; a measure-negative" {
		t.Errorf("%+v with %s", lines[0], told(findings))
	}
	l = line("a", 1, orb.Point{1, 2}, orb.Point{3, 4})
	for order, want := range map[int]int{0: 0, 1: 1, 12: 12, 13: 0, -1: 0} {
		l.Order = order
		if lines, _ := Check([]Centerline{l}, Options{}); lines[0].Order != want {
			t.Errorf("order %d became %d", order, lines[0].Order)
		}
	}
}

// Copies of a line, by hand: the same vertices either way, and not a part of them, nor the same ones
// in another order, nor a coast.
func TestCopiesByHand(t *testing.T) {
	a, b, c, d := orb.Point{1, 1}, orb.Point{2, 1}, orb.Point{3, 1}, orb.Point{3, 2}
	coast := line("z", 9, a, b, c, d)
	coast.FeatureType = "Coastline"
	lines, findings := Check([]Centerline{line("p", 1, a, b, c, d), line("q", 2, d, c, b, a), line("r", 3, a, b, c), line("s", 4, a, c, b, d), line("t", 5, b, c, d), coast}, Options{})
	var ids []string
	for _, l := range lines {
		ids = append(ids, l.ID)
	}
	if want := []string{"p", "r", "s", "t", "z"}; !slices.Equal(ids, want) {
		t.Errorf("%q, want %q", ids, want)
	}
	if i := slices.IndexFunc(findings, func(f check.Finding) bool { return f.Rule.Code == "line-copy" }); i < 0 || findings[i].Record != "q" || findings[i].Value != "p" {
		t.Errorf("%s", told(findings))
	}
	if sameGround(orb.LineString{a, b, c}, orb.LineString{c, a, b}) || sameGround(orb.LineString{a, b}, orb.LineString{a}) || !sameGround(orb.LineString{a, b, d}, orb.LineString{d, b, a}) {
		t.Error("the same ground")
	}
}

// Of several lines that differ the largest difference is named, of two as large the first; by hand.
// At a twentieth of the larger value two agree.
func TestDisagreementsByHand(t *testing.T) {
	lines := []Centerline{
		line("a", 1, orb.Point{0, 0.03}, orb.Point{0, 0.02}), line("b", 2, orb.Point{0, 0.02}, orb.Point{0, 0.01}), line("c", 3, orb.Point{0, 0.01}, orb.Point{0, 0}),
	}
	drawn := 1105.743 // a hundredth of a degree of meridian from the equator, WGS 84
	for i, ratio := range []float64{0.951, 1.0 / 0.951, 1} {
		lines[i].Length = geo.Meters(drawn * ratio)
	}
	if _, findings := Connect(lines, nil, nil, flow.Options{Snap: 1}); len(findings) > 0 {
		t.Errorf("within a twentieth: %s", told(findings))
	}
	lines[0].Length, lines[1].Length, lines[2].Length = geo.Meters(drawn*0.9), geo.Meters(drawn/0.949), geo.Meters(drawn*0.949)
	_, findings := Connect(lines, nil, nil, flow.Options{Snap: 1})
	if told(findings) != "a network-length-differs" || findings[0].Value != "a b c" || findings[0].Field != "length_km" || *findings[0].Position != (orb.Point{0, 0.03}) {
		t.Errorf("%+v", findings)
	}
	lines[1].File = "other/t.shp"
	if _, findings := Connect(lines, nil, nil, flow.Options{Snap: 1}); told(findings) != "a network-length-differs; b network-length-differs" && told(findings) != "b network-length-differs; a network-length-differs" {
		t.Errorf("of two files: %s", told(findings))
	}
	for i := range lines {
		lines[i].Length, lines[i].File = 0, "f"
		lines[i].Order = 2 // computed 1 for all
	}
	_, findings = Connect(lines, nil, nil, flow.Options{Snap: 1})
	if len(findings) != 1 || findings[0].Record != "a" || findings[0].Message != "the recorded stream_order disagrees with the computed one on 3 of 3 lines, most on line a: 2 recorded, 1 computed" {
		t.Errorf("%+v", findings)
	}
	d := disagreement{rule: ruleOrderDiffers, looked: 12}
	var many []Centerline
	for i := range 10 {
		many = append(many, line(string(rune('a'+i)), i, orb.Point{}, orb.Point{1, 1}))
		d.differing = append(d.differing, differing{i, 1, 2})
	}
	if got := d.finding(many).Value; got != "a b c d e f g h" {
		t.Errorf("eight are named: %s", got)
	}
}

// Barriers at the limits of their places, by hand: 100 m from a line and a hair more; 1 m apart and a
// hair more.
func TestBarriersAtTheirLimits(t *testing.T) {
	degree := 111319.4908 // metres of a degree of the equator, WGS 84
	lines := []Centerline{line("a", 1, orb.Point{0, 0.001}, orb.Point{0.1, 0.001})}
	meridian := 110574.2759 / 1e5 // of a degree of meridian there, a hundred thousandth
	at := func(metres float64) orb.Point { return orb.Point{0.05, 0.001 + metres/meridian/1e5} }
	for metres, want := range map[float64]int{99.9: 1, -99.9: 1, 100.1: 0, -100.1: 0} {
		if placed, _ := PlaceStructures(lines, []Structure{{ID: "w", Position: at(metres)}}); len(placed) != want {
			t.Errorf("%g m off: %d placed", metres, len(placed))
		}
	}
	for metres, want := range map[float64]int{0.99: 1, 1.01: 2, 2.5: 2} {
		placed, _ := PlaceStructures(lines, []Structure{{ID: "w", Position: orb.Point{0.05, 0.001}}, {ID: "x", Position: orb.Point{0.05 + metres/degree, 0.001}}, {ID: "y", Position: orb.Point{0.05, 0.001}}})
		if len(placed) != want || placed[0].ID != "w" || math.Abs(float64(placed[0].Measure)-0.05*degree) > 0.01 {
			t.Errorf("%g m apart: %+v", metres, placed)
		}
	}
	end, _ := PlaceStructures(lines, []Structure{{ID: "w", Position: orb.Point{0.1, 0.001}}}) // the last place of the line
	if len(end) != 1 || math.Abs(float64(end[0].Measure)-0.1*degree) > 0.01 {
		t.Errorf("%+v", end)
	}
	if placed, findings := PlaceStructures(lines, nil); placed != nil || findings != nil {
		t.Errorf("%v, %v", placed, findings)
	}
	if got := asideText(linear.Place{Distance: 123.4}, true); got != "123 m" || asideText(linear.Place{}, false) != "" {
		t.Errorf("%q", got)
	}
	position := func(lon, lat, pass float64, kind Barrier) *Structure {
		return &Structure{Position: orb.Point{lon, lat}, Kind: kind, Pass: geo.Share(pass)}
	}
	ranked := []*Structure{position(1, 1, 0.5, Dam), position(1, 2, 0.1, Culvert), position(1, 2, 0.1, Dam), position(1, 2, 0.2, Dam)}
	for i := range ranked {
		for k := range ranked {
			if got := compareStructureContent(ranked[i], ranked[k]); (got < 0) != (i < k) || (got > 0) != (i > k) {
				t.Errorf("%d and %d: %d", i, k, got)
			}
		}
	}
	weird, _ := CheckStructures([]Structure{{ID: "w", Position: orb.Point{190, 5}, Kind: Dam, Pass: 0}, {ID: "x", Position: orb.Point{-180, 5}, Kind: Dam, Pass: 1}}, Options{})
	if diff := cmp.Diff([]Structure{{ID: "w", Position: orb.Point{-170, 5}, Kind: Dam}, {ID: "x", Position: orb.Point{-180, 5}, Kind: Dam, Pass: 1}}, weird, cmpopts.EquateApprox(0, 1e-12)); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

// A coast carries nothing, by its type or by its order, in any case; each file is told of once, with
// the first of its lines.
func TestCoastsByHand(t *testing.T) {
	for word, want := range map[string]bool{"Coastline": true, " COASTLINE ": true, "566": true, "56600": true, "5660": false, "coast": false, "": false} {
		l := full()
		if l.FeatureType = word; l.IsCoast() != want {
			t.Errorf("%q is a coast: %v", word, l.IsCoast())
		}
	}
	l := full()
	l.Order = -9
	if !l.IsCoast() {
		t.Error("order -9 is no coast")
	}
	setCoast(&l)
	nan := math.NaN()
	want := Centerline{ID: "i", Name: "n", File: "f", Row: 3, Path: l.Path, Sequence: nan, FlowShare: geo.Share(nan), MeanVelocity: geo.MetersPerSecond(nan), Drainage: geo.SquareKilometers(nan), Discharge: geo.CubicMetersPerSecond(nan), MeanDischarge: geo.CubicMetersPerSecond(nan),
		Slope: nan, BarrierPass: geo.Share(nan), LocalArea: geo.SquareKilometers(nan), FeatureType: "t", Coast: true}
	if diff := cmp.Diff(fmt.Sprintf("%+v", want), fmt.Sprintf("%+v", l)); diff != "" { // NaN is not NaN
		t.Errorf("(-want +got)\n%s", diff)
	}
}
