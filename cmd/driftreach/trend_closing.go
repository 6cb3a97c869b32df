package main

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"

	"driftreach/internal/batch"
	"driftreach/internal/trend"
)

// trendClosing is the table a trend ends with.
type trendClosing struct {
	history *trend.History
	trends  []trend.Trend // the total's first
	out     string        // the folder, as the user named it
}

// write writes the total's measures, a line about the streams, and the files.
func (c trendClosing) write(w io.Writer) {
	fmt.Fprintf(w, "\ndriftreach trend, %s\n\n", quartersLine(c.history))
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintf(t, "  total\tfirst\tlast\ta year\tverdict\n")
	for _, one := range c.trends[:len(trend.Measures())] {
		first, last, slope := acres(one.Begin), acres(one.End), trend.SignedText(one.Slope)+" ac"
		if one.Measure == trend.ReachAtRisk {
			first, last, slope = kilometers(one.Begin), kilometers(one.End), trend.SignedText(one.Slope)+" km"
		}
		fmt.Fprintf(t, "  %s\t%s\t%s\t%s\t%s\n", one.Measure.Label(), first, last, slope, one.Words())
	}
	t.Flush()
	chart, table := trendFiles(c.out)
	fmt.Fprintf(w, "\n  streams, infested acres: %s\n  caution: %s, and quarters lean on each other: p is a guide\n  files in %s\n\nOpen next:\n  %s  in a browser\n  %s  in a spreadsheet\n",
		c.streams(), trend.Caution, oneLine(c.out), oneLine(chart), oneLine(table))
}

// quartersLine says from when to when, and how many quarters have no batch.
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

// streams counts the streams by what their infested acres do.
func (c trendClosing) streams() string {
	counts := map[trend.Direction]int{}
	for _, t := range c.trends {
		if t.Scope == "waterBody" && t.Measure == trend.Infested {
			counts[t.Direction]++
		}
	}
	return fmt.Sprintf("%s falling, %s rising, %s with no trend shown, %s with too few quarters to tell", count(counts[trend.Falling]),
		count(counts[trend.Rising]), count(counts[trend.NoTrend]), count(counts[trend.TooFew]))
}

// differences tells what besides the plant may have moved the figures: settings
// and streams that are not the same in every batch.
func differences(batches []readBatch) []string {
	var told []string
	var keys []string
	streams := ""
	for _, b := range batches[1:] {
		before := batches[0]
		keys = append(keys, batch.SettingsApart(before.settings, b.settings)...)
		if streams == "" && !slices.Equal(before.streams, b.streams) {
			streams = fmt.Sprintf("the stream files of %s and %s differ, which moves zone and reach", before.summary.Quarter, b.summary.Quarter)
		}
	}
	slices.Sort(keys)
	if keys = slices.Compact(keys); len(keys) > 0 {
		told = append(told, "the batches were made with different settings, which moves figures too: "+strings.Join(keys, ", "))
	}
	if streams != "" {
		told = append(told, streams)
	}
	return told
}
