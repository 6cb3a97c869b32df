package trend

import (
	"bytes"
	"strings"
	"testing"

	"driftreach/geo"
	"driftreach/internal/mapfile"
	"driftreach/internal/result"
	"driftreach/internal/stand"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
)

// written is the summary the program writes of a run with one treated and one
// standing dead stand on a stream with an awkward name; figures by hand.
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

// What the program writes comes back: names whatever is in them, figures to the
// last digit.
func TestReadSummaryReadsWhatABatchWrites(t *testing.T) {
	for _, name := range []string{"Long Water", `=HYPERLINK("x")`, "@a, b", "Ärm, \"old\"", "'quoted'"} {
		b, err := ReadSummary(bytes.NewReader(written(t, name)), quarter(t, "2026Q3"))
		if err != nil {
			t.Fatal(err)
		}
		want := Figures{40000, 30000, 12500, 20000, 25000, 5000, 0}
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

// Every measure is a column of the data dictionary with its unit, and the
// sections are its scopes.
func TestMeasuresAreOfTheDictionary(t *testing.T) {
	units := map[string]string{}
	for _, table := range result.Tables(&result.Run{}) {
		for _, f := range table.Fields {
			if table.Name == "summary" {
				units[f.Name] = string(f.Unit)
			}
		}
	}
	for _, m := range Measures() {
		if units[m.Column()] != m.Unit() || m.Label() == "" {
			t.Errorf("%s: unit %q, in the dictionary %q", m.Column(), m.Unit(), units[m.Column()])
		}
	}
	for i, s := range []result.Scope{result.Total, result.WaterBody, result.Unnamed, result.NoStream} {
		if scopes[i] != string(s) {
			t.Errorf("scope %s is %s in the dictionary", scopes[i], s)
		}
	}
	if result.Acres.Decimals() != Decimals || result.Kilometers.Decimals() != Decimals {
		t.Error("figures of the dictionary have other decimals")
	}
}

func TestReadSummaryRefuses(t *testing.T) {
	good := string(written(t, "Long Water"))
	for name, c := range map[string]struct{ text, said string }{
		"nothing":              {"", "read the header"},
		"a column gone":        {strings.Replace(good, "canopy_acres", "canopy", 1), "no column canopy_acres"},
		"another quarter":      {strings.ReplaceAll(good, "2026Q3", "2026Q2"), `line 2: quarter "2026Q2" in a batch of 2026Q3`},
		"text for a figure":    {strings.Replace(good, "1.25", "many", 1), `line 2: canopy_acres: "many"`},
		"a minus":              {strings.Replace(good, "1.25", "-1.25", 1), "canopy_acres"},
		"a figure too fine":    {strings.Replace(good, "1.25", "1.25001", 1), "canopy_acres"},
		"a figure too large":   {strings.Replace(good, "1.25", "99999999999999999999", 1), "canopy_acres"},
		"no figure":            {strings.Replace(good, "1.25", "", 1), "canopy_acres"},
		"a row cut off":        {good[:len(good)-20], "wrong number of fields"},
		"no total":             {strings.ReplaceAll(good, "total", "waterBody"), "first row is not the total"},
		"a header and no rows": {strings.SplitAfter(good, "\r\n")[0], "first row is not the total"},
	} {
		if _, err := ReadSummary(strings.NewReader(c.text), quarter(t, "2026Q3")); err == nil || !strings.Contains(err.Error(), c.said) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Whatever is read, the figures are not negative and the first row is the total.
func FuzzReadSummary(f *testing.F) {
	f.Add([]byte("scope,name,quarter,gross_acres,infested_acres,canopy_acres,zone_acres,treated_acres,standing_dead_acres,reach_at_risk_km\r\ntotal,,2026Q3,1,1,1,1,0,0,2.5\r\n"))
	f.Add([]byte("scope,name\r\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		b, err := ReadSummary(bytes.NewReader(text), survey.Quarter{Year: 2026, Number: 3})
		if err != nil {
			return
		}
		if b.Rows[0].Scope != "total" {
			t.Fatal("no total")
		}
		for _, r := range b.Rows {
			for _, v := range r.Figures {
				if v < 0 || v >= 1<<53 {
					t.Fatalf("figure %d", v)
				}
			}
		}
	})
}
