package earlier

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"slices"
	"strings"

	"driftreach/internal/check"
	"driftreach/internal/field"
	"driftreach/internal/lineage"
	"driftreach/internal/mapfile"
	"driftreach/internal/result"
	"driftreach/internal/survey"
	"driftreach/internal/trend"
)

// history reads the summaries of the earlier batches of the chain.
func (e *opened) history() (result.History, error) {
	text, err := e.text(mapfile.HistoryFile)
	if err != nil {
		return result.History{}, err
	}
	rows, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	if err != nil {
		return result.History{}, e.damaged(mapfile.HistoryFile + ": " + err.Error())
	}
	if len(rows) < 2 {
		return result.History{}, e.damaged(mapfile.HistoryFile + " has no summary in it")
	}
	columns, old := trend.PresentNames(rows[0])
	if len(old) > 0 {
		e.told = append(e.told, check.Finding{Rule: lineage.RuleColumns(), File: e.shown(mapfile.HistoryFile), Message: renamedMessage(columns, rows[0])})
	}
	h := result.History{Columns: columns, Rows: rows[1:]}
	at := slices.Index(h.Columns, field.Quarter)
	if at < 0 {
		return h, e.damaged(mapfile.HistoryFile + " has no column quarter")
	}
	var last survey.Quarter
	for i, row := range h.Rows {
		q, err := survey.ParseQuarter(row[at])
		if err != nil || q.Begin().Before(last.Begin()) {
			return h, e.damaged(fmt.Sprintf("%s: row %d is out of order", mapfile.HistoryFile, i+1))
		}
		last = q
	}
	if last != e.quarter {
		return h, e.damaged(fmt.Sprintf("%s ends with %s, and the batch is of %s", mapfile.HistoryFile, last, e.quarter))
	}
	if h.Batches, err = trend.HistoryOf(h.Columns, h.Rows); err != nil {
		return h, e.damaged(mapfile.HistoryFile + ": " + err.Error())
	}
	return h, nil
}

// renamedMessage says which columns of the previous batch have new names now.
func renamedMessage(now, then []string) string {
	var changed []string
	for i := range now {
		if now[i] != then[i] {
			changed = append(changed, then[i]+" is now "+now[i])
		}
	}
	return "an earlier version named columns otherwise: " + strings.Join(changed, ", ") + "; they were read"
}
