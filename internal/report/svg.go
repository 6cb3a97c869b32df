package report

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"driftreach/internal/result"
	"driftreach/internal/survey"
	"driftreach/internal/trend"
)

const (
	// pictureWidth is the width of trend.svg. Our choice: the width of a screen without its margins.
	pictureWidth = 1000.0

	// mostStreams is how many streams, and how many units, get a chart. Our choice: what fits on a
	// page; trend.csv has all of them.
	mostStreams = 12

	// longestName is the longest name of a stream above its chart, in characters. Our choice: even with
	// the widest letters it does not reach the next chart.
	longestName = 32

	columns   = 3     // of small charts
	rowHeight = 196.0 // of small charts
)

// WriteTrend writes trend.svg. It shows acres (with the carried part separate), treatment, reach and
// the parts of change for the total, and small charts of the streams and of the reporting units with
// most infested acres. Quarters without a batch keep their place on the axis. Words are written as
// text; it has a title and a description for readers who cannot see it, and light and dark colours. It
// needs nothing from a network. h has at least one batch. The bytes depend only on h.
func WriteTrend(w io.Writer, h *trend.History) error {
	c := &canvas{}
	families := []family{{"By stream, acres", "streams", largest(h, false)}, {"By reporting unit, acres", "reporting units", largest(h, true)}}
	total := panelsOf(h)
	lower := lineHeight * float64(max(0, len(total[0].captions())-captionLines)) // compared with a first panel whose captions fit
	top := 700.0 + lower
	if hasParts(h) {
		top += changeHeight
	}
	notes := notesOf(h)
	height := top - 10 + lineHeight*float64(len(notes)-2)
	for _, f := range families {
		height += f.height()
	}
	c.raw(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 `, length(pictureWidth), " ", length(height),
		`" width="`, length(pictureWidth), `" height="`, length(height), `" role="img" aria-labelledby="title desc" lang="en">`, "\n")
	c.raw(`<title id="title">`, escape(heading(h)), "</title>\n", `<desc id="desc">`, escape(described(h)), "</desc>\n<style>", style(), "</style>\n")
	c.text(24, 38, "h1", heading(h))
	c.text(24, 62, "soft", subheading(h))
	drawTotal(c, h, total, lower)
	for _, f := range families {
		f.draw(c, h, top)
		top += f.height()
	}
	for i, note := range notes {
		c.text(24, height-12-lineHeight*float64(len(notes)-1-i), "soft", note)
	}
	c.raw("</svg>\n")
	_, err := w.Write(c.b)
	return err
}

func heading(h *trend.History) string {
	first, last := h.Quarters[0], h.Quarters[len(h.Quarters)-1]
	if first == last {
		return "Acreage and stream at risk, " + first.String()
	}
	return fmt.Sprintf("Acreage and stream at risk, %s to %s", first, last)
}

func subheading(h *trend.History) string {
	batches := 0
	for _, known := range h.Known {
		if known {
			batches++
		}
	}
	noun := "batches"
	if batches == 1 {
		noun = "batch"
	}
	text := fmt.Sprintf("%d %s", batches, noun)
	if missing := len(h.Known) - batches; missing > 0 {
		text += fmt.Sprintf(", %d of %d quarters without one", missing, len(h.Known))
	}
	return text + "; " + trend.Caution
}

// described describes the total's figures and verdicts in words.
func described(h *trend.History) string {
	var b strings.Builder
	b.WriteString("Line charts over calendar quarters. ")
	for _, m := range trend.Measures() {
		t := h.Trend(0, m)
		fmt.Fprintf(&b, "Total %s: from %s to %s %s%s; %s. ", m.Label(), eye(t.Begin), eye(t.End), m.Unit(), lastRange(h, m), t.Words())
	}
	for _, words := range groundWords(h.Trend(0, trend.Live)) {
		b.WriteString("The verdict is " + words + ". ")
	}
	b.WriteString(describedParts(h))
	b.WriteString("The figures are in series.csv and trend.csv.")
	return b.String()
}

// lastRange gives P10 to P90 of a measure in the last quarter.
func lastRange(h *trend.History, m trend.Measure) string {
	f := h.Sections[0].Figures[len(h.Quarters)-1] // a history always ends with a batch
	if !m.HasRange() {
		return ""
	}
	low, high, ok := f.Band(m)
	if !ok {
		return ""
	}
	return fmt.Sprintf(" (P10 to P90 %s to %s)", acresOf(low), acresOf(high))
}

// hasParts says whether the total has parts of change in any quarter.
func hasParts(h *trend.History) bool {
	_, quarters := h.Sum(0, trend.New)
	return quarters > 0
}

// describedParts gives the sums of the parts of the total's change, and what is carried at the end.
func describedParts(h *trend.History) string {
	if !hasParts(h) {
		return ""
	}
	sum := func(m trend.Measure) string {
		total, _ := h.Sum(0, m)
		return eye(total)
	}
	text := fmt.Sprintf("Change of infested acres from batch to batch, in all: observed %s, new %s, found again %s, first looked at %s, restated %s, not detected %s, of it cleared %s acres. ",
		sum(trend.Observed), sum(trend.New), sum(trend.FoundAgain), sum(trend.FirstLookedAt), sum(trend.Restated), sum(trend.NotDetected), sum(trend.Cleared))
	last := h.Sections[0].Figures[len(h.Quarters)-1] // a history always ends with a batch
	if _, ok := last.Part(trend.Carried); ok {
		text += fmt.Sprintf("Carried at the end, because nobody went there: %s acres. ", eye(last[trend.Carried]))
	}
	return text
}

// notesOf returns the lines at the bottom: what the signs mean, and on what the verdicts are based.
func notesOf(h *trend.History) []string {
	notes := []string{
		"Shaded: no batch, or one in which nobody looked at the stream; the line stays open. Thin straight line: the median slope, where there is a trend. Upright bars: P10 to P90 of errors in measuring; what nobody found is outside.",
		"Hatched: carried from an earlier quarter because nobody went there in this one; it is no change and says nothing of control.",
	}
	for _, m := range []trend.Measure{trend.Live, trend.ReachAtRisk} {
		if t := h.Trend(0, m); t.Direction != trend.TooFew {
			notes = append(notes, "The verdict on "+m.Label()+" "+t.Grounds()+".")
		}
	}
	notes = append(notes, falseOnes)
	var lines []string
	for _, note := range notes {
		lines = append(lines, wrapped(note, noteLetters)...)
	}
	return lines
}

const (
	// noteLetters is the number of letters in a line at the bottom, at perLetter each.
	noteLetters = 148
	// lineHeight is the height of a line of text below a chart. Our choice.
	lineHeight = 18.0
	// captionLines is the number of lines for which there is room below the first panel.
	captionLines = 4
)

// panelsOf returns the charts of the total.
func panelsOf(h *trend.History) []panel {
	all := []panel{
		{title: "Total, acres", x: 64, y: 112, w: 716, h: 210, measures: []trend.Measure{trend.Live, trend.Infested, trend.Gross, trend.Canopy}},
		{title: "Infested acres: in the zone, treated, dead", x: 64, y: 462, w: 236, h: 120, measures: []trend.Measure{trend.Zone, trend.Treated, trend.StandingDead}},
		{title: "Stream at risk, km", x: 560, y: 462, w: 236, h: 120, measures: []trend.Measure{trend.ReachAtRisk}},
	}
	for i := range all {
		all[i].section, all[i].trends = &h.Sections[0], trendsOf(h, 0, all[i].measures)
	}
	return all
}

// captions returns the lines below a chart of the total: its verdicts, and what they are about if that
// is not what is drawn.
func (p *panel) captions() []string {
	words := verdicts(p.trends)
	if p.measures[0] == trend.Live {
		words = append(words, groundWords(p.trends[0])...)
	}
	var lines []string
	for _, w := range words {
		lines = append(lines, wrapped(w, int(p.w/perLetter)+26)...)
	}
	return lines
}

// drawTotal draws the charts of the total. All but the first are moved down by lower.
func drawTotal(c *canvas, h *trend.History, all []panel, lower float64) {
	for i, p := range all {
		if i > 0 {
			p.y += lower
		}
		p.draw(c, h)
		for line, words := range p.captions() {
			c.text(p.x-40, p.y+p.h+42+lineHeight*float64(line), "soft", words)
		}
	}
	if hasParts(h) {
		g := changes{x: 64, y: 714 + lower, w: 716, h: 130, section: &h.Sections[0]}
		g.draw(c, h)
	}
}

// groundWords says what a trend is about if that is not what was mapped, because more or less ground
// was surveyed at the end than at the beginning.
func groundWords(t trend.Trend) []string {
	if eye(t.Mapped[0]) == eye(t.Begin) && eye(t.Mapped[1]) == eye(t.End) {
		return nil
	}
	return []string{fmt.Sprintf("computed from %s acres on the ground known at the end: %s in %s, %s in %s; drawn is what was mapped, on whatever ground was looked at until then",
		t.Measure.Label(), eye(t.Begin), t.First, eye(t.End), t.Last)}
}

// perLetter is the mean width of a letter. Our choice.
const perLetter = 6.4

// wrapped breaks text between words into lines of at most n letters.
func wrapped(text string, n int) []string {
	var lines []string
	for _, word := range strings.Fields(text) {
		if last := len(lines) - 1; last >= 0 && len(lines[last])+1+len(word) <= n {
			lines[last] += " " + word
		} else {
			lines = append(lines, word)
		}
	}
	return lines
}

// verdicts returns one line for each trend, or one for all if they agree.
func verdicts(trends []trend.Trend) []string {
	var lines []string
	same := true
	for _, t := range trends {
		lines = append(lines, t.Measure.Label()+": "+t.Words())
		same = same && t.Words() == trends[0].Words()
	}
	if same {
		return []string{trends[0].Words()}
	}
	return lines
}

func trendsOf(h *trend.History, section int, measures []trend.Measure) []trend.Trend {
	out := make([]trend.Trend, len(measures))
	for i, m := range measures {
		out[i] = h.Trend(section, m)
	}
	return out
}

// family is the sections of one kind that get small charts.
type family struct {
	heading, noun string
	sections      []int
}

// changeHeight is the height of the chart of change.
const changeHeight = 196.0

// largest returns the streams, or the reporting units, with most infested acres in any quarter, the
// largest first, and equal ones in the order of the history. The area outside all units counts as a
// unit if it has acres.
func largest(h *trend.History, units bool) []int {
	var sections []int
	peak := make([]int64, len(h.Sections))
	for i := 1; i < len(h.Sections); i++ {
		if h.Sections[i].IsUnits() != units || h.Sections[i].WorkAlone() {
			continue
		}
		sections = append(sections, i)
		for _, f := range h.Sections[i].Figures {
			if f != nil {
				peak[i] = max(peak[i], f[trend.Infested])
			}
		}
	}
	sections = slices.DeleteFunc(sections, func(i int) bool { return h.Sections[i].Scope == result.OutsideUnits && peak[i] == 0 })
	slices.SortStableFunc(sections, func(a, b int) int { return cmp.Compare(peak[b], peak[a]) })
	return sections
}

// drawn returns the sections that get a chart.
func (f family) drawn() []int { return f.sections[:min(len(f.sections), mostStreams)] }

// height returns the height of the family's charts, including their heading.
func (f family) height() float64 {
	rows := (len(f.drawn()) + columns - 1) / columns
	if rows == 0 {
		return 0
	}
	return 60 + rowHeight*float64(rows)
}

// draw draws the family's charts from top down.
func (f family) draw(c *canvas, h *trend.History, top float64) {
	if len(f.sections) == 0 {
		return
	}
	heading := f.heading
	if rest := len(f.sections) - len(f.drawn()); rest > 0 {
		heading = fmt.Sprintf("The %d %s with most infested acres; trend.csv has the other %d", len(f.drawn()), f.noun, rest)
	}
	c.text(24, top, "h2", heading)
	for i, section := range f.drawn() {
		measures := []trend.Measure{trend.Live, trend.Infested}
		p := panel{
			title: shorten(sectionName(&h.Sections[section]), longestName), small: true,
			x: 64 + 326*float64(i%columns), y: top + 40 + rowHeight*float64(i/columns), w: 130, h: 96,
			section: &h.Sections[section], measures: measures, trends: trendsOf(h, section, measures),
		}
		p.draw(c, h)
		c.text(p.x-40, p.y+p.h+36, "soft", streamVerdict(p.trends, h.Quarters[len(h.Quarters)-1]))
	}
}

// streamVerdict gives the direction of both measures in one line, and where the values end if that is
// before the last quarter.
func streamVerdict(trends []trend.Trend, last survey.Quarter) string {
	text := string(trends[0].Direction)
	if trends[0].Direction != trends[1].Direction {
		text = fmt.Sprintf("%s: %s, %s: %s", trends[0].Measure.Label(), trends[0].Direction, trends[1].Measure.Label(), trends[1].Direction)
	}
	if trends[0].Last != last {
		text = "last looked at " + trends[0].Last.String() + "; " + text
	}
	return text
}

// sectionName returns a section's name for readers.
func sectionName(s *trend.Section) string {
	if s.Name != "" {
		return s.Name
	}
	return cmp.Or(unnamedRows[s.Scope], string(s.Scope))
}

// falseOnes explains how reliable a column of verdicts is. By Benjamini and Hochberg (1995), at most
// the share trend.Alpha of the verdicts for a measure is false.
const falseOnes = "Where nothing changes, chance alone gives about one verdict in twenty of rising or falling. Verdicts on streams and units are corrected for this: of those that say rising or falling, about one in twenty may be chance."
