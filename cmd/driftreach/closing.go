package main

import (
	"fmt"
	"io"
	"math"
	"strings"
	"text/tabwriter"

	"driftreach/internal/allocate"
	"driftreach/internal/check"
	"driftreach/internal/drift"
	"driftreach/internal/lineage"
	"driftreach/internal/result"
	"driftreach/internal/survey"
)

// closing is the table printed at the end of a batch.
type closing struct {
	run  *result.Run
	out  string // the folder, as the user named it
	open string // what to open first
}

// write writes the table. Every figure is that of the total in summary.csv, with fewer decimals.
func (c closing) write(w io.Writer) {
	run := c.run
	total := result.Summarize(run)[0]
	fmt.Fprintf(w, "\ndriftreach %s\n\n", run.Quarter)
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	row := func(name, value, note string) { fmt.Fprintf(t, "  %s\t%s\t%s\n", name, value, note) }
	row("survey points", count(run.Records.Len()), detections(run))
	row("stands", count(total.Stands), fmt.Sprintf("%s in the aquatic zone, %s upland; %s isolated",
		count(total.InZone), count(total.Stands-total.InZone), count(total.Isolated)))
	infested, gross, canopy, _ := total.Ranges()
	row("gross", acres(total.Gross), "general perimeter of the stands; P10 to P90 "+between(gross))
	row("infested", acres(total.Infested), "inside the actual perimeter of the canopy; P10 to P90 "+between(infested)+", without plants nobody found")
	row("", acres(total.Resting()), "of it rests on the default patch")
	changeRows(run, &total, row)
	row("live", acres(total.Live()), fmt.Sprintf("of the infested: untreated and regrowth; apart from it %s treated, %s standing dead",
		acres(total.ByStatus[survey.Treated]), acres(total.ByStatus[survey.StandingDead])))
	row("canopy", acres(total.Canopy), "infested acres x live canopy cover; P10 to P90 "+between(canopy))
	row("in the zone", acres(total.Zone), fmt.Sprintf("infested within %s m of a bank", trim(run.Setback)))
	row("stream at risk", kilometers(total.ReachAtRisk), fmt.Sprintf("stream where at least %s %% of what a source released may be afloat, or where all sources together leave a moderate amount", trim(100*run.RiskShare)))
	if run.Draws > 0 {
		row("", decimals(float64(run.AtRiskBand.P10), 1)+" to "+decimals(float64(run.AtRiskBand.P90), 1)+" km", fmt.Sprintf("P10 to P90 of %d draws", run.Draws))
	}
	for i, stage := range run.Stages {
		b := stage.Balance
		if i > 0 {
			row("reach in flood", kilometers(total.FloodReach), "the same in flood, with the settings for flood")
		}
		parts := balanceParts(b)
		row("fragments, "+stage.Name, decimals(float64(b.Released), 3), fmt.Sprintf("released = %s settled + %s held at barriers + %s lost to age + %s left at outlets; a relative index, not a count",
			parts[0], parts[1], parts[2], parts[3]))
	}
	visits := result.VisitsDue(run)
	row("visits due", count(visits.Due), fmt.Sprintf("by the end of %s, %s overdue; %s later; dates in followup.csv and followup.ics", run.Quarter.Next(), count(visits.Overdue), count(visits.Later)))
	planRows(run, row)
	if run.WorksGiven {
		row("notices", count(len(run.Notices)), noticesLine(run))
	}
	row("findings", count(len(run.Findings)), findingsLine(run.Findings))
	row("files in", oneLine(c.out), c.open)
	t.Flush()
	fmt.Fprintln(w)
}

// balanceParts formats what settled, was held, grew too old and left with three decimals, rounded so
// that they add up to what was released as it is printed.
func balanceParts(b drift.Balance) [4]string {
	const million, step = 1e6, 1000
	all := [4]drift.Amount{b.Settled, b.Held, b.Aged, b.Left}
	var out [4]string
	var parts []int64
	for i, a := range all {
		out[i] = decimals(float64(a), 3)
		parts = append(parts, int64(math.Round(float64(a)*million)))
	}
	if b.Released > million { // the whole digits say enough, and the rest could not be counted
		return out
	}
	for i, n := range allocate.ToTotal(allocate.Round(int64(math.Round(float64(b.Released)*million)), step), parts, step, nil) {
		out[i] = decimals(float64(n)/million, 3)
	}
	return out
}

// changeRows shows what became of the infested acres of the previous batch.
func changeRows(run *result.Run, total *result.Sum, row func(name, value, note string)) {
	if run.Previous == nil {
		return
	}
	c := &total.Change
	_, _, _, observed := total.Ranges()
	parts := []string{fmt.Sprintf("%s observed (P10 to P90 %s to %s)", signed(c.Observed), signed(observed.P10.Grains()), signed(observed.P90.Grains()))}
	for _, part := range []struct {
		acres int64
		word  string
	}{{c.Restated, "restated"}, {c.New, "new"}, {c.FoundAgain, "found again"}, {c.FirstLooked, "first looked at"}, {-c.NotDetected, "not detected"}} {
		if part.acres != 0 {
			parts = append(parts, signed(part.acres)+" "+part.word)
		}
	}
	row("", acres(c.Previous), fmt.Sprintf("in %s; %s", run.Previous.Quarter, strings.Join(parts, ", ")))
	whole, partly := 0, 0
	for i := range run.Stands {
		switch s := &run.Stands[i]; {
		case s.Change == lineage.NotResurveyed:
			whole++
		case s.Parts.Carried > 0:
			partly++
		}
	}
	note := fmt.Sprintf("of the infested, as last known: %s nobody visited", plural(whole, "stand"))
	if partly > 0 {
		note += fmt.Sprintf(", and what nobody saw of %s more", count(partly))
	}
	row("carried", acres(c.Carried), note)
}

// detections says how many of this quarter's records are finds, and how many more are carried.
func detections(run *result.Run) string {
	found, carried := run.Records.Detected(), 0
	for _, from := range run.CarriedFrom {
		if !from.IsZero() {
			carried++
		}
	}
	found -= carried // of stands, so finds
	text := fmt.Sprintf("%s detected, %s not detected", count(found), count(run.Records.Len()-found-carried))
	if carried > 0 {
		text += ", " + count(carried) + " carried"
	}
	return text
}

// noticesLine says for how many works there are notices, and how many works there are.
func noticesLine(run *result.Run) string {
	works, last := 0, int32(-1)
	for i := range run.Notices { // notices of one work are consecutive
		if run.Notices[i].Work != last {
			works, last = works+1, run.Notices[i].Work
		}
	}
	return fmt.Sprintf("%s to warn of %s planned", plural(works, "work"), count(len(run.Works)))
}

func findingsLine(findings []check.Finding) string {
	return fmt.Sprintf("%s, %s, %s", plural(check.Count(findings, check.Error), "error"),
		plural(check.Count(findings, check.Warning), "warning"), plural(check.Count(findings, check.Note), "note"))
}
