package result

import "slices"

// HistoryColumns returns the columns of history.csv: those of summary.csv, then those that only earlier
// batches had.
func HistoryColumns(summary Table, h History) []string {
	var columns []string
	for _, f := range summary.Fields {
		columns = append(columns, f.Name)
	}
	for _, name := range h.Columns {
		if !slices.Contains(columns, name) {
			columns = append(columns, name)
		}
	}
	return columns
}
