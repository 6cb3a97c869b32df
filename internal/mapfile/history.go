package mapfile

import (
	"io"
	"strconv"
	"strings"

	"driftreach/internal/result"
)

// writeLineageCSV writes lineage.csv, one row for each link between a stand of this batch and one known
// before.
func writeLineageCSV(w io.Writer, run *result.Run) error {
	return writeTable(w, run, result.LineageTable(run))
}

// writeStandChangesCSV writes stand_changes.csv: what each stand added to the changes since the last
// survey, one row for each stand, quarter and row of the summary.
func writeStandChangesCSV(w io.Writer, run *result.Run) error {
	return writeTable(w, run, result.StandChangeTable(run))
}

// writeTakenBackCSV writes taken_back.csv: the changes that corrections took back.
func writeTakenBackCSV(w io.Writer, run *result.Run) error {
	return writeTable(w, run, result.TakenBackTable(run))
}

// writeAbsent writes absent.geojson: one feature for each stand not detected since it was mapped, with
// its last known footprint.
func writeAbsent(w io.Writer, run *result.Run) error {
	return writeCollection(w, run, result.AbsentTable(run),
		func(b []byte, i int) []byte {
			s := &run.Absent[i]
			return appendExact(appendString(b, s.ID), &s.Stand, s.Zone, s.Memory)
		},
		func(c *collection, b []byte, i int) []byte { return c.outline(b, run.Absent[i].Footprint) })
}

// writeSurveyed writes looked_at.geojson: the ground surveyed in the chain, one feature for each piece.
func writeSurveyed(w io.Writer, run *result.Run) error {
	return writeCollection(w, run, result.SurveyedTable(run),
		func(b []byte, i int) []byte { return strconv.AppendInt(b, int64(i+1), 10) },
		func(c *collection, b []byte, i int) []byte { return c.polygon(b, run.Surveyed.At(i)) })
}

// historyRows is the number of rows of history.csv.
func historyRows(run *result.Run) int { return len(run.History.Rows) + len(result.Summarize(run)) }

// writeHistoryCSV writes history.csv: the rows of summary.csv of the chain's earlier batches, as
// printed, followed by this one's.
func writeHistoryCSV(w io.Writer, run *result.Run) error {
	table := result.SummaryTable(run, result.Summarize(run))
	columns := result.HistoryColumns(table, run.History)
	var b []byte
	for k, name := range columns {
		b = appendCell(comma(b, k), name)
	}
	b = append(b, "\r\n"...)
	for _, cells := range earlierRows(columns, run.History) {
		for k, cell := range cells {
			b = appendQuoted(comma(b, k), cell)
		}
		b = append(b, "\r\n"...)
	}
	var row []result.Value
	for i := range table.Rows {
		row = table.Row(run, i, row)
		b = appendCells(b, row)
		for range columns[len(row):] {
			b = append(b, ',')
		}
		b = append(b, "\r\n"...)
	}
	_, err := w.Write(b)
	return err
}

// earlierRows puts the rows of the earlier batches into the present columns.
func earlierRows(columns []string, h result.History) [][]string {
	at := map[string]int{}
	for k, name := range h.Columns {
		at[name] = k
	}
	rows := make([][]string, len(h.Rows))
	for i, row := range h.Rows {
		rows[i] = make([]string, len(columns))
		for k, name := range columns {
			if from, had := at[name]; had && from < len(row) {
				rows[i][k] = row[from]
			}
		}
	}
	return rows
}

// comma appends the separator before cell k.
func comma(b []byte, k int) []byte {
	if k > 0 {
		b = append(b, ',')
	}
	return b
}

// appendQuoted appends a cell from an earlier batch unchanged, quoted if RFC 4180 requires it.
func appendQuoted(b []byte, s string) []byte {
	if !strings.ContainsAny(s, ",\"\r\n") && strings.TrimSpace(s) == s {
		return append(b, s...)
	}
	b = append(b, '"')
	b = append(b, strings.ReplaceAll(s, `"`, `""`)...)
	return append(b, '"')
}
