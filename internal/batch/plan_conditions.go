package batch

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"driftreach/internal/check"
	"driftreach/internal/plan"
	"driftreach/internal/settings"
	"driftreach/internal/treatable"
)

// readConditions finds when and how stands may be treated, and reports rows that match no stand.
func (c *computation) readConditions() (err error) {
	if c.terms, err = c.conditions(); err != nil {
		return err
	}
	for at := range c.run.Stands {
		c.run.Stands[at].Treatable = c.terms.rules[at]
	}
	c.report(c.terms.unknown()...)
	return nil
}

// conditions finds the rows for each stand: by its id, and by every parcel of its records.
func (c *computation) conditions() (*conditions, error) {
	t := &conditions{c: c, rules: make([][]treatable.Rule, len(c.run.Stands)), used: make([]bool, len(c.in.Treatable)), column: -1}
	if name := c.rules.FactorOf; name != "" && c.rules.Plan.Budget > 0 {
		if t.column = slices.IndexFunc(c.in.ExtraColumns, func(own string) bool { return strings.EqualFold(own, name) }); t.column < 0 {
			return nil, &settings.Error{
				Problem: fmt.Sprintf("plan.factor_column is %q, and the points have no such column of their own", name),
				Remedy:  "name a column of the points that is none of this program's fields, or leave it blank",
			}
		}
	}
	for q, quarter := 0, c.in.Quarter; q < c.rules.Plan.Quarters; q++ {
		quarter = quarter.Next()
		t.planned = append(t.planned, quarter)
	}
	byStand, byParcel := map[string][]int32{}, map[string][]int32{}
	for k := range c.in.Treatable {
		if r := &c.in.Treatable[k]; r.StandID != "" {
			byStand[r.StandID] = append(byStand[r.StandID], int32(k))
		} else {
			byParcel[r.Parcel] = append(byParcel[r.Parcel], int32(k))
		}
	}
	for at := range c.run.Stands {
		rows := slices.Clone(byStand[c.run.Stands[at].ID])
		var parcels []string
		members := c.run.Stands[at].Members
		if len(byParcel) == 0 {
			members = nil // nothing is said of any parcel
		}
		for _, m := range members {
			if p := c.in.Records.At(int(m)).Parcel(); p != "" && !slices.Contains(parcels, p) {
				parcels = append(parcels, p)
				rows = append(rows, byParcel[p]...)
			}
		}
		slices.Sort(rows)
		for _, k := range rows {
			t.used[k] = true
			t.rules[at] = append(t.rules[at], c.in.Treatable[k])
		}
	}
	return t, nil
}

// unknown reports rows that match no stand on the map.
func (t *conditions) unknown() []check.Finding {
	var out []check.Finding
	for k, used := range t.used {
		if !used {
			out = append(out, t.c.in.Treatable[k].Unknown())
		}
	}
	return out
}

// windows returns when a stand may be treated, by planned quarter; nil for any day.
func (t *conditions) windows(at int32) []plan.Window {
	if len(t.rules[at]) == 0 {
		return nil
	}
	out := make([]plan.Window, len(t.planned))
	for q, quarter := range t.planned {
		out[q].From, out[q].To, out[q].Why = treatable.Window(t.rules[at], quarter.Begin(), quarter.End())
	}
	return out
}

// factor returns the cost factor of a stand's acres. It is the largest factor in the stand's rows times
// the largest factor of a word for access or method, in those rows or in the extra column of the
// points.
func (t *conditions) factor(at int32) float64 {
	own, byWord := math.Inf(-1), math.Inf(-1)
	word := func(text string) {
		if f, known := t.c.rules.Factors[strings.ToLower(strings.TrimSpace(text))]; known {
			byWord = max(byWord, f)
		}
	}
	for _, r := range t.rules[at] {
		if !math.IsNaN(r.Factor) {
			own = max(own, r.Factor)
		}
		word(r.Access)
		word(r.Method)
	}
	if t.column >= 0 {
		for _, m := range t.c.run.Stands[at].Members {
			if text, told := t.c.in.Records.At(int(m)).Carried(t.column); told {
				word(text)
			}
		}
	}
	factor := 1.0
	for _, f := range []float64{own, byWord} {
		if !math.IsInf(f, -1) {
			factor *= f
		}
	}
	return factor
}
