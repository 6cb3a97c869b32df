package batch

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"slices"

	"driftreach/internal/earlier"
	"driftreach/internal/mapfile"
	"driftreach/internal/report"
	"driftreach/internal/result"
	"driftreach/internal/settings"
	"driftreach/internal/survey"
	"driftreach/internal/trend"
)

// PageName is the file to open first.
const PageName = "report.html"

// page is the deliverable report.html, with what the page tells beside the run.
func (d Delivery) page(run *result.Run) (mapfile.Deliverable, error) {
	history, err := historyOf(run, trend.Rules{Correlation: d.Settings.Trend.Correlation})
	if err != nil {
		return mapfile.Deliverable{}, fmt.Errorf("read back the history: %w", err)
	}
	from := report.Sources{Version: d.Version, Settings: settingsTold(d.Settings), History: history}
	return mapfile.Deliverable{
		Name: PageName, Role: "report to read and print", Rows: func(r *result.Run) int { return len(r.Stands) },
		Write: func(w io.Writer, run *result.Run, _ int) error { return report.WritePage(w, run, from) },
	}, nil
}

// historyOf reads the quarters up to this one as the trend reads them, from what
// history.csv holds.
func historyOf(run *result.Run, rules trend.Rules) (*trend.History, error) {
	var b bytes.Buffer
	if err := mapfile.WriteHistoryCSV(&b, run); err != nil {
		return nil, err
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil {
		return nil, err
	}
	header, rows := rows[0], rows[1:]
	at := slices.Index(header, "quarter")
	var batches []trend.Batch
	for len(rows) > 0 {
		n := 1
		for n < len(rows) && rows[n][at] == rows[0][at] {
			n++
		}
		one, err := summaryOf(header, rows[:n], rows[0][at])
		if err != nil {
			return nil, err
		}
		batches, rows = append(batches, one), rows[n:]
	}
	batches[len(batches)-1].TakenBack = earlier.TakenBack(run.LookChanges)
	return trend.Assemble(batches, rules)
}

// summaryOf reads the rows of one quarter.
func summaryOf(header []string, rows [][]string, name string) (trend.Batch, error) {
	quarter, err := survey.ParseQuarter(name)
	if err != nil {
		return trend.Batch{}, err
	}
	var b bytes.Buffer
	out := csv.NewWriter(&b)
	if err := out.WriteAll(append([][]string{header}, rows...)); err != nil {
		return trend.Batch{}, err
	}
	return trend.ReadSummary(&b, quarter)
}

// settingsTold lists every setting as the page tells it.
func settingsTold(s settings.Settings) []report.Setting {
	all := settings.Table()
	out := make([]report.Setting, len(all))
	for i, one := range all {
		out[i] = report.Setting{
			Key: one.Key, Value: one.Value(&s), Unit: one.Unit,
			Origin: string(one.Origin), Meaning: one.Meaning, Source: one.Source,
		}
	}
	return out
}
