package mapfile

import (
	"io"
	"strings"

	"driftreach/internal/check"
	"driftreach/internal/result"
)

// WriteStandsCSV writes stands.csv, a row a stand in treatment order.
func WriteStandsCSV(w io.Writer, run *result.Run) error {
	return writeTable(w, run, result.StandTable(run))
}

// WriteReachesCSV writes reaches.csv, a row a piece of stream at risk.
func WriteReachesCSV(w io.Writer, run *result.Run) error {
	return writeTable(w, run, result.ReachTable(run))
}

// WriteSummaryCSV writes summary.csv: the total, then a row a stream, then
// a row a reporting unit.
func WriteSummaryCSV(w io.Writer, run *result.Run) error {
	return writeTable(w, run, result.SummaryTable(run, result.Summarize(run)))
}

// WriteStandUnitsCSV writes stand_units.csv, a row a stand and reporting unit.
func WriteStandUnitsCSV(w io.Writer, run *result.Run) error {
	return writeTable(w, run, result.StandUnitTable(run))
}

// WriteOrderCSV writes order.csv, a row a stand in treatment order with what
// treating it and all before it takes away.
func WriteOrderCSV(w io.Writer, run *result.Run) error {
	return writeTable(w, run, result.OrderTable(run))
}

// WriteLinksCSV writes stand_links.csv, a row a stand and one that it can seed.
func WriteLinksCSV(w io.Writer, run *result.Run) error {
	return writeTable(w, run, result.LinkTable(run))
}

// WritePlanCSV writes plan.csv, a row a piece of work in the order of the work.
func WritePlanCSV(w io.Writer, run *result.Run) error {
	return writeTable(w, run, result.PlanTable(run))
}

// WritePlanQuartersCSV writes plan_quarters.csv, a row a planned quarter.
func WritePlanQuartersCSV(w io.Writer, run *result.Run) error {
	return writeTable(w, run, result.PlanQuarterTable(run))
}

// WritePlanHeldCSV writes plan_held.csv, a row a stand that cannot be treated now.
func WritePlanHeldCSV(w io.Writer, run *result.Run) error {
	return writeTable(w, run, result.PlanHeldTable(run))
}

// WritePlanCurveCSV writes plan_curve.csv, a row a sum of money.
func WritePlanCurveCSV(w io.Writer, run *result.Run) error {
	return writeTable(w, run, result.PlanCurveTable(run))
}

// WriteEverMappedCSV writes ever_mapped.csv, a row a stage and quarter of the chain.
func WriteEverMappedCSV(w io.Writer, run *result.Run) error {
	return writeTable(w, run, result.EverMappedTable(run))
}

// WriteFollowupCSV writes followup.csv, a row a stand known, first due first.
func WriteFollowupCSV(w io.Writer, run *result.Run) error {
	return writeTable(w, run, result.FollowupTable(run))
}

// WriteWorkCSV writes work_done.csv, a row a piece of control work that the chain
// knows of.
func WriteWorkCSV(w io.Writer, run *result.Run) error {
	return writeTable(w, run, result.TreatmentTable(run))
}

// WriteProductsCSV writes products_used.csv, a row a month and product.
func WriteProductsCSV(w io.Writer, run *result.Run) error {
	return writeTable(w, run, result.ProductTable(run))
}

// WriteWaterWorkCSV writes water_work.csv, a row a unit and water body, and month.
func WriteWaterWorkCSV(w io.Writer, run *result.Run) error {
	return writeTable(w, run, result.WaterWorkTable(run))
}

// WriteNoticesCSV writes notices.csv, a row a planned work and stand.
func WriteNoticesCSV(w io.Writer, run *result.Run) error {
	return writeTable(w, run, result.NoticeTable(run))
}

// WriteFindingsCSV writes findings.csv, a row a finding.
func WriteFindingsCSV(w io.Writer, run *result.Run) error {
	return writeTable(w, run, result.FindingTable(run))
}

// WriteFieldsCSV writes fields.csv, a row a field of every file.
func WriteFieldsCSV(w io.Writer, run *result.Run) error {
	return writeTable(w, run, result.DictionaryTable(run))
}

// WriteTable writes a table whose values need no run, as CSV (RFC 4180).
func WriteTable(w io.Writer, table result.Table) error { return writeTable(w, nil, table) }

// writeTable writes table as CSV (RFC 4180): a header, CRLF line ends, UTF-8.
func writeTable(w io.Writer, run *result.Run, table result.Table) error {
	var b []byte
	for k, f := range table.Fields {
		if k > 0 {
			b = append(b, ',')
		}
		b = appendCell(b, f.Name)
	}
	b = append(b, "\r\n"...)
	var row []result.Value
	for i := range table.Rows {
		row = table.Row(run, i, row)
		b = appendRow(b, row)
		if len(b) < flushAt {
			continue
		}
		if _, err := w.Write(b); err != nil {
			return err
		}
		b = b[:0]
	}
	_, err := w.Write(b)
	return err
}

func appendRow(b []byte, row []result.Value) []byte {
	return append(appendCells(b, row), "\r\n"...)
}

// appendCells appends a row without its end.
func appendCells(b []byte, row []result.Value) []byte {
	for k, v := range row {
		if k > 0 {
			b = append(b, ',')
		}
		switch v.Kind {
		case result.Text, result.List, result.Date:
			b = appendCell(b, v.String())
		default:
			b = v.Append(b)
		}
	}
	return b
}

// appendCell appends text as one cell that no spreadsheet runs (check.Cell), quoted
// where RFC 4180 asks for it; numbers never come here and stay numbers.
func appendCell(b []byte, s string) []byte {
	s = check.Cell(s)
	if s == "" {
		return b
	}
	if !strings.ContainsAny(s, ",\"\r\n") && s[0] != ' ' && s[len(s)-1] != ' ' {
		return append(b, s...)
	}
	b = append(b, '"')
	for i := range len(s) {
		if s[i] == '"' {
			b = append(b, '"')
		}
		b = append(b, s[i])
	}
	return append(b, '"')
}
