package verify

import (
	"encoding/json"
	"path"
	"slices"

	"driftreach/internal/field"
	"driftreach/internal/mapfile"
)

// twins are layers that are also in the folder as a table, with the same rows.
var twins = []struct{ layer, table string }{{standsFile, standsTable}, {mapfile.ReachesFile, mapfile.ReachesTable}, {mapfile.NoticesFile, mapfile.NoticesTable}}

// compared says whether a file's figures are compared with those of another.
func compared(name string) bool {
	return slices.ContainsFunc(twins, func(t struct{ layer, table string }) bool { return name == t.layer || name == t.table }) ||
		slices.ContainsFunc(repeated, func(t repetition) bool { return name == t.table }) ||
		slices.Contains([]string{absentFile, summaryFile, historyFile, unitsTable, workTable, productsTable, waterTable}, name)
}

// beside compares the figures of tables with those of layers, and the history with the summary. Missing
// and unreadable files are reported elsewhere.
func (r *Report) beside(kept map[string][]byte) {
	for _, t := range twins {
		if layer, table := kept[t.layer], kept[t.table]; layer != nil && table != nil {
			r.twin(t.layer, t.table, layer, rowsOf(table))
		}
	}
	if history, summary := rowsOf(kept[historyFile]), rowsOf(kept[summaryFile]); len(history) > 1 && len(summary) > 1 {
		r.history(history, summary)
	}
	r.tables(kept)
	r.workbook(kept)
}

// inWorkbook says whether a file is the workbook, or a table that the workbook may have as a sheet.
func inWorkbook(name string, m *mapfile.Manifest) bool {
	there := slices.ContainsFunc(m.Outputs, func(f mapfile.File) bool { return f.Name == mapfile.WorkbookFile })
	return there && (name == mapfile.WorkbookFile || path.Ext(name) == ".csv")
}

// twin compares the figures of a table with those of its layer, as written. Texts are not compared,
// because the two formats write them differently. A property that the layer's first feature has and
// another lacks is blank.
func (r *Report) twin(layerName, tableName string, layer []byte, rows [][]string) {
	var collection struct {
		Features []struct {
			Properties map[string]json.RawMessage `json:"properties"`
		} `json:"features"`
	}
	if json.Unmarshal(layer, &collection) != nil || len(rows) == 0 {
		return
	}
	if len(collection.Features) != len(rows)-1 {
		r.addf(tableName, "has %d rows, and %s has %d features", len(rows)-1, layerName, len(collection.Features))
		return
	}
	var wrong faults
	for i, row := range rows[1:] {
		for k, column := range rows[0] {
			said := string(collection.Features[i].Properties[column])
			if _, known := collection.Features[0].Properties[column]; said == "" && known {
				said = "null"
			}
			if said == "" || said[0] == '"' || said[0] == '[' || said == "null" && row[k] == "" || said == row[k] {
				continue
			}
			wrong.addf("row %d: %s is %.40q, and %s says %.40s", i+1, column, row[k], layerName, said)
		}
	}
	r.told(tableName, &wrong)
}

// history compares each quarter's rows with each other, and the last quarter's with the summary.
func (r *Report) history(history, summary [][]string) {
	byQuarter := r.quarters(historyFile, history)
	if byQuarter == nil {
		return
	}
	last := byQuarter[r.Quarter]
	if len(last) != len(summary) {
		r.addf(historyFile, "has %d rows of %s, and %s has %d", max(0, len(last)-1), r.Quarter, summaryFile, len(summary)-1)
		return
	}
	for k, column := range summary[0] {
		at := slices.Index(history[0], column)
		if at < 0 {
			continue
		}
		for i := range summary[1:] {
			if is, said := last[i+1][at], summary[i+1][k]; is != said {
				r.addf(historyFile, "%s, row %d: %s is %.40q, and %s says %.40q", r.Quarter, i+1, column, is, summaryFile, said)
				break
			}
		}
	}
}

// quarters checks the rows of each quarter of a table against their total. It returns the rows by
// quarter, each with the header; nil if the table has no quarters.
func (r *Report) quarters(name string, rows [][]string) map[string][][]string {
	quarter := slices.Index(rows[0], field.Quarter)
	if quarter < 0 {
		r.addf(name, "has no column quarter")
		return nil
	}
	byQuarter := map[string][][]string{}
	var order []string
	for _, row := range rows[1:] {
		q := row[quarter]
		if byQuarter[q] == nil {
			byQuarter[q] = [][]string{rows[0]}
			order = append(order, q)
		}
		byQuarter[q] = append(byQuarter[q], row)
	}
	for _, q := range order {
		for _, p := range Rows(byQuarter[q]) {
			r.addf(name, "%s: %s", q, p)
		}
	}
	return byQuarter
}
