package main

import (
	"encoding/csv"
	"encoding/json"
	"html"
	"math/big"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// rounded applies the rule for acres again, in exact arithmetic: to two decimals; below a tenth, to
// four; below that, to the first significant digit; half away from zero; 0 stays 0.
func rounded(exact string) string {
	v, ok := new(big.Rat).SetString(exact)
	if !ok || v.Sign() == 0 {
		return "0"
	}
	places := 2
	if new(big.Rat).Abs(v).Cmp(big.NewRat(1, 10)) < 0 {
		places = 4
	}
	for strings.Trim(v.FloatString(places), "-0.") == "" {
		places++
	}
	text := v.FloatString(places)
	for strings.HasSuffix(text, "0") && len(text[strings.Index(text, "."):]) > 3 {
		text = text[:len(text)-1] // 0.06, and 0.10 of what was rounded up to it
	}
	return text
}

// acreTables returns every figure in acres in the folders' tables and in the layers of the first
// folder, keyed by its rounded text, with its exact digits; and the rows of the first folder's
// stands.csv by stand.
func acreTables(t *testing.T, dirs ...string) (all map[string]string, stands map[string]map[string]string) {
	t.Helper()
	all, stands = map[string]string{}, map[string]map[string]string{}
	for d, dir := range dirs {
		files, err := filepath.Glob(filepath.Join(dir, "*.csv"))
		if err != nil || len(files) == 0 {
			t.Fatal(dir, err)
		}
		for _, name := range files {
			f, err := os.Open(name)
			if err != nil {
				t.Fatal(err)
			}
			rows, err := csv.NewReader(f).ReadAll()
			f.Close()
			if err != nil {
				t.Fatal(name, err)
			}
			for _, row := range rows[1:] {
				own := map[string]string{}
				for k, cell := range row {
					own[rows[0][k]] = cell
					of := rows[0][k] + filepath.Base(name) // plans in acres, and trends, have columns without the word
					if _, ok := new(big.Rat).SetString(cell); ok && !strings.ContainsAny(cell, "/eE") && regexp.MustCompile("acres|plan|trend.csv").MatchString(of) {
						all[strings.TrimPrefix(rounded(cell), "-")] = cell
					}
				}
				if before, _ := new(big.Rat).SetString(own["previous_acres"]); before != nil && own["scope"] == "total" { // the change in all
					now, _ := new(big.Rat).SetString(own["infested_acres"])
					all[strings.TrimPrefix(rounded(now.Sub(now, before).FloatString(10)), "-")] = "change"
				}
				if filepath.Base(name) == "stands.csv" && d == 0 {
					stands[own["stand_id"]] = own
				}
			}
		}
	}
	layers, _ := filepath.Glob(filepath.Join(dirs[0], "*.geojson"))
	for _, name := range layers {
		b, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range regexp.MustCompile(`"[a-z_]*acres[a-z0-9_]*": ?(-?[\d.]+)`).FindAllSubmatch(b, -1) {
			all[strings.TrimPrefix(rounded(string(m[1])), "-")] = string(m[1])
		}
	}
	return all, stands
}

// acresText reads files of a folder as text, without markup around figures.
func acresText(t *testing.T, dir string) func(name string) string {
	return func(name string) string {
		b, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		return strings.NewReplacer("\u202f", "", "−", "-", "+", "").Replace(string(b))
	}
}

// A figure is rounded in the same way everywhere a person reads it: in the page's sentences, cards
// and tables, in the KML balloons, on the crew's sheets, in the plan's chart and in the calendar.
// The exact digits are those of the tables.
func TestAcresAreRoundedInOneWay(t *testing.T) {
	demo := demoToRead(t)
	dir := filepath.Join(demo, "2026Q3")
	all, _ := acreTables(t, dir, filepath.Join(demo, "trend"), filepath.Join(demo, "2026Q2"))
	read := acresText(t, dir)
	page := read("report.html")

	// every figure of a table's column in acres, and of a card in acres, against its exact value
	figure := regexp.MustCompile(`<data value="([^"]*)">([^<]*)</data>`)
	cells, cards := 0, 0
	for _, table := range regexp.MustCompile(`(?s)<table id.*?</table>`).FindAllString(page, -1) {
		heads := regexp.MustCompile(`<th scope="col"[^>]*>(.*?)</th>`).FindAllStringSubmatch(table, -1)
		whole := strings.Contains(table, `id="ever-table"`) || strings.Contains(table, `id="change-table"`)
		for _, row := range regexp.MustCompile(`(?s)<tr.*?</tr>`).FindAllString(table, -1) {
			for k, cell := range regexp.MustCompile(`(?s)<t[dh](?: class="num"| scope="row"|)[^>]*>(.*?)</t[dh]>`).FindAllStringSubmatch(row, -1) {
				m := figure.FindStringSubmatch(cell[1])
				if m == nil || k >= len(heads) || m[1] == "" || !strings.Contains(strings.ToLower(heads[k][1]), "acres") && !(whole && regexp.MustCompile(`^20\d\dQ\d$`).MatchString(heads[k][1])) {
					continue
				}
				cells++
				if m[2] != rounded(m[1]) {
					t.Errorf("table column %q: %s is shown as %s, want %s", heads[k][1], m[1], m[2], rounded(m[1]))
				}
			}
		}
	}
	for _, m := range regexp.MustCompile(`<data value="([^"]*)">([^<]*)</data> <span>acres</span>`).FindAllStringSubmatch(page, -1) {
		if cards++; m[2] != rounded(m[1]) {
			t.Errorf("card: %s is shown as %s, want %s", m[1], m[2], rounded(m[1]))
		}
	}
	if cells < 100 || cards < 4 {
		t.Errorf("%d figures in tables and %d in cards were found", cells, cards)
	}

	// every acreage in a sentence is the rounded value of a table
	said := regexp.MustCompile(`([\d.]*\d) (?:infested |live |gross )?acres\b`)
	for name, text := range map[string]string{"report.html": page, "crew.html": read("crew.html"), "map.kml": read("map.kml"), "order.svg": read("order.svg"), "plan.svg": read("plan.svg"), "followup.ics": read("followup.ics")} {
		text = regexp.MustCompile(`(?s)<table id="assumed-table".*?</table>`).ReplaceAllString(text, "") // the settings' own words
		text = html.UnescapeString(regexp.MustCompile(`</?(data|span|b|bdi)\b[^>]*>`).ReplaceAllString(text, ""))
		found := 0
		for _, m := range said.FindAllStringSubmatch(text, -1) {
			if found++; all[m[1]] == "" && m[1] != "2.00" { // the plan's budget is in no table
				t.Errorf("%s tells of %s acres, which no table rounds to", name, m[1])
			}
		}
		if name != "plan.svg" && name != "followup.ics" && found == 0 {
			t.Errorf("%s tells of no acres", name)
		}
	}
}

// Names of stands in the KML, and the cards of the map, have the rounded acres of the stand's row
// in stands.csv.
func TestAcresOfStandsOnMaps(t *testing.T) {
	demo := demoToRead(t)
	dir := filepath.Join(demo, "2026Q3")
	_, stands := acreTables(t, dir)
	read := acresText(t, dir)
	for _, m := range regexp.MustCompile(`<name>(?:\d+\. )?(20\d\dQ\d-\d{4}) \(([\d.]+) acres\)`).FindAllStringSubmatch(read("map.kml"), -1) {
		if want := rounded(stands[m[1]]["infested_acres"]); m[2] != want {
			t.Errorf("map.kml: %s has %s acres, want %s", m[1], m[2], want)
		}
	}
	_, text, _ := strings.Cut(read("map.html"), `<script type="application/json" id="data">`)
	text, _, _ = strings.Cut(text, "</script>")
	var data struct {
		Labels []string
		Stands []struct {
			ID string   `json:"id"`
			V  []string `json:"v"`
		}
	}
	if err := json.Unmarshal([]byte(text), &data); err != nil {
		t.Fatal(err)
	}
	columns := map[string]string{"Infested area": "infested_acres", "Gross area": "gross_acres", "Canopy area": "canopy_acres", "Infested area, P10": "infested_acres_p10", "Infested area, P90": "infested_acres_p90"}
	shown := 0
	for _, s := range data.Stands {
		for k, label := range data.Labels {
			if column := columns[label]; column != "" {
				if shown++; s.V[k] != rounded(stands[s.ID][column])+" acres" {
					t.Errorf("map.html: %s of %s is %s, want %s acres", label, s.ID, s.V[k], rounded(stands[s.ID][column]))
				}
			}
		}
	}
	if shown < 5*80 {
		t.Errorf("%d figures on cards", shown)
	}
}
