package trend

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"driftreach/geo"
	"driftreach/internal/mapfile"
	"driftreach/internal/result"
	"driftreach/internal/stand"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
	"driftreach/internal/testkit"
)

// written is the summary that the program writes for a run with one treated and one standing dead
// stand on a stream with an awkward name; figures by hand.
func written(t *testing.T, name string) []byte {
	t.Helper()
	acre := geo.Acres(1).SquareMeters()
	run := &result.Run{
		Quarter: survey.Quarter{Year: 2026, Number: 3}, Centerlines: []stream.Centerline{{ID: "s", Name: name}},
		Stands: []result.Stand{
			{Stand: stand.Stand{Status: survey.Treated, Gross: 3 * acre, Infested: 2.5 * acre, Canopy: 1.25 * acre}},
			{Stand: stand.Stand{Status: survey.StandingDead, Gross: acre, Infested: 0.5 * acre}},
		},
	}
	run.Stands[0].Zone.Area = 2 * acre
	var b bytes.Buffer
	if err := mapfile.WriteSummaryCSV(&b, run); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// What the program writes is read back the same: any names, and figures to the last digit.
func TestReadSummaryReadsWhatABatchWrites(t *testing.T) {
	for _, name := range []string{"Long Water", `=HYPERLINK("x")`, "@a, b", "Ärm, \"old\"", "'quoted'"} {
		b, err := ReadSummary(bytes.NewReader(written(t, name)), quarter(t, "2026Q3"))
		if err != nil {
			t.Fatal(err)
		}
		want := Figures{0, 3e8, 4e8, 1.25e8, 2e8, 2.5e8, 0.5e8}
		for m := levels; m < measures; m++ {
			want[m] = Blank
		}
		for k, m := range []Measure{Live, Infested, Gross, Canopy} { // a fixture that is off by nothing
			want[firstBand+Measure(2*k)], want[firstBand+Measure(2*k+1)] = want[m], want[m]
		}
		if len(b.Rows) != 2 || b.Rows[0].Scope != "total" || b.Rows[1].Name != name || b.Rows[1].Scope != "waterBody" {
			t.Errorf("%s: %+v", name, b)
		}
		for _, r := range b.Rows {
			if r.Figures != want {
				t.Errorf("%s: %v, want %v", name, r.Figures, want)
			}
		}
	}
}

// Every measure is a column of the data dictionary, with the same unit, and the sections are its
// scopes.
func TestMeasuresAreOfTheDictionary(t *testing.T) {
	units := map[string]string{}
	for _, table := range result.Tables(&result.Run{WorkGiven: true}) {
		for _, f := range table.Fields {
			if table.Name == "summary" {
				units[f.Name] = string(f.Unit)
			}
		}
	}
	for _, m := range slices.Concat(Measures(), Parts(), Work()) {
		if units[m.Column()] != m.Unit() || m.Label() == "" {
			t.Errorf("%s: unit %q, in the dictionary %q", m.Column(), m.Unit(), units[m.Column()])
		}
	}
	work := 0
	for name := range units {
		if strings.HasPrefix(name, "work_done_") && strings.HasSuffix(name, "_acres") {
			work++
		}
	}
	if work != len(Work()) {
		t.Errorf("%d columns of acres treated in the dictionary, %d measures", work, len(Work()))
	}
	for i, s := range []result.Scope{result.Total, result.WaterBody, result.Unnamed, result.NoStream, result.NoStand, result.InUnit, result.OutsideUnits, result.NoPlace} {
		if scopes[i] != string(s) {
			t.Errorf("scope %s is %s in the dictionary", scopes[i], s)
		}
	}
	if result.MostAcreDecimals != Decimals || result.Kilometers.Decimals() > Decimals {
		t.Error("figures of the dictionary have other decimals")
	}
}

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
		got = append(got, s.Scope+" "+s.Name+" "+s.UnitID)
		if s.Figures[0] == nil || s.Figures[1] == nil {
			t.Errorf("%s %s has a gap", s.Name, s.UnitID)
		}
	}
	if d := cmp.Diff([]string{"total  ", "unit East 1", "unit East 2", "outsideUnits  "}, got); d != "" {
		t.Error(d)
	}
}

func TestReadSummaryRefuses(t *testing.T) {
	good := string(written(t, "Long Water"))
	for name, c := range map[string]struct{ text, said string }{
		"nothing":              {"", "read the header"},
		"a column gone":        {strings.Replace(good, "canopy_acres", "canopy", 1), "no column canopy_acres"},
		"a new one below 0":    {strings.Replace(good, ",,,,,,", ",1,0,2,-3,0,0", 1), "new_acres"},
		"found again below 0":  {strings.Replace(good, ",,,,,,", ",1,0,2,3,-1,0", 1), "found_again_acres"},
		"first look below 0":   {strings.Replace(good, ",,,,,,", ",1,0,2,3,0,-1", 1), "first_looked_at_acres"},
		"a minus of a minus":   {strings.Replace(good, ",,,,,,", ",1,0,--2,3,0,0", 1), "observed_change_acres"},
		"another quarter":      {strings.ReplaceAll(good, "2026Q3", "2026Q2"), `line 2: quarter "2026Q2" in a batch of 2026Q3`},
		"text for a figure":    {strings.Replace(good, "1.25", "many", 1), `line 2: canopy_acres: "many"`},
		"a minus":              {strings.Replace(good, "1.25", "-1.25", 1), "canopy_acres"},
		"a figure too fine":    {strings.Replace(good, "1.25", "1.250000001", 1), "canopy_acres"},
		"a figure too large":   {strings.Replace(good, "1.25", "99999999999999999999", 1), "canopy_acres"},
		"no figure":            {strings.Replace(good, "1.25", "", 1), "canopy_acres"},
		"looks of no quarter":  {strings.Replace(good, "2026Q3 3", "lately 3", 1), `last_looks: "lately 3" is not a quarter and its acres`},
		"off by no quarter":    {strings.ReplaceAll(offCell(good), "OFF", "2026Q9 1"), `live_off_by_look: "2026Q9 1" is not a quarter and its acres`},
		"off by less than 0":   {strings.ReplaceAll(offCell(good), "OFF", "2026Q1 -1"), `live_off_by_look: "2026Q1 -1"`},
		"off by no acres":      {strings.ReplaceAll(offCell(good), "OFF", "defaults some"), `live_off_by_look: "some"`},
		"looks of no acres":    {strings.Replace(good, "2026Q3 3", "2026Q3 three", 1), `last_looks: "three"`},
		"a row cut off":        {good[:len(good)-20], "wrong number of fields"},
		"no total":             {strings.ReplaceAll(good, "total", "waterBody"), "first row is not the total"},
		"a header and no rows": {strings.SplitAfter(good, "\r\n")[0], "first row is not the total"},
	} {
		if _, err := ReadSummary(strings.NewReader(c.text), quarter(t, "2026Q3")); err == nil || !strings.Contains(err.Error(), c.said) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// offCell puts OFF for what live acres are off by in every row.
func offCell(summary string) string {
	lines := strings.Split(summary, "\r\n")
	at := slices.Index(strings.Split(lines[0], ","), offColumns[offLive])
	for i := 1; i < len(lines)-1; i++ {
		cells := strings.Split(lines[i], ",")
		cells[at] = "OFF"
		lines[i] = strings.Join(cells, ",")
	}
	return strings.Join(lines, "\r\n")
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
