package main

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"text/tabwriter"

	"driftreach/geo"
	"driftreach/internal/batch"
	"driftreach/internal/earlier"
	"driftreach/internal/field"
	"driftreach/internal/mapfile"
	"driftreach/internal/report"
	"driftreach/internal/result"
	"driftreach/internal/settings"
	"driftreach/internal/trend"
)

// trendClosing is the table printed at the end of a trend.
type trendClosing struct {
	history *trend.History
	trends  []trend.Trend    // that of the total comes first
	ever    []result.EverRow // stages of all stands ever mapped, by quarter
	out     string           // the folder, as the user named it
}

// write writes the total's measures, a line about the streams, and the files.
func (c trendClosing) write(w io.Writer) {
	fmt.Fprintf(w, "\ndriftreach trend, %s\n\n", quartersLine(c.history))
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintf(t, "  total\tfirst\tlast\ta year\tverdict\n")
	for _, one := range c.trends[:len(trend.Measures())] {
		first, last, slope := acres(grains(one.Begin)), acres(grains(one.End)), one.Measure.Signed(one.Slope)+" ac"
		if one.Measure == trend.ReachAtRisk {
			first, last, slope = kilometers(one.Begin/kmUnit), kilometers(one.End/kmUnit), one.Measure.Signed(one.Slope)+" km"
		}
		fmt.Fprintf(t, "  %s\t%s\t%s\t%s\t%s\n", one.Measure.Label(), first, last, slope, one.Words())
	}
	t.Flush()
	fmt.Fprint(w, c.mapped())
	fmt.Fprint(w, c.stages())
	page, table := trendFiles(c.out)
	fmt.Fprintf(w, "\n  streams, live acres: %s\n", c.directions(field.ScopeWaterBody))
	if c.history.Sections[len(c.history.Sections)-1].IsUnits() {
		fmt.Fprintf(w, "  units, live acres: %s\n", c.directions(field.ScopeUnit))
	}
	fmt.Fprint(w, c.parts())
	fmt.Fprintf(w, "  caution: %s; where nothing changes, about one verdict in twenty rises or falls by chance\n  files in %s\n\nOpen next:\n  %s  in a browser\n  %s  in a spreadsheet\n",
		trend.Caution, oneLine(c.out), oneLine(page), oneLine(table))
}

// mapped says what was mapped if the trend is about something else, because more or less ground was
// surveyed at the end than at the beginning.
func (c trendClosing) mapped() string {
	t := c.history.Trend(0, trend.Live)
	eye := func(v int64) string { return acres(grains(v)) }
	if eye(t.Mapped[0]) == eye(t.Begin) && eye(t.Mapped[1]) == eye(t.End) {
		return ""
	}
	return fmt.Sprintf("\n  live as it was mapped: %s in %s, %s in %s; above, both on the ground known at the end\n",
		eye(t.Mapped[0]), t.First, eye(t.Mapped[1]), t.Last)
}

// stages shows the stages of all stands ever mapped, in the first batch and in the last.
func (c trendClosing) stages() string {
	if len(c.ever) == 0 {
		return ""
	}
	first, last := c.ever[0].Quarter, c.ever[len(c.ever)-1].Quarter
	at := func(quarter, stage string) result.Value {
		for _, r := range c.ever {
			if r.Quarter == quarter && r.Stage == stage {
				return r.Acres
			}
		}
		return result.Value{Kind: result.Number}
	}
	var b strings.Builder
	t := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	fmt.Fprintf(t, "\n  all ever mapped, acres\t%s\t%s\n", first, last)
	for _, r := range c.ever {
		from, to := at(first, r.Stage), at(last, r.Stage)
		if r.Quarter == last && (from.Int != 0 || to.Int != 0) {
			fmt.Fprintf(t, "  %s\t%s\t%s\n", report.EverWords(r.Stage), groups(result.Shown(from, result.Acres)), groups(result.Shown(to, result.Acres)))
		}
	}
	t.Flush()
	return b.String()
}

// quartersLine gives the first and the last quarter, and the number of quarters without a batch.
func quartersLine(h *trend.History) string {
	batches := 0
	for _, known := range h.Known {
		batches += ones(known)
	}
	noun := "batches"
	if batches == 1 {
		noun = "batch"
	}
	missing := "none missing"
	if n := len(h.Known) - batches; n > 0 {
		missing = plural(n, "quarter") + " without one"
	}
	return fmt.Sprintf("%s to %s: %s %s, %s", h.Quarters[0], h.Quarters[len(h.Quarters)-1], count(batches), noun, missing)
}

func ones(b bool) int {
	if b {
		return 1
	}
	return 0
}

