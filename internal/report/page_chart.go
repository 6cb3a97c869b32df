package report

import (
	"fmt"
	"strings"

	"driftreach/internal/result"
	"driftreach/internal/trend"
)

// mostBars is the most quarters in the page's chart and table. Our choice: five years; series.csv has
// all quarters.
const mostBars = 20

// barChart is the page's chart: a bar for each quarter's infested acres, with unsurveyed acres hatched,
// and marks for gross and canopy acres.
type barChart struct {
	canvas
	class         string
	x, y, w, h    float64 // of the plot
	scale         scale
	first, n      int // quarters shown: the first, and their number
	history       *trend.History
	goal          Programme
	figures       []*trend.Figures // of whole batches, by shown quarter
	width, height float64
}

// charts draws the chart for wide and narrow screens.
func (c *composer) charts() (figures []Figure, note string) {
	section := c.wholeSection()
	if section < 0 {
		return nil, ""
	}
	h := c.from.History
	for _, size := range []struct {
		class         string
		width, height float64
	}{{"wide", 560, 250}, {"narrow", narrowPixels, 240}} {
		b := &barChart{class: size.class, history: h, goal: c.from.Programme, width: size.width, height: size.height}
		b.first = max(0, len(h.Quarters)-mostBars)
		b.n = len(h.Quarters) - b.first
		b.figures = h.Sections[section].Figures[b.first:]
		b.x, b.y, b.w, b.h = 44, 14, size.width-54, size.height-44
		if !b.wholeNames() {
			b.h -= yearBelow
		}
		b.draw(c)
		figures = append(figures, Figure{size.class, tag(b.b)})
	}
	return figures, chartNote(h)
}

func chartNote(h *trend.History) string {
	var notes []string
	if rest := len(h.Quarters) - mostBars; rest > 0 {
		notes = append(notes, fmt.Sprintf("The last %d of %d quarters; history.csv has all.", mostBars, len(h.Quarters)))
	}
	var otherwise []string
	for k := max(0, len(h.Quarters)-mostBars); k < len(h.Quarters); k++ {
		if h.Breaks[k] {
			otherwise = append(otherwise, h.Quarters[k].String())
		}
	}
	if len(otherwise) > 0 {
		notes = append(notes, "Streams or settings changed in "+strings.Join(otherwise, ", ")+": from there on, stream at risk cannot be compared with earlier quarters.")
	}
	return strings.Join(notes, " ")
}

func (b *barChart) up(v float64) float64 { return b.y + b.h*(1-v/b.scale.Top) }

func (b *barChart) draw(c *composer) {
	most := 0.0
	for k := range b.n {
		if f := b.figures[k]; f != nil {
			_, p90, _ := f.Band(trend.Infested)
			_, live, _ := f.Band(trend.Live)
			most = max(most, acres(f, trend.Infested), acres(f, trend.Gross), p90, live)
		}
	}
	if b.goal.GoalYear > 0 {
		most = max(most, b.goal.GoalAcres)
	}
	b.scale = scaleTo(most)
	b.raw(`<svg class="chart `, b.class, `" viewBox="0 0 `, length(b.width), " ", length(b.height), `" role="img" aria-labelledby="chart-title-`, b.class, " chart-text-", b.class, "\">\n",
		`<title id="chart-title-`, b.class, `">Acres by quarter</title>`, "\n",
		`<desc id="chart-text-`, b.class, `">`, escape(c.chartWords()), "</desc>\n",
		`<defs><pattern id="hatch-`, b.class, `" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path class="hatch" d="M3 0v6"/></pattern></defs>`, "\n")
	for i, v := range b.scale.ticks() {
		class := "grid"
		if i == 0 {
			class = "axis"
		}
		b.segment(b.x, b.up(v), b.x+b.w, b.up(v), class)
		b.text(b.x-6, b.up(v)+4, "end soft", b.scale.label(v))
	}
	for k := range b.n {
		b.bar(k)
	}
	if b.goal.GoalYear > 0 {
		b.segment(b.x, b.up(b.goal.GoalAcres), b.x+b.w, b.up(b.goal.GoalAcres), "goal halo")
		b.segment(b.x, b.up(b.goal.GoalAcres), b.x+b.w, b.up(b.goal.GoalAcres), "goal")
	}
	b.names()
	b.raw("</svg>")
}

const (
	yearBelow = 14.0 // distance from the line of quarters to that of years. Our choice.
	yearWide  = 34.0 // width of a year, including space around it. Our choice.
)

// wholeNames says whether there is room for the full name of every quarter under its bar.
func (b *barChart) wholeNames() bool { return len(labelled(b.n, b.w)) == b.n }

// names writes the quarters under the bars: in full or, if there is no room, as Q1 to Q4 with the year
// below the first quarter of each year.
func (b *barChart) names() {
	whole, room := b.wholeNames(), b.w/float64(b.n)
	for k, q := range b.history.Quarters[b.first : b.first+b.n] {
		if whole {
			b.text(b.across(k), b.y+b.h+18, "mid soft", q.String())
			continue
		}
		b.text(b.across(k), b.y+b.h+18, "mid soft", fmt.Sprintf("Q%d", q.Number))
		if q.Number == 1 || k == 0 && (q.Number < 4 || room >= yearWide) {
			b.text(b.across(k), b.y+b.h+18+yearBelow, "mid soft", fmt.Sprint(q.Year))
		}
	}
}

func (b *barChart) across(k int) float64 { return b.x + b.w*(float64(k)+0.5)/float64(b.n) }

