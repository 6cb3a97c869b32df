package batch

import (
	"fmt"
	"io"
	"slices"

	"driftreach/internal/earlier"
	"driftreach/internal/mapfile"
	"driftreach/internal/report"
	"driftreach/internal/result"
	"driftreach/internal/settings"
	"driftreach/internal/trend"
	"driftreach/internal/webmap"
)

// pageName is the file that a reader should open first.
const pageName = "report.html"

// CrewName is the file with the sheets for a crew.
const CrewName = "crew.html"

// crewSheets is the deliverable crew.html.
func crewSheets() mapfile.Deliverable {
	return mapfile.OneFile(CrewName, "sheets for a crew to print", report.CrewSheets, func(w io.Writer, run *result.Run, _ int) error {
		return report.WriteCrew(w, run)
	})
}

// page is the deliverable report.html, including what the page reports beyond the run.
func (d Delivery) page(run *result.Run) (mapfile.Deliverable, error) {
	history, err := historyOf(run, trend.Rules{Correlation: d.Settings.Trend.Correlation})
	if err != nil {
		return mapfile.Deliverable{}, fmt.Errorf("tell the history: %w", err)
	}
	from := report.Sources{Version: d.Version, Settings: settingsTold(d.Settings), History: history.Whole(), Programme: ProgrammeOf(d.Settings.Report)}
	rows := func(r *result.Run) int { return len(r.Stands) }
	return mapfile.OneFile(pageName, "report to read and print", rows, func(w io.Writer, run *result.Run, _ int) error {
		return report.WritePage(w, run, from)
	}), nil
}

// browserMap is the deliverable map.html.
var browserMap = mapfile.OneFile(webmap.FileName, "map for a browser", func(r *result.Run) int { return len(r.Stands) },
	func(w io.Writer, run *result.Run, _ int) error { return webmap.Write(w, run) }).Taking(mapfile.Long)

// ProgrammeOf returns what the pages say about a programme, from the settings.
func ProgrammeOf(s settings.ReportSettings) report.Programme {
	return report.Programme{Title: s.Title, Name: s.Programme, GoalAcres: s.GoalAcres, GoalYear: s.GoalYear}
}

// historyOf builds the history up to this quarter as a trend does, from the chain's earlier figures and
// this batch's.
func historyOf(run *result.Run, rules trend.Rules) (*trend.History, error) {
	now := result.HistoryBatch(run)
	now.TakenBack = earlier.TakenBack(run.LookChanges)
	return trend.Assemble(append(slices.Clone(run.History.Batches), now), rules)
}

// settingsTold lists every setting as the page shows it.
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
