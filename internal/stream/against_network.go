package stream

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"driftreach/internal/check"
)

// These rules compare recorded values with values computed from the network. They show whether the
// layer was clipped: a cut line is shorter than its recorded length, and downstream of streams that
// were left out, order and drainage are smaller than recorded.
var (
	ruleOrderDiffers    = networkRule("order-differs")
	ruleLengthDiffers   = networkRule("length-differs")
	ruleDrainageDiffers = networkRule("drainage-differs")
)

const (
	// lengthMayDiffer is the largest difference between recorded and drawn length, as a share, that
	// is not reported. Our choice: published lengths agree within 1 %, one more step of
	// generalisation makes 3 %.
	lengthMayDiffer = 0.05
	// drainageMayDiffer is the same for drainage. Our choice: two decimals of square kilometres on
	// small catchments.
	drainageMayDiffer = 0.05
)

// disagreements compares the recorded values with the computed ones. It returns one finding for
// each file and rule.
func (n *Network) disagreements() []check.Finding {
	tallies := map[[2]string]*disagreement{}
	note := func(rule check.Rule, line int, recorded, computed float64, differs bool) {
		key := [2]string{n.Lines[line].File, rule.Code}
		d := tallies[key]
		if d == nil {
			d = &disagreement{rule: rule}
			tallies[key] = d
		}
		d.looked++
		if differs {
			d.differing = append(d.differing, differing{line, recorded, computed})
		}
	}
	for i := range n.Lines {
		l := &n.Lines[i]
		edges := n.Net.EdgesOf(int32(i))
		if len(edges) == 0 {
			continue
		}
		lowest := &n.Net.Edges[slices.Max(edges)]
		if l.Order > 0 {
			note(ruleOrderDiffers, i, float64(l.Order), float64(lowest.Order), l.Order != lowest.Order)
		}
		if l.Length > 0 {
			recorded, drawn := float64(l.Length.Kilometers()), float64(n.Net.LineLength(int32(i)).Kilometers())
			note(ruleLengthDiffers, i, recorded, drawn, math.Abs(recorded-drawn) > lengthMayDiffer*max(recorded, drawn))
		}
		if recorded, made := float64(l.Drainage), float64(lowest.Drainage); recorded > 0 && made > 0 {
			note(ruleDrainageDiffers, i, recorded, made, math.Abs(recorded-made) > drainageMayDiffer*max(recorded, made))
		}
	}
	var log check.Log
	for _, d := range tallies { // the log sorts them
		if len(d.differing) > 0 {
			log.Add(d.finding(n.Lines))
		}
	}
	return log.Findings()
}

// differing is one line whose recorded and computed values disagree.
type differing struct {
	line               int
	recorded, computed float64
}

// disagreement is the result of one rule for the lines of one file.
type disagreement struct {
	rule      check.Rule
	looked    int
	differing []differing
}

// finding reports the disagreement and names the line with the largest difference.
func (d *disagreement) finding(lines []Centerline) check.Finding {
	worst := slices.MaxFunc(d.differing, func(a, b differing) int {
		return cmp.Or(cmp.Compare(math.Abs(a.recorded-a.computed), math.Abs(b.recorded-b.computed)), cmp.Compare(b.line, a.line))
	})
	field, unit := "stream_order", ""
	switch d.rule.Code {
	case ruleLengthDiffers.Code:
		field, unit = "length_km", " km"
	case ruleDrainageDiffers.Code:
		field, unit = "drainage_km2", " km2"
	}
	l := &lines[worst.line]
	at := l.Path[0]
	var names []string
	for _, x := range d.differing[:min(len(d.differing), mostNamed)] {
		names = append(names, lines[x.line].ID)
	}
	return check.Finding{
		Rule: d.rule, File: l.File, Record: l.ID, Field: field, Value: strings.Join(names, " "), Position: &at,
		Message: fmt.Sprintf("the recorded %s disagrees with the computed one on %d of %d lines, most on line %s: %.4g%s recorded, %.4g%s computed",
			field, len(d.differing), d.looked, l.ID, worst.recorded, unit, worst.computed, unit),
	}
}
