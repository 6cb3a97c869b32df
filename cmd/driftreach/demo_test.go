package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"driftreach/internal/demo"
	"driftreach/internal/lineage"
	"driftreach/internal/trend"
)

// chain is the content of the demo's batches, read from their files.
type chain struct {
	t   *testing.T
	dir string
	s   demo.Scenario
}

// properties reads the features of a quarter's file.
func (c chain) properties(quarter, file string) []map[string]any {
	c.t.Helper()
	text, err := os.ReadFile(filepath.Join(c.dir, quarter, file))
	if err != nil {
		c.t.Fatal(err)
	}
	var all struct {
		Features []struct{ Properties map[string]any }
	}
	if err := json.Unmarshal(text, &all); err != nil {
		c.t.Fatal(err)
	}
	var out []map[string]any
	for _, f := range all.Features {
		out = append(out, f.Properties)
	}
	return out
}

// table reads a CSV by column.
func (c chain) table(text []byte) []map[string]string {
	c.t.Helper()
	rows, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	if err != nil {
		c.t.Fatal(err)
	}
	var out []map[string]string
	for _, cells := range rows[1:] {
		row := map[string]string{}
		for i, name := range rows[0] {
			row[name] = cells[i]
		}
		out = append(out, row)
	}
	return out
}

// identities returns, by colony, the stands with its records and their number, for a quarter
// counted from 0. Records with a repeated id are left out.
func (c chain) identities(quarter int) map[string]map[string]int {
	files := c.s.Quarters[quarter]
	of, times := map[string]string{}, map[string]int{}
	for i, row := range c.table(files.Points) {
		of[row["occurrenceID"]] = files.Colonies[i]
		times[row["occurrenceID"]]++
	}
	out := map[string]map[string]int{}
	for _, p := range c.properties(files.Quarter, "points.geojson") {
		record, _ := p["occurrenceID"].(string)
		stand, _ := p["stand_id"].(string)
		colony := of[record]
		if times[record] != 1 || stand == "" {
			continue
		}
		if out[colony] == nil {
			out[colony] = map[string]int{}
		}
		out[colony][stand]++
	}
	return out
}

// The demo's batches compared with its truth: a colony found in two quarters has an identity in
// common, and one that nobody visited is a carried stand with its previous identity and acres.
func TestDemoKeepsIdentitiesAndCarriesWhatWasMissed(t *testing.T) {
	c := chain{t, demoToRead(t), demo.Make(1)}
	last := map[string]map[string]int{}
	acres := map[string]any{}
	same, carried, joins := 0, 0, map[string]int{}
	for _, truth := range c.s.Truths {
		if truth.Joined > 0 { // one of two merged colonies continues under the identity of the other
			joins[truth.Colony], joins[truth.Joins] = truth.Joined, truth.Joined
		}
	}
	for q, files := range c.s.Quarters {
		now := c.identities(q)
		stands := map[string]map[string]any{}
		for _, p := range c.properties(files.Quarter, "stands.geojson") {
			stands[p["stand_id"].(string)] = p
		}
		for _, truth := range c.s.Truths {
			joined := joins[truth.Colony] > 0 && joins[truth.Colony] == q
			switch {
			case joined || len(last[truth.Colony]) == 0:
			case truth.Sights[q] == demo.Found && len(now[truth.Colony]) > 0:
				same++
				if !meet(last[truth.Colony], now[truth.Colony]) {
					t.Errorf("%s: %s was %v and is %v", files.Quarter, truth.Colony, last[truth.Colony], now[truth.Colony])
				}
			case truth.Sights[q] == demo.Missed && truth.Sights[q-1] == demo.Found:
				for id := range last[truth.Colony] {
					carried++
					p := stands[id]
					if p["carried"] != true || p["change"] != string(lineage.NotResurveyed) || p["infested_acres"] != acres[id] {
						t.Errorf("%s: %s of %s is %v with %v acres, had %v", files.Quarter, id, truth.Colony, p["change"], p["infested_acres"], acres[id])
					}
				}
			}
			if len(now[truth.Colony]) > 0 {
				last[truth.Colony] = now[truth.Colony]
			}
		}
		for id, p := range stands {
			acres[id] = p["infested_acres"]
		}
	}
	// Derived by hand: most of some hundred colonies in each of seven quarters; five
	// walks missed, of some fifty stands.
	if same < 500 || carried < 25 {
		t.Errorf("%d identities looked at, and %d carried", same, carried)
	}
}

func meet(some, others map[string]int) bool {
	for id := range some {
		if others[id] > 0 {
			return true
		}
	}
	return false
}

// In every quarter, in total and by stream and unit, the previous acres and the parts of change
// (restated, observed, new, found again, first looked at, not detected) add up to the present
// acres, to the last digit.
func TestDemoChangePartsAddUp(t *testing.T) {
	dir := demoToRead(t)
	checked := 0
	for _, row := range table(t, filepath.Join(dir, "2026Q3", "history.csv")) {
		if row["previous_acres"] == "" {
			continue
		}
		checked++
		parts := -fixedAcres(t, row, "not_detected_acres")
		for _, part := range []string{"previous_acres", "restated_acres", "observed_change_acres", "new_acres", "found_again_acres", "first_looked_at_acres"} {
			parts += fixedAcres(t, row, part)
		}
		if total := fixedAcres(t, row, "infested_acres"); parts != total {
			t.Errorf("%s %s %s: %d of the last decimal, the parts make %d", row["quarter"], row["scope"], row["name"], total, parts)
		}
	}
	// Seven quarters with a previous one, each with a total, three units and the rest outside them,
	// and more than ten streams.
	if checked < 7*15 {
		t.Errorf("%d rows have parts", checked)
	}
}

// fixedAcres returns a cell in units of the last decimal that acres may have.
func fixedAcres(t *testing.T, row map[string]string, column string) int64 {
	t.Helper()
	v, err := strconv.ParseFloat(row[column], 64)
	if err != nil {
		t.Fatalf("%s %s: %v", row["name"], column, err)
	}
	if v < 0 {
		return int64(v*trend.PerUnit - 0.5)
	}
	return int64(v*trend.PerUnit + 0.5)
}
