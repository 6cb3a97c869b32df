package knapsack

import (
	"bufio"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// instance is one of testdata/knapsack, with results of HiGHS (scipy 1.10, milp), made by
// scripts/oracle_knapsack.py.
type instance struct {
	Name    string
	Items   []Item
	Budgets []float64
	Best    []float64
	Relaxed []float64 // of the linear relaxation
	Pit     float64   // newman1: the best without a budget
}

func readAnswers(t *testing.T, name string, into any) {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("..", "..", "testdata", "knapsack", name))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, into); err != nil {
		t.Fatal(err)
	}
}

// On a worked example and instances of up to 200 items, the best sets are those of HiGHS, and the
// bound of nested sets is the linear relaxation: no gap is left.
func TestBestIsThatOfHiGHS(t *testing.T) {
	var all []instance
	readAnswers(t, "sets.json", &all)
	if len(all) < 8 {
		t.Fatalf("%d instances", len(all))
	}
	for _, one := range all {
		pieces := Nested(one.Items, Options{})
		for k, budget := range one.Budgets {
			c := Best(one.Items, budget, Options{})
			if !c.Exact || math.Abs(c.Value-one.Best[k]) > 1e-6*max(1, math.Abs(one.Best[k])) || c.Cost > budget || gapOf(c) != 0 {
				t.Errorf("%s, budget %g: %g of %g for %g, exact %v; HiGHS has %g", one.Name, budget, c.Value, c.Bound, c.Cost, c.Exact, one.Best[k])
			}
			if got := boundOf(pieces, budget); math.Abs(got-one.Relaxed[k]) > 1e-6*max(1, math.Abs(got)) {
				t.Errorf("%s, budget %g: the nested sets' bound is %g, the linear relaxation %g", one.Name, budget, got, one.Relaxed[k])
			}
		}
	}
}

// Published: without a budget the pit of "Opencast mining" (Gueret, Prins & Sevaux, chapter 6) has
// a value of 4 000 000 dollars, here in units of 10 000.
func TestOpencastMining(t *testing.T) {
	var all []instance
	readAnswers(t, "sets.json", &all)
	if c := Best(all[0].Items, 18, Options{}); all[0].Name != "Opencast mining" || c.Value != 400 || !c.Exact {
		t.Errorf("%s: %+v, want 400", all[0].Name, c)
	}
}

// MineLib's newman1, 1060 blocks: the pit without a budget has the published value 26 086 899, the
// best sets at 5 to 50 % of the tonnes are those of HiGHS, and the bound of nested sets is the
// linear relaxation.
func TestNewman1(t *testing.T) {
	folder := os.Getenv("DRIFTREACH_DATA")
	if folder == "" {
		folder = filepath.Join("..", "..", "..", "shared", "data")
	}
	stem := filepath.Join(folder, "minelib", "newman1")
	if _, err := os.Stat(stem + ".upit"); err != nil {
		t.Skip("no minelib/newman1.upit, .prec and .blocks there: DRIFTREACH_DATA names the folder of published data; Opencast mining is checked without it")
	}
	var want instance
	readAnswers(t, "newman1.json", &want)
	items := readMine(t, stem)
	total := totalCost(items)
	if c := Best(items, total, Options{}); len(items) != 1060 || math.Abs(c.Value-26_086_899) > 1 || !c.Exact || math.Abs(c.Value-want.Pit) > 1 {
		t.Errorf("%d blocks, the pit is worth %.2f, exact %v", len(items), c.Value, c.Exact)
	}
	for k, budget := range want.Budgets {
		c := Best(items, budget, Options{})
		t.Logf("%.0f t: %.0f, HiGHS %.0f, bound %.0f", budget, c.Value, want.Best[k], c.Bound)
		if !c.Exact || c.Cost > budget || math.Abs(c.Value/want.Best[k]-1) > 1e-6 {
			t.Errorf("%.0f t: %.0f for %.0f t, bound %.0f, HiGHS %.0f", budget, c.Value, c.Cost, c.Bound, want.Best[k])
		}
		if got := boundOf(Nested(items, Options{}), budget); math.Abs(got/want.Relaxed[k]-1) > 1e-6 {
			t.Errorf("%.0f t: bound of nested sets %.0f, linear relaxation %.0f", budget, got, want.Relaxed[k])
		}
	}
}

// readMine reads a MineLib instance: value, tonnes and blocks needed.
func readMine(t *testing.T, stem string) []Item {
	t.Helper()
	var items []Item
	each := func(ending string, do func(block int, fields []string)) {
		file, err := os.Open(stem + ending)
		if err != nil {
			t.Fatal(err)
		}
		defer file.Close()
		for lines := bufio.NewScanner(file); lines.Scan(); {
			fields := strings.Fields(lines.Text())
			if block, err := strconv.Atoi(fields[0]); err == nil {
				for len(items) <= block {
					items = append(items, Item{})
				}
				do(block, fields)
			}
		}
	}
	number := func(s string) float64 { x, _ := strconv.ParseFloat(s, 64); return x }
	each(".upit", func(block int, f []string) { items[block].Value = number(f[1]) })
	each(".blocks", func(block int, f []string) { items[block].Cost = number(f[6]) })
	each(".prec", func(block int, f []string) {
		for _, need := range f[2:] {
			items[block].Needs = append(items[block].Needs, int32(number(need)))
		}
	})
	return items
}

// A larger budget never gives a lower value, for many budgets at once and one by one.
func TestMoreBudgetNeverLess(t *testing.T) {
	var all []instance
	readAnswers(t, "sets.json", &all)
	for _, one := range all[1:5] {
		var budgets []float64
		for k := range 60 {
			budgets = append(budgets, float64(k)/59*totalCost(one.Items))
		}
		last := math.Inf(-1)
		for k, c := range Curve(one.Items, budgets, Options{Nodes: 20}) {
			if c.Value < last || c.Cost > budgets[k] || c.Value > c.Bound {
				t.Errorf("%s: %+v after %g", one.Name, c, last)
			}
			last = c.Value
		}
		last = math.Inf(-1)
		for _, budget := range budgets {
			c := Best(one.Items, budget, Options{})
			if c.Value < last-1e-9 || !c.Exact {
				t.Errorf("%s, budget %g: %g after %g, exact %v", one.Name, budget, c.Value, last, c.Exact)
			}
			last = c.Value
		}
	}
}
