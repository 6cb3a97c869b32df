package result

import (
	"math"
	"strings"

	"driftreach/internal/check"
	"driftreach/internal/margin"
	"driftreach/internal/trend"
)

// HistoryBatch returns this quarter's summary as a trend takes it: the figures as printed, and names as
// a reader of the file has them.
func HistoryBatch(run *Run) trend.Batch {
	sums := Summarize(run)
	table := SummaryTable(run, sums)
	values := map[string]func(*Run, int) Value{}
	for _, f := range table.Fields {
		values[f.Name] = f.Value
	}
	b := trend.Batch{Quarter: run.Quarter, ReachApart: run.Previous != nil && len(run.Previous.ReachApart) > 0}
	for i := range sums {
		s := &sums[i]
		row := trend.Row{Scope: s.Scope, Name: readName(s.Name), UnitID: readName(s.UnitID), LooksTold: true}
		for m := range row.Figures {
			row.Figures[m] = trend.Blank
			if value, there := values[trend.Measure(m).Column()]; there {
				row.Figures[m] = fixedOf(value(run, i))
			}
		}
		for _, l := range s.Since.byQuarter(run) {
			row.Looks = append(row.Looks, trend.Look{Quarter: l.quarter, Acres: fixedOf(l.acres)})
		}
		live, _ := run.offOf(&s.Margin.live)
		infested, known := run.offOf(&s.Margin.infested)
		if known || row.Figures[trend.Infested] <= 0 {
			row.Off = &[2]*trend.Off{live, infested}
		}
		b.Rows = append(b.Rows, row)
	}
	return b
}

// offOf returns an error of acres; known is false where it has no part.
func (r *Run) offOf(f *margin.Form) (off *trend.Off, known bool) {
	defaults, looks := r.errorParts(f)
	off = &trend.Off{Looks: map[int]float64{}}
	if defaults.Kind != Null {
		off.Defaults, known = float64(fixedOf(defaults))/trend.PerUnit, true
	}
	for _, l := range looks {
		sigma := float64(fixedOf(l.acres)) / trend.PerUnit
		off.Looks[l.quarter.Ordinal()] += sigma * sigma
		known = true
	}
	return off, known
}

// fixedOf returns a printed figure in a trend's units; trend.Blank for none.
func fixedOf(v Value) int64 {
	if v.Kind != Number {
		return trend.Blank
	}
	return v.Int * int64(math.Pow10(trend.Decimals-int(v.Decimals)))
}

// readName is a name as a reader of a CSV file has it: such readers turn line ends inside cells into
// \n.
func readName(s string) string {
	if strings.TrimSpace(s) == "" {
		return ""
	}
	return strings.ReplaceAll(check.FromCell(check.Cell(s)), "\r\n", "\n")
}
