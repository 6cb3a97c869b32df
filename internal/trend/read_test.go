package trend

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"driftreach/internal/survey"
	"driftreach/internal/testkit"
)

// A unit's row is read back with its id, and parts of change with their signs.
func TestReadSummaryReadsUnitsAndParts(t *testing.T) {
	text := "scope,name,unit_id,quarter," + strings.Join(columns[:endOfParts], ",") + ",infested_since_last_look_acres,last_looks,live_off_by_look,infested_off_by_look\r\n" +
		"total,,,2026Q3,2.5,3,9,1,1,0.25,0.25,2.5,5,-0.25,-1.5,1,0.75,0.125,1.5,0.25,0.5,-2,2026Q1 1; 2026Q3 2.5,2026Q3 0.5,defaults -0.25; 2026Q1 0.3; 2026Q3 0.5\r\nunit,East,'=u1,2026Q3,3,3,9,1,1,0,0,2.5,5,0,-0.0001,0,0,0,2,0,0,,,,\r\n"
	b, err := ReadSummary(strings.NewReader(text), quarter(t, "2026Q3"))
	if err != nil {
		t.Fatal(err)
	}
	want := []Row{
		{Scope: "total", Figures: Figures{2.5e8, 3e8, 9e8, 1e8, 1e8, 0.25e8, 0.25e8, 2.5e8, 5e8, -0.25e8, -1.5e8, 1e8, 0.75e8, 0.125e8, 1.5e8, 0.25e8, 0.5e8},
			Looks: []Look{{quarter(t, "2026Q1"), 1e8}, {quarter(t, "2026Q3"), 2.5e8}}, LooksTold: true,
			Off: &[offs]*Off{{Looks: map[int]float64{8106: 0.25}}, {Defaults: -0.25, Looks: map[int]float64{8104: 0.09, 8106: 0.25}}}},
		{Scope: "unit", Name: "East", UnitID: "=u1", Figures: Figures{3e8, 3e8, 9e8, 1e8, 1e8, 0, 0, 2.5e8, 5e8, 0, -1e4, 0, 0, 0, 2e8, 0, 0}, LooksTold: true},
	}
	for i := range want { // columns missing in older batches, and blank figures
		for m := firstStep; m < endOfFields; m++ {
			want[i].Figures[m] = Blank
		}
	}
	want[0].Figures[Infested.Step()] = -2e8
	if d := cmp.Diff(want, b.Rows); d != "" {
		t.Error(d)
	}
}

// A batch of an earlier version has no live acres: they are the acres neither treated nor dead, and
// so is their change. By hand: 3 - 0.25 - 0.5, and -2 + 1 - 0.
func TestReadSummaryOfNoLiveAcres(t *testing.T) {
	text := "scope,name,unit_id,quarter," + strings.Join(columns[Infested:endOfParts], ",") + ",infested_since_last_look_acres,treated_stands_since_last_look_acres,standing_dead_since_last_look_acres\r\n" +
		"total,,,2026Q3,3,9,1,1,0.25,0.5,2.5,,,,,,,,,,-2,-1,0\r\n"
	b, err := ReadSummary(strings.NewReader(text), quarter(t, "2026Q3"))
	if err != nil {
		t.Fatal(err)
	}
	if f := b.Rows[0].Figures; f[Live] != 2.25e8 || f[Live.Step()] != -1e8 || b.Rows[0].Off != nil {
		t.Errorf("%d, %d, %v", f[Live], f[Live.Step()], b.Rows[0].Off)
	}
}

// Two units with the same name are two sections; a unit with a new name is one.
func TestUnitsAreKnownByTheirID(t *testing.T) {
	row := func(name, id string) Row { return Row{Scope: "unit", Name: name, UnitID: id} }
	h, err := Assemble([]Batch{
		{Quarter: quarter(t, "2026Q2"), Rows: []Row{{Scope: "total"}, row("East", "1"), row("West", "2"), {Scope: "outsideUnits"}}},
		{Quarter: quarter(t, "2026Q3"), Rows: []Row{{Scope: "total"}, row("East", "1"), row("East", "2"), {Scope: "outsideUnits"}}},
	}, DefaultRules())
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, s := range h.Sections {
		got = append(got, string(s.Scope)+" "+s.Name+" "+s.UnitID)
		if s.Figures[0] == nil || s.Figures[1] == nil {
			t.Errorf("%s %s has a gap", s.Name, s.UnitID)
		}
	}
	if d := cmp.Diff([]string{"total  ", "unit East 1", "unit East 2", "outsideUnits  "}, got); d != "" {
		t.Error(d)
	}
}

// In any summary that is read, only signed figures are negative, and the first row is the total.
func FuzzReadSummary(f *testing.F) {
	f.Add([]byte("scope,name,unit_id,quarter," + strings.Join(columns[:endOfParts], ",") + ",last_looks,live_off_by_look,infested_off_by_look\r\ntotal,,,2026Q3,1,1,1,1,1,0,0,2.5,2,0,-1.5,1,0,0,0.5,0,0,2026Q2 1; 2026Q3 0,2026Q3 0.5,defaults -0.1; 2026Q2 0.2\r\nunit,East,u1,2026Q3,1,1,1,1,1,0,0,2.5,,,,,,,,,,,,\r\n"))
	f.Add([]byte("scope,name\r\n"))
	for _, summary := range testkit.Stored(f, "../cmd/driftreach/testdata/earlier/*/summary.csv") {
		f.Add(summary)
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		b, err := ReadSummary(bytes.NewReader(text), survey.Quarter{Year: 2026, Number: 3})
		if err != nil {
			return
		}
		if b.Rows[0].Scope != "total" {
			t.Fatal("no total")
		}
		for _, r := range b.Rows {
			for m, v := range r.Figures {
				blank, below := v == Blank && !Measure(m).isLevel(), v < 0 && v > -1<<53 && Measure(m).signed()
				if (v < 0 || v >= 1<<53) && !blank && !below {
					t.Fatalf("figure %d", v)
				}
			}
		}
	})
}

// The share of the infested acres on default patches, by hand: 1 of 4 acres; nothing where a batch does
// not tell, or has no acres.
func TestReadSummaryOfDefaults(t *testing.T) {
	read := func(infested, more, cell string) (Batch, error) {
		text := "scope,name,unit_id,quarter," + strings.Join(columns[Infested:endOfParts], ",") + more + "\r\ntotal,,,2026Q3," + infested + ",9,1,1,0,0,2.5,,,,,,,,," + cell + "\r\n"
		return ReadSummary(strings.NewReader(text), quarter(t, "2026Q3"))
	}
	for _, c := range []struct {
		infested, more, cell string
		want                 float64
	}{{"4", ",assumed_acres", ",1", 0.25}, {"4", ",assumed_acres", ",0", 0}, {"4", ",assumed_acres", ",", math.NaN()}, {"0", ",assumed_acres", ",0", math.NaN()}, {"4", "", "", math.NaN()}} {
		b, err := read(c.infested, c.more, c.cell)
		if err != nil || b.DefaultShare != c.want && !(math.IsNaN(c.want) && math.IsNaN(b.DefaultShare)) {
			t.Errorf("%+v: %v, %v", c, b.DefaultShare, err)
		}
	}
	if _, err := read("4", ",assumed_acres", ",many"); err == nil || !strings.Contains(err.Error(), `assumed_acres: "many"`) {
		t.Errorf("a word: %v", err)
	}
}
