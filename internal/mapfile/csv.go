package mapfile

import (
	"io"
	"strings"

	"driftreach/internal/check"
	"driftreach/internal/result"
)

// writeStandsCSV writes stands.csv, one row for each stand in treatment order.
func writeStandsCSV(w io.Writer, run *result.Run) error {
	return writeTable(w, run, result.StandTable(run))
}

// writeReachesCSV writes reaches.csv, one row for each piece of stream at risk.
func writeReachesCSV(w io.Writer, run *result.Run) error {
	return writeTable(w, run, result.ReachTable(run))
}

// WriteSummaryCSV writes summary.csv: the total, then one row for each stream, then
// one row for each reporting unit.
func WriteSummaryCSV(w io.Writer, run *result.Run) error {
	return writeTable(w, run, result.SummaryTable(run, result.Summarize(run)))
}

// writeStandUnitsCSV writes stand_units.csv, one row for each stand and reporting unit.
func writeStandUnitsCSV(w io.Writer, run *result.Run) error {
	return writeTable(w, run, result.StandUnitTable(run))
}

// writeOrderCSV writes order.csv, one row for each stand in treatment order, with what treating it and
// all before it removes.
func writeOrderCSV(w io.Writer, run *result.Run) error {
	return writeTable(w, run, result.OrderTable(run))
}

// WriteLinksCSV writes stand_links.csv, one row for each stand and a stand that it can seed.
func WriteLinksCSV(w io.Writer, run *result.Run) error {
	return writeTable(w, run, result.LinkTable(run))
}

// writePlanCSV writes plan.csv, one row for each piece of work in the order of the work.
func writePlanCSV(w io.Writer, run *result.Run) error {
	return writeTable(w, run, result.PlanTable(run))
}

// writePlanQuartersCSV writes plan_quarters.csv, one row for each planned quarter.
func writePlanQuartersCSV(w io.Writer, run *result.Run) error {
	return writeTable(w, run, result.PlanQuarterTable(run))
}

// writePlanHeldCSV writes plan_held.csv, one row for each stand that cannot be treated now.
func writePlanHeldCSV(w io.Writer, run *result.Run) error {
	return writeTable(w, run, result.PlanHeldTable(run))
}

// writePlanCurveCSV writes plan_curve.csv, one row for each budget.
func writePlanCurveCSV(w io.Writer, run *result.Run) error {
	return writeTable(w, run, result.PlanCurveTable(run))
}

// writeEverMappedCSV writes ever_mapped.csv, one row for each stage and quarter of the chain.
func writeEverMappedCSV(w io.Writer, run *result.Run) error {
	return writeTable(w, run, result.EverMappedTable(run))
}

// writeFollowupCSV writes followup.csv, one row for each known stand, the earliest due first.
func writeFollowupCSV(w io.Writer, run *result.Run) error {
	return writeTable(w, run, result.FollowupTable(run))
}

// writeWorkCSV writes work_done.csv, one row for each piece of control work known in the chain.
func writeWorkCSV(w io.Writer, run *result.Run) error {
	return writeTable(w, run, result.TreatmentTable(run))
}

// writeProductsCSV writes products_used.csv, one row for each month and product.
func writeProductsCSV(w io.Writer, run *result.Run) error {
	return writeTable(w, run, result.ProductTable(run))
}

// writeWaterWorkCSV writes water_work.csv, one row for each unit and water body, or month.
func writeWaterWorkCSV(w io.Writer, run *result.Run) error {
	return writeTable(w, run, result.WaterWorkTable(run))
}

// writeNoticesCSV writes notices.csv, one row for each planned work and stand.
func writeNoticesCSV(w io.Writer, run *result.Run) error {
	return writeTable(w, run, result.NoticeTable(run))
}

// WriteFindingsCSV writes findings.csv, one row for each finding.
func WriteFindingsCSV(w io.Writer, run *result.Run) error {
	return writeTable(w, run, result.FindingTable(run))
}

// writeFieldsCSV writes fields.csv, one row for each field of every file.
func writeFieldsCSV(w io.Writer, run *result.Run) error {
	return writeTable(w, run, result.DictionaryTable(run))
}

// WriteTable writes a table that does not depend on a run, as CSV (RFC 4180).
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

// appendCells appends the cells of a row without the line end.
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

// appendCell appends text as a cell that no spreadsheet runs (check.Cell), quoted if RFC 4180 requires
// it. It is not used for numbers, which stay numbers.
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
