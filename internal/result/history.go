package result

import "slices"

// History is the summaries of earlier batches of a chain, as they were printed:
// quarter by quarter, in each its total first.
type History struct {
	Columns []string
	Rows    [][]string // cells as in the file, by column
}

// HistoryColumns returns the columns of history.csv: those of summary.csv and then
// those that only earlier batches had.
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
