package earlier

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/lineage"
	"driftreach/internal/mapfile"
	"driftreach/internal/result"
	"driftreach/internal/settings"
	"driftreach/internal/stand"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
	"driftreach/internal/trend"
	"driftreach/internal/unit"
)

// batchOf is a batch whose stands have these acres now, and had those as printed.
func batchOf(acres ...[2]float64) *Batch {
	p := &Batch{}
	for i, a := range acres {
		p.Known = append(p.Known, lineage.Known{Stand: stand.Stand{ID: fmt.Sprint("s", i), Infested: geo.Acres(a[0]).SquareMeters()}})
		p.Then = append(p.Then, result.Then{Infested: geo.Acres(a[1]).SquareMeters().Grains()})
	}
	return p
}

// TestWhatMeasuringAgainDid: the words for the acres of the batch before under the present rules, by
// hand: the same, the same in all, another sum. A stand that was not detected then does not count.
func TestWhatMeasuringAgainDid(t *testing.T) {
	same, shifted, other := batchOf([2]float64{1, 1}, [2]float64{2, 2}), batchOf([2]float64{1.5, 1}, [2]float64{2, 2.5}, [2]float64{1, 1}), batchOf([2]float64{1, 1}, [2]float64{2.25, 2})
	for want, p := range map[string]*Batch{
		"the infested acres of its stands are the same under the present ones":                                                            same,
		"its infested acres are the same under the present ones in all, but not those of 2 stands, and the difference counts as restated": shifted,
		"its 3.00 infested acres are 3.25 under the present ones, and the difference counts as restated":                                  other,
	} {
		if got := p.restatement(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	other.Known[1].Absent = true
	if got := other.restatement(); !strings.HasPrefix(got, "the infested acres of its stands are the same") {
		t.Errorf("without the stand that was gone: %q", got)
	}
}

// TestNotesOnTheBatchBefore: what else may have changed figures, by hand: a quarter left out, another
// program, other settings; and nothing where all is the same.
func TestNotesOnTheBatchBefore(t *testing.T) {
	q := survey.Quarter{Year: 2026, Number: 1}
	begin := func() (*opened, *Now) {
		s := settings.Default()
		return &opened{quarter: q, from: Folder{Name: "out/2026Q1", Version: "1.0"}, maker: mapfile.Maker{Version: "1.0", Format: mapfile.Format}, settings: s.AsMap()}, &Now{Quarter: q.Next(), Settings: s}
	}
	for _, c := range []struct {
		name   string
		change func(e *opened, now *Now)
		want   string
	}{
		{"nothing", func(*opened, *Now) {}, ""},
		{"a quarter left out", func(_ *opened, now *Now) { now.Quarter = now.Quarter.Next() }, "1 quarter without a batch lies between the batch before, of 2026Q1, and this one"},
		{"a year left out", func(_ *opened, now *Now) { now.Quarter = survey.Quarter{Year: 2027, Number: 2} }, "4 quarters without a batch lie between the batch before, of 2026Q1, and this one"},
		{"another version", func(e *opened, _ *Now) { e.maker.Version = "0.9" }, "the batch before was made by driftreach 0.9 in format"},
		{"another format", func(e *opened, _ *Now) { e.maker.Format-- }, fmt.Sprintf("the batch before was made by driftreach 1.0 in format %d, and this is 1.0, format %d;", mapfile.Format-1, mapfile.Format)},
		{"other settings", func(_ *opened, now *Now) { now.Settings.Aquatic.Setback++ }, "the batch before was made with other settings: aquatic.setback_m;"},
	} {
		e, now := begin()
		c.change(e, now)
		var said []string
		for _, f := range e.notes(batchOf([2]float64{1, 1}), now) {
			said = append(said, f.Message)
		}
		if got := strings.Join(said, "\n"); (got == "") != (c.want == "") || !strings.HasPrefix(got, c.want) || strings.Contains(got, "\n") {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// TestAnotherArea: a batch before is of another area if more than half of its stands are more than 20
// km from every stream; by hand, along a parallel, where a degree is 111.3 km.
func TestAnotherArea(t *testing.T) {
	streams := []stream.Centerline{{Path: orb.LineString{{10, 0}, {10, 1}}}}
	at := func(km ...float64) (known []lineage.Known) {
		for _, k := range km {
			known = append(known, lineage.Known{Stand: stand.Stand{Center: orb.Point{10 + k/111.32, 0.5}}})
		}
		return known
	}
	e := &opened{from: Folder{Name: "out/before"}}
	for _, c := range []struct {
		known   []lineage.Known
		streams []stream.Centerline
		off     int
		other   bool
	}{
		{at(0, 1, 19.9), streams, 0, false}, {at(0, 20.2), streams, 1, false}, {at(0, 25, 30), streams, 2, true}, {at(25), streams, 1, true}, {at(25), nil, 1, false}, {nil, streams, 0, false},
		{at(-19.9, -20.2, -300), streams, 2, true}, {at(5, 6, 25, 26), streams, 2, false},
	} {
		if got := farFrom(pathsOf(c.streams), middlesOf(c.known)); got != c.off {
			t.Errorf("%d of %d stands are far, want %d", got, len(c.known), c.off)
		}
		err := e.sameArea(c.known, c.streams)
		if (err != nil) != c.other {
			t.Errorf("%d stands, %d far: %v", len(c.known), c.off, err)
		}
		if err != nil && !strings.Contains(err.Error(), fmt.Sprintf("the earlier batch out/before: it is of another area: %d of its %d stands are more than 20 km from every stream", c.off, len(c.known))) {
			t.Error(err)
		}
	}
}

// TestOtherUnits: whether units differ from those of the batch before: by their files, or because one
// of the present ones had no row then. Without units now or then there is nothing to compare.
func TestOtherUnits(t *testing.T) {
	h := result.History{Columns: []string{"scope", "quarter", "unit_id"}, Rows: [][]string{
		{"total", "2026Q1", ""}, {"unit", "2026Q1", "u1"}, {"unit", "2026Q1", "'=u2"}, {"unit", "2025Q4", "u3"}, {"outsideUnits", "2026Q1", ""},
	}}
	for _, c := range []struct {
		name string
		now  []unit.Unit
		then []string // digests of the files then
		file string   // and of the file now
		want bool
	}{
		{"the same", []unit.Unit{{ID: "u1"}, {ID: "=u2"}}, []string{"x"}, "x", false}, {"fewer", []unit.Unit{{ID: "u1"}}, []string{"x"}, "x", false},
		{"another one", []unit.Unit{{ID: "u1"}, {ID: "u3"}}, []string{"x"}, "x", true}, {"another file", []unit.Unit{{ID: "u1"}, {ID: "=u2"}}, []string{"y"}, "x", true},
		{"none now", nil, []string{"x"}, "", false}, {"none then", []unit.Unit{{ID: "u1"}}, nil, "x", false},
	} {
		e := &opened{quarter: survey.Quarter{Year: 2026, Number: 1}, water: WaterSums{Files: map[string][]string{"units": c.then}}}
		now := &Now{Units: c.now, Water: WaterSums{Files: map[string][]string{"units": {c.file}}}}
		if got := e.otherUnits(&Batch{History: h}, now); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}

// TestTracesOfStands: of a batch that recorded no changes each stand has a trace for its stream and one
// for any unit, which say that its share is not known. What corrections took back goes to the trend in
// its unit, and what still counts does not.
func TestTracesOfStands(t *testing.T) {
	q := survey.Quarter{Year: 2026, Number: 1}
	p := batchOf([2]float64{1, 1}, [2]float64{1, 1}, [2]float64{1, 1})
	p.Known[0].StreamID, p.Known[0].WaterBody, p.Known[1].StreamID = "la", "Alder Creek", "lb"
	var got []string
	for _, c := range (&opened{quarter: q}).tracesOf(p) {
		got = append(got, fmt.Sprintf("%s %s %s %q %v", c.StandID, c.Quarter, c.Scope, c.Name, c.Shared))
	}
	want := []string{
		`s0 2026Q1 waterBody "Alder Creek" true`, `s0 2026Q1 unit "" true`, `s1 2026Q1 unnamed "" true`, `s1 2026Q1 unit "" true`, `s2 2026Q1 noStream "" true`, `s2 2026Q1 unit "" true`,
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
	rows := []result.LookChange{{StandID: "a", Quarter: q, Scope: result.WaterBody, Name: "Alder Creek"}, {StandID: "b", Quarter: q, Scope: result.InUnit, UnitID: "u1", Name: "East", Shared: true, TakenBack: q.Next()}}
	back := TakenBack(rows)
	if d := cmp.Diff([]trend.TakenBack{{Taken: q.Next(), Quarter: q, StandID: "b", Scope: result.InUnit, Name: "East", UnitID: "u1", Shared: true}}, back); d != "" {
		t.Error(d)
	}
}
