package result

import "slices"

// Summed returns the run with its summary and the rows of work at the water kept, which many files ask
// for. After it, nothing may change that these are made of.
func (run *Run) Summed() *Run {
	out := *run
	out.sums, out.water = Summarize(run), run.waterWork()
	for i := range out.sums {
		out.sums[i].Margin.settle()
	}
	return &out
}

// Summarize returns the total first. Then comes one row for each water body that has a stand or a reach
// at risk, by name, and the rows for stands on streams without a name and for stands without a stream.
// If reporting units were given, then comes one row for each unit, in their order, and one for
// everything outside the units. The total's acres are rounded once for printing. Every column of the
// total is the sum of the stream rows, and also the sum of the unit rows; both are rounded by largest
// remainder to make this exact.
func Summarize(run *Run) []Sum {
	if run.sums != nil {
		return slices.Clone(run.sums)
	}
	streams, units := sumStreams(run), sumUnits(run)
	total := Sum{Scope: Total, Quarter: run.Quarter.String()}
	for i := range streams {
		total.add(&streams[i])
	}
	if len(run.Stands) == 0 && run.Previous == nil {
		total.Since.look(run.Quarter, 0) // surveyed, with nothing found
	}
	if len(units) > 0 {
		run.inPrint(&total, streams, units)
	} else {
		run.inPrint(&total, streams)
	}
	return slices.Concat([]Sum{total}, streams, units)
}