// bar draws one quarter. A quarter without a batch is left empty and shaded.
func (b *barChart) bar(k int) {
	room := b.w / float64(b.n)
	half := min(room*0.34, 28)
	x := b.across(k)
	f := b.figures[k]
	if f == nil {
		b.rect("gap", x-room/2, b.y, room, b.h)
		if room >= 56 {
			b.text(x, b.y+b.h-7, "mid soft", "no batch")
		}
		return
	}
	infested := acres(f, trend.Infested)
	carried, _ := f.Part(trend.Carried)
	carried = min(infested, carried)
	b.rect("bar", x-half, b.up(infested-carried), 2*half, b.y+b.h-b.up(infested-carried))
	if carried > 0 {
		b.raw(`<rect class="carried" fill="url(#hatch-`, b.class, `)" x="`, length(x-half), `" y="`, length(b.up(infested)), `" width="`, length(2*half), `" height="`, length(b.up(infested-carried)-b.up(infested)), "\"/>\n")
	}
	b.segment(x-half-3, b.up(acres(f, trend.Gross)), x+half+3, b.up(acres(f, trend.Gross)), "gross")
	b.mark(place{x, b.up(acres(f, trend.Canopy))}, ink{class: "canopy", mark: triangle}, 6.5)
	b.upright(f, trend.Infested, x+0.6*half) // beside the marks
	b.upright(f, trend.Live, x-0.6*half)
	b.mark(place{x - 0.6*half, b.up(acres(f, trend.Live))}, ink{class: "alive", mark: disc}, 4.5)
}

// upright draws P10 to P90 of a measure as a vertical line.
func (b *barChart) upright(f *trend.Figures, m trend.Measure, x float64) {
	if p10, p90, ok := f.Band(m); ok {
		b.segment(x, b.up(p10), x, b.up(p90), "halo")
		b.segment(x, b.up(p10), x, b.up(p90), "range")
	}
}

func (b *barChart) rect(class string, x, y, w, h float64) {
	b.raw(`<rect class="`, class, `" x="`, length(x), `" y="`, length(y), `" width="`, length(w), `" height="`, length(h), "\"/>\n")
}

// chartWords describes the chart for readers who cannot see it.
func (c *composer) chartWords() string {
	t, _ := c.trendOf(trend.Infested)
	live, _ := c.trendOf(trend.Live)
	if t.Quarters == 1 {
		return fmt.Sprintf("One quarter, %s: %s infested acres, %s of them live. The table below has the figures.", t.First, eye(t.Mapped[0]), eye(live.Mapped[0]))
	}
	return fmt.Sprintf("One bar for each quarter: infested acres as mapped go from %s in %s to %s in %s, live ones from %s to %s. The table below has the figures.",
		eye(t.Mapped[0]), t.First, eye(t.Mapped[1]), t.Last, eye(live.Mapped[0]), eye(live.Mapped[1]))
}

// quarterColumns are the measures of the table by quarter.
var quarterColumns = []struct {
	measure trend.Measure
	label   string
}{
	{trend.Live, "#Live, acres"}, {trend.Infested, "#Infested, acres"}, {trend.Gross, "#Gross, acres"}, {trend.Canopy, "#Canopy, acres"},
	{trend.Zone, "#In the zone, acres"}, {trend.ReachAtRisk, "#Stream at risk, km"},
}

// quarters returns the chart as a table.
func (c *composer) quarters() Grid {
	g := Grid{ID: "quarters-table", Caption: "The figures of the chart", Head: heads("Quarter", "#Infested, carried, acres")}
	section := c.wholeSection()
	if section < 0 {
		return g
	}
	for _, col := range quarterColumns {
		g.Head = append(g.Head, heads(col.label)...)
	}
	h := c.from.History
	for k := max(0, len(h.Quarters)-mostBars); k < len(h.Quarters); k++ {
		carried := result.Value{}
		if f := h.Sections[section].Figures[k]; f != nil && f[trend.Carried] != trend.Blank {
			carried = fixed(f[trend.Carried])
		}
		line := Line{Cells: []Cell{words(h.Quarters[k].String()), amount(figure(carried, result.Acres))}}
		for _, col := range quarterColumns {
			v := result.Value{}
			if f := h.Sections[section].Figures[k]; f != nil {
				v = fixed(f[col.measure])
			}
			line.Cells = append(line.Cells, amount(figure(v, result.Unit(col.measure.Unit()))))
		}
		g.Rows = append(g.Rows, line)
	}
	return g
}

// chartLegend explains the chart's symbols.
func (p Programme) chartLegend() []Legend {
	key := func(drawing tag) tag {
		return `<svg class="swatch" viewBox="0 0 28 24" aria-hidden="true">` + drawing + "</svg>"
	}
	all := []Legend{
		{key(`<rect class="bar" x="6" y="4" width="16" height="16"/>`), "infested, looked at this quarter"},
		{key(`<defs><pattern id="hatch-key" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path class="hatch" d="M3 0v6"/></pattern></defs>` +
			`<rect class="carried" fill="url(#hatch-key)" x="6" y="4" width="16" height="16"/>`), "infested, carried: nobody looked, last known acres"},
		{key(`<circle class="alive" cx="14" cy="12" r="4.5"/>`), "live"},
		{key(`<path class="range" d="M14 3v18"/>`), "P10–P90 of live (left) and infested (right)"},
		{key(`<path class="gross" d="M4 12h20"/>`), "gross"},
		{key(`<path class="canopy" d="M14 6l6 11H8Z"/>`), "canopy"},
	}
	if p.GoalYear > 0 {
		all = append(all, Legend{key(`<path class="goal" d="M2 12h24"/>`), fmt.Sprintf("goal: live acres at the end of %d", p.GoalYear)})
	}
	return all
}
