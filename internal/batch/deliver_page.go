package batch

import (
	"bytes"
	"fmt"
	"io"

	"driftreach/internal/mapfile"
	"driftreach/internal/report"
	"driftreach/internal/result"
	"driftreach/internal/trend"
)

// PageName is the file to open first.
const PageName = "report.html"

// page is the deliverable report.html, with what the page tells beside the run.
func (d Delivery) page(run *result.Run) (mapfile.Deliverable, error) {
	history, err := historyOf(run)
	if err != nil {
		return mapfile.Deliverable{}, fmt.Errorf("read back the summary: %w", err)
	}
	from := report.Sources{Version: d.Version, Settings: d.Settings.told(), History: history}
	return mapfile.Deliverable{
		Name: PageName, Role: "report to read and print", Rows: func(r *result.Run) int { return len(r.Stands) },
		Write: func(w io.Writer, run *result.Run, _ int) error { return report.WritePage(w, run, from) },
	}, nil
}

// historyOf reads the run's own summary as the trend reads it.
func historyOf(run *result.Run) (*trend.History, error) {
	var b bytes.Buffer
	if err := mapfile.WriteSummaryCSV(&b, run); err != nil {
		return nil, err
	}
	own, err := trend.ReadSummary(&b, run.Quarter)
	if err != nil {
		return nil, err
	}
	return trend.Assemble([]trend.Batch{own})
}

// told lists every setting as the page tells it.
func (s Settings) told() []report.Setting {
	all := SettingsTable()
	out := make([]report.Setting, len(all))
	for i, one := range all {
		out[i] = report.Setting{
			Key: one.Key, Value: valueText(one.at(&s)), Unit: one.Unit,
			Origin: string(one.Origin), Meaning: one.Meaning, Source: one.Source,
		}
	}
	return out
}
