package report

import (
	"fmt"
	"io"
	"math"
	"slices"

	"driftreach/internal/result"
	"driftreach/internal/trend"
)

// TrendSources is what trend.html shows.
type TrendSources struct {
	Version   string // of the program
	History   *trend.History
	Ever      []result.EverRow // stages of everything ever mapped, by quarter
	Apart     []string         // what else, besides the plant, may have changed the figures
	Programme Programme

	// Assumed is the share of the last quarter's infested acres that rests on default patches; 0 or NaN
	// where none does, or the batch does not tell.
	Assumed float64
}

// WriteTrendPage writes trend.html: the trend over many batches in the form of report.html, with plain
// words first, then the chart, then tables. It needs nothing from a network and contains no script. The
// history has at least one batch. The bytes depend only on from.
func WriteTrendPage(w io.Writer, from TrendSources) error {
	p := composeTrend(from)
	var m markup
	m.page(&p)
	_, err := w.Write(m.b)
	return err
}

// composeTrend puts together what the page says.
func composeTrend(from TrendSources) Page {
	h := from.History
	c := composer{from: Sources{Version: from.Version, History: h, Programme: from.Programme}}
	first, last := h.Quarters[0], h.Quarters[len(h.Quarters)-1]
	when := first.String() + " to " + last.String()
	if first == last {
		when = first.String()
	}
	p := Page{
		Title: from.Programme.titled("Acres and stream at risk", when),
		Intro: from.Programme.intro(first.Begin().Format("2006-01-02")+" to "+last.End().Format("2006-01-02")+", "+subheading(h), from.Version),
		Foot:  "The files beside this page hold the same figures to the last digit: trend.csv has every test, series.csv every quarter, trend.svg the charts by stream and unit.",
		Style: tag(pageColors() + pageStyle),
	}
	p.Headline, p.Verdict = c.trendHeadline(from.Assumed), c.verdict()
	p.Charts, p.ChartNote = c.charts()
	p.ChartLegend = from.Programme.chartLegend()
	p.Quarters = c.quarters()
	p.Ever = everBetween(from.Ever)
	p.Cautions = append(slices.Clone(from.Apart), trendCaution,
		"The ranges (P10 to P90) are for errors of measuring. Plants that nobody found are not in them.",
		"Stream at risk says where to look, not where plants are.")
	measures, places, parts := c.measureTable(), []Grid{c.placeTable(false), c.placeTable(true)}, c.partTable()
	p.layout = [][][]section{{
		{{"glance", "At a glance", "", writeGlance}},
		{{"quarters", "Acres by quarter", "", writeQuarters}},
		{{"measures", "What each figure does", "Each figure", func(m *markup, _ *Page) { m.grid(measures); m.notes(falseOnes) }}},
		{{"places", "By stream and unit", "", func(m *markup, _ *Page) {
			m.grid(places[0])
			m.grid(places[1])
			m.notes(falseOnes + " trend.csv has every one.")
		}}},
		{
			{"parts", "What changed the acres", "Change", func(m *markup, _ *Page) { m.grid(parts) }},
			{"ever", "All ever mapped", "", func(m *markup, p *Page) { m.grid(p.Ever) }},
		},
		{{"cautions", "Cautions", "", func(m *markup, p *Page) { m.bullets(p.Cautions) }}},
	}}
	return p
}

// trendHeadline says in plain words how much there is, in which direction it changes, how much nobody
// surveyed, how much depends on defaults, and whether the goal is near.
func (c *composer) trendHeadline(assumed float64) []string {
	h := c.from.History
	last := len(h.Quarters) - 1
	f := h.Sections[0].Figures[last] // a history always ends with a batch
	text := eye(f[trend.Live]) + " acres are live in " + h.Quarters[last].String()
	if low, high, ok := f.Band(trend.Live); ok {
		text += fmt.Sprintf(" (%s to %s, allowing for error)", acresOf(low), acresOf(high))
	}
	lines := []string{text + c.direction() + "."}
	if carried, ok := f.Part(trend.Carried); ok && carried > 0 {
		lines = append(lines, fmt.Sprintf("Nobody looked at %s of the %s infested acres in that quarter: they keep the acres last known.", acresOf(carried), eye(f[trend.Infested])))
	}
	if assumed > 0 { // not so for NaN
		lines = append(lines, fmt.Sprintf("%s of the %s infested acres are assumed: nobody measured those patches.",
			eye(int64(math.Round(assumed*float64(f[trend.Infested])))), eye(f[trend.Infested])))
	}
	if goal := c.goal(); goal != "" {
		lines = append(lines, goal)
	}
	return lines
}