// parts shows the sums of the parts of the total's change, and what is carried at the end; nothing if
// no batch continues another.
func (c trendClosing) parts() string {
	sum := func(m trend.Measure) int64 { total, _ := c.history.Sum(0, m); return grains(total) }
	_, quarters := c.history.Sum(0, trend.New)
	if quarters == 0 {
		return ""
	}
	more := ""
	for _, m := range []trend.Measure{trend.FoundAgain, trend.FirstLookedAt, trend.Restated} {
		if n := sum(m); n != 0 {
			more += ", " + signed(n) + " " + m.Label()
		}
	}
	text := fmt.Sprintf("  change, infested: %s observed, + %s new%s, - %s not detected (%s of it cleared) over %s\n", signed(sum(trend.Observed)),
		acres(sum(trend.New)), more, acres(sum(trend.NotDetected)), acres(sum(trend.Cleared)), plural(quarters, "quarter"))
	last := c.history.Sections[0].Figures[len(c.history.Quarters)-1]
	if carried := last[trend.Carried]; carried != trend.Blank {
		text += fmt.Sprintf("  carried at the end: %s on ground that nobody visited\n", acres(grains(carried)))
	}
	return text
}

// kmUnit is how many of the trend's units are one unit of kilometres in summary.csv.
const kmUnit = trend.PerUnit / 1e4

// grains converts acres in the trend's unit into grains.
func grains(v int64) int64 { return geo.Acres(float64(v) / trend.PerUnit).SquareMeters().Grains() }

// directions counts the sections of a scope by the direction of their live acres.
func (c trendClosing) directions(scope field.RowScope) string {
	counts := map[trend.Direction]int{}
	for _, t := range c.trends {
		if t.Scope == scope && t.Measure == trend.Live {
			counts[t.Direction]++
		}
	}
	return fmt.Sprintf("%s falling, %s rising, %s with no trend shown, %s with too few quarters to tell", count(counts[trend.Falling]),
		count(counts[trend.Rising]), count(counts[trend.NoTrend]), count(counts[trend.TooFew]))
}

// differences lists what else, besides the plant, may have changed the figures: settings and streams
// that are not the same in every batch.
func differences(batches []readBatch) []string {
	told := otherMakers(batches)
	var keys []string
	streams := ""
	for _, b := range batches[1:] {
		before := batches[0]
		keys = append(keys, settings.Apart(before.settings, b.settings)...)
		if other := earlier.OtherWater(before.water, b.water); streams == "" && len(other) > 0 {
			streams = fmt.Sprintf("the %s of %s and %s differ: zones are compared by the streams of each quarter, and reach is not compared%s",
				strings.Join(other, ", "), before.summary.Quarter, b.summary.Quarter, earlier.OnlyByFiles(before.water, b.water))
		}
	}
	slices.Sort(keys)
	if keys = slices.Compact(keys); len(keys) > 0 {
		told = append(told, "the batches were made with different settings: "+strings.Join(keys, ", ")+"; in a chain acres are restated, and reach breaks there")
	}
	var old []string
	for _, b := range batches {
		old = append(old, b.summary.OldNames...)
	}
	slices.Sort(old)
	if old = slices.Compact(old); len(old) > 0 {
		told = append(told, "batches of an earlier version name columns otherwise; they were read as what they are now: "+strings.Join(old, ", "))
	}
	if streams != "" {
		told = append(told, streams)
	}
	if text := otherDefaults(batches); text != "" {
		told = append(told, text)
	}
	return told
}

// otherDefaults says where the acres of neighbouring quarters rest on default patches to another extent;
// blank for nowhere.
func otherDefaults(batches []readBatch) string {
	var apart []string
	last := math.NaN()
	before := ""
	for _, b := range batches {
		share, quarter := b.summary.DefaultShare, b.summary.Quarter.String()
		if math.IsNaN(share) {
			continue
		}
		if math.Abs(share-last) >= batch.MostDefaultsApart {
			apart = append(apart, fmt.Sprintf("%.0f %% in %s and %.0f %% in %s", 100*last, before, 100*share, quarter))
		}
		last, before = share, quarter
	}
	if len(apart) == 0 {
		return ""
	}
	return "the infested acres rest on the default patch, which nobody measured, to another extent: " + strings.Join(apart, ", ") +
		"; so not all change between these quarters is growth or loss of plants"
}

// otherMakers reports batches that another version made, or that have an older format.
func otherMakers(batches []readBatch) []string {
	var makers []mapfile.Maker
	quarters := map[mapfile.Maker][]string{}
	for _, b := range batches {
		if b.maker.Version == version && b.maker.Format == mapfile.Format {
			continue
		}
		if quarters[b.maker] == nil {
			makers = append(makers, b.maker)
		}
		quarters[b.maker] = append(quarters[b.maker], b.summary.Quarter.String())
	}
	var told []string
	for _, m := range makers {
		text := fmt.Sprintf("%s of driftreach %s, format %d, and this is %s, format %d: figures may be made otherwise there (CHANGELOG.md, \"Changes to numbers\")",
			strings.Join(quarters[m], ", "), m.Version, m.Format, version, mapfile.Format)
		if m.Format == 1 {
			text += "; format 1 keeps no looked-at ground, and what is not carried there is taken as seen"
		}
		told = append(told, text+"; run those quarters again to compare all alike")
	}
	return told
}
