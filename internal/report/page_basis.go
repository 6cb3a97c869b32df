package report

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"driftreach/internal/check"
	"driftreach/internal/field"
	"driftreach/internal/result"
)

// findings counts the findings by rule: errors first, then the most frequent.
func (c *composer) findings() (Grid, string) {
	type met struct {
		rule  check.Rule
		count int
		first string
	}
	rules := map[string]*met{}
	for i := range c.run.Findings {
		f := &c.run.Findings[i]
		m := rules[f.Rule.Code]
		if m == nil {
			m = &met{rule: f.Rule, first: f.Message}
			rules[f.Rule.Code] = m
		}
		m.count++
	}
	all := make([]*met, 0, len(rules))
	for _, m := range rules { // sorted below
		all = append(all, m)
	}
	slices.SortFunc(all, func(a, b *met) int {
		return cmp.Or(cmp.Compare(b.rule.Severity, a.rule.Severity), cmp.Compare(b.count, a.count), strings.Compare(a.rule.Code, b.rule.Code))
	})
	g := Grid{ID: "findings-table", Caption: "Findings about the input, by rule", Quiet: true, Head: heads("Finding", "Figures", "#Met", "For example", "What you can do")}
	for _, m := range all[:min(len(all), mostRules)] {
		g.Rows = append(g.Rows, Line{Cells: []Cell{
			words(m.rule.Code), words(m.rule.Severity.String() + ": " + figuresOf[m.rule.Severity]), amount(Number{Exact: fmt.Sprint(m.count), Shown: grouped(float64(m.count), 0)}),
			words(clean(m.first, longestText)), words(clean(m.rule.Remedy, longestText)),
		}})
	}
	return g, findingsNote(c.run.Findings, len(all))
}

// figuresOf says how findings of a severity affect figures.
var figuresOf = map[check.Severity]string{check.Error: "left out", check.Warning: "may change", check.Note: "unchanged"}

func findingsNote(all []check.Finding, rules int) string {
	if len(all) == 0 {
		return "No findings: nothing was rejected, assumed or repaired."
	}
	var kinds []string
	for _, k := range []struct {
		n    int
		noun string
		does string
	}{
		{check.Count(all, check.Error), "error", "a record was left out, and the figures do not count it"},
		{check.Count(all, check.Warning), "warning", "something was assumed, repaired or restated, and figures may depend on it"},
		{check.Count(all, check.Note), "note", "no figure changes"},
	} {
		if k.n > 0 {
			kinds = append(kinds, plural(k.n, k.noun)+": "+k.does+".")
		}
	}
	note := strings.Join(kinds, " ")
	if rules > mostRules {
		note += fmt.Sprintf(" These are %d of %d rules met; findings.csv has every one.", mostRules, rules)
	}
	return note
}

// assumed returns the table of settings with a default that is not published, and how many stands
// depend on those that replace a measurement.
func (c *composer) assumed() (Grid, string) {
	stands := map[string]int{}
	for i := range c.stands.table.Rows {
		for _, key := range c.stands.cell(i, field.Assumed).List {
			stands[key]++
		}
	}
	g := Grid{ID: "assumed-table", Caption: "The assumed values and what they mean", Quiet: true, Head: heads("Setting", "Value", "What it means", "Where it comes from", "#Stands that use it")}
	for _, s := range c.from.Settings {
		used := stands[s.Key]
		if !slices.Contains(c.run.Assumed, s.Key) && used == 0 {
			continue
		}
		value := s.Value
		if s.Unit != "" {
			value += " " + s.Unit
		}
		count := Number{Shown: "all"}
		if used > 0 {
			count = figure(result.Value{Kind: result.Count, Int: int64(used)}, result.NoUnit)
		}
		g.Rows = append(g.Rows, Line{Cells: []Cell{words(s.Key), words(clean(value, longestText)), words(s.Meaning), words(s.Source), amount(count)}})
	}
	if len(g.Rows) == 0 {
		return g, "Nothing was assumed: each setting was given or has a published source."
	}
	return g, "These defaults have no published source, and figures of this quarter rest on them. Put your own values into the settings file."
}

// glossary explains the fields of tables, each label once.
func glossary(tables ...result.Table) []Term {
	var terms []Term
	seen := map[string]bool{}
	for _, t := range tables {
		for _, f := range t.Fields {
			if title := f.Title(); !seen[title] {
				seen[title] = true
				terms = append(terms, Term{title, strings.TrimSpace(f.Definition + " " + origin(f.Origin))})
			}
		}
	}
	return terms
}

func origin(text string) string {
	if text == "" {
		return ""
	}
	return "Origin: " + text + "."
}

// made says in a few lines how the figures are computed.
func (c *composer) made() []Term {
	share := trim(100 * c.run.RiskShare)
	terms := []Term{
		{"Stands", "Survey points within the join distance of each other are one stand (DBSCAN, Ester et al. 1996). A lone point is kept."},
		{"Acres", "Gross: inside the general perimeter. Infested: inside the edge of the plants. Canopy: infested times cover (USDA Forest Service TP-R3-16-26, 2014). An acre is 4046.8564224 m², measured on the ellipsoid."},
		{"Aquatic zone", "Every place within " + trim(c.run.Setback) + " m of a bank. A stand that touches it counts."},
		{"Stream at risk", "Fragments settle at a steady rate on the way down. " + strings.Replace(result.RiskRule, "drift.risk_share", share+" %", 1) + " Each km counts once."},
		{"Order", "Upstream first. Within that rule, the most exposure taken away for each acre treated."},
		{"Change", "A stand keeps its name by where it lies. What nobody looked at is carried at its last known acreage, never counted as controlled."},
		{"Trend", "Median slope (Theil 1950, Sen 1968) and Kendall's test (Mann 1945, Kendall 1975). From five years on, only equal quarters are compared (Hirsch, Slack and Smith 1982)."},
	}
	if c.run.Draws > 0 {
		terms = append(terms, Term{"P10 to P90", fmt.Sprintf("%d draws of a Latin hypercube (McKay et al. 1979) over the assumed values: one draw in ten lies below, one in ten above. Seed %d gives the same draws again.", c.run.Draws, c.run.Seed)})
	}
	return terms
}