// trendCells returns a trend's first and last value, slope and verdict.
func trendCells(t trend.Trend) []Cell {
	unit := result.Unit(t.Measure.Unit())
	slope := "–"
	if t.Quarters > 1 {
		slope = onPaper(t.Measure.Signed(t.Slope))
	}
	if t.Quarters == 0 {
		return []Cell{numericWords("–"), numericWords("–"), numericWords("–"), words(string(t.Direction))}
	}
	return []Cell{amount(figure(fixed(t.Begin), unit)), amount(figure(fixed(t.End), unit)), numericWords(slope), words(string(t.Direction))}
}

// measureTable has one row for each figure of the total.
func (c *composer) measureTable() Grid {
	h := c.from.History
	g := Grid{ID: "measures-table", Caption: "Each figure of the total, on the ground known at the end", Head: heads("Figure", "#First", "#Last", "#A year", "Verdict")}
	for _, m := range trend.Measures() {
		t := h.Trend(0, m)
		g.Rows = append(g.Rows, Line{Cells: append([]Cell{words(m.Label() + ", " + m.Unit())}, append(trendCells(t)[:3], words(minus(t.WordsBesideSlope())))...)})
	}
	return g
}

// placeTable has one row for each of the streams, or units, with most infested acres.
func (c *composer) placeTable(units bool) Grid {
	h := c.from.History
	g := Grid{ID: "streams-table", Caption: "Live acres by stream", Head: heads("Stream", "#First, acres", "#Last, acres", "#A year, acres", "Verdict", "Last looked at")}
	if units {
		g.ID, g.Caption, g.Head[0].Label = "units-table", "Live acres by reporting unit", "Unit"
	}
	all := largest(h, units)
	for _, i := range all[:min(len(all), mostStreams)] {
		t := h.Trend(i, trend.Live)
		looked := "never"
		if t.Quarters > 0 {
			looked = t.Last.String()
		}
		g.Rows = append(g.Rows, Line{Cells: slices.Concat([]Cell{words(clean(sectionName(&h.Sections[i]), longestWord))}, trendCells(t), []Cell{whole(looked)})})
	}
	if rest := len(all) - mostStreams; rest > 0 {
		g.Caption += fmt.Sprintf(": the %d with most infested acres; trend.csv has the other %d", mostStreams, rest)
	}
	return g
}

// partTable adds up the parts of change over the quarters; it is empty if there are none.
func (c *composer) partTable() Grid {
	h := c.from.History
	if !hasParts(h) {
		return Grid{}
	}
	_, quarters := h.Sum(0, trend.New)
	g := Grid{ID: "parts-table", Caption: "Infested acres, all " + plural(quarters, "quarter") + " together", Head: heads("Part", "#Acres")}
	for _, part := range []struct {
		m     trend.Measure
		label string
		sign  int64
	}{
		{trend.Restated, "Restated by new rules and corrections", 1}, {trend.Observed, "Observed in stands found both times", 1}, {trend.New, "New where somebody looked before", 1},
		{trend.FoundAgain, "Found again after it was not detected", 1}, {trend.FirstLookedAt, "On ground first looked at", 1}, {trend.NotDetected, "Looked for and not detected", -1},
	} {
		sum, _ := h.Sum(0, part.m)
		n := figure(fixed(part.sign*sum), result.Acres)
		if part.sign*sum > 0 {
			n.Shown = "+" + n.Shown
		}
		g.Rows = append(g.Rows, Line{Cells: []Cell{words(part.label), amount(n)}})
	}
	return g
}

// everBetween compares everything ever mapped, by stage, in the first and in the last quarter.
func everBetween(rows []result.EverRow) Grid {
	if len(rows) == 0 {
		return Grid{}
	}
	first, last := rows[0].Quarter, rows[len(rows)-1].Quarter
	g := Grid{ID: "ever-table", Caption: "All ever mapped by stage, acres", Head: heads("Stage", "#"+first, "#"+last)}
	for _, now := range rows {
		if now.Quarter != last {
			continue
		}
		was := result.Value{Kind: result.Number}
		if at := slices.IndexFunc(rows, func(r result.EverRow) bool { return r.Quarter == first && r.Stage == now.Stage }); at >= 0 {
			was = rows[at].Acres
		}
		if was.Int != 0 || now.Acres.Int != 0 {
			g.Rows = append(g.Rows, Line{Cells: []Cell{words(capital(EverWords(now.Stage))), amount(figure(was, result.Acres)), amount(figure(now.Acres, result.Acres))}})
		}
	}
	return g
}
