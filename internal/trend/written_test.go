package trend_test

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"driftreach/geo"
	"driftreach/internal/field"
	"driftreach/internal/mapfile"
	"driftreach/internal/result"
	"driftreach/internal/stand"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
	"driftreach/internal/trend"
)

var third = survey.Quarter{Year: 2026, Number: 3}

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
		b, err := trend.ReadSummary(bytes.NewReader(written(t, name)), third)
		if err != nil {
			t.Fatal(err)
		}
		want := trend.Figures{0, 3e8, 4e8, 1.25e8, 2e8, 2.5e8, 0.5e8}
		for m := len(trend.Measures()); m < len(want); m++ {
			want[m] = trend.Blank
			for _, of := range []trend.Measure{trend.Live, trend.Infested, trend.Gross, trend.Canopy} { // a fixture that is off by nothing
				if name := trend.Measure(m).Column(); name == of.Column()+"_p10" || name == of.Column()+"_p90" {
					want[m] = want[of]
				}
			}
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

// Every measure is a column of the data dictionary, with the same unit.
func TestMeasuresAreOfTheDictionary(t *testing.T) {
	units := map[string]string{}
	for _, table := range result.Tables(&result.Run{WorkGiven: true}) {
		for _, f := range table.Fields {
			if table.Name == "summary" {
				units[f.Name] = string(f.Unit)
			}
		}
	}
	for _, m := range slices.Concat(trend.Measures(), trend.Parts(), trend.Work()) {
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
	if work != len(trend.Work()) {
		t.Errorf("%d columns of acres treated in the dictionary, %d measures", work, len(trend.Work()))
	}
	if result.MostAcreDecimals != trend.Decimals || result.Kilometers.Decimals() > trend.Decimals {
		t.Error("figures of the dictionary have other decimals")
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
		if _, err := trend.ReadSummary(strings.NewReader(c.text), third); err == nil || !strings.Contains(err.Error(), c.said) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// offCell puts OFF for what live acres are off by in every row.
func offCell(summary string) string {
	lines := strings.Split(summary, "\r\n")
	at := slices.Index(strings.Split(lines[0], ","), field.LiveOffByLook)
	for i := 1; i < len(lines)-1; i++ {
		cells := strings.Split(lines[i], ",")
		cells[at] = "OFF"
		lines[i] = strings.Join(cells, ",")
	}
	return strings.Join(lines, "\r\n")
}
