package main

import (
	"io"
	"strings"

	"github.com/spf13/pflag"

	"driftreach/internal/batch"
	"driftreach/internal/folder"
	"driftreach/internal/mapfile"
	"driftreach/internal/report"
	"driftreach/internal/result"
	"driftreach/internal/settings"
	"driftreach/internal/trend"
)

func (p *program) trendCommand() *command {
	flags := pflag.NewFlagSet("trend", pflag.ContinueOnError)
	var to outFlags
	to.add(flags, "trend", "trend")
	var unchained bool
	flags.BoolVar(&unchained, "unchained", false, "warn of batches that do not continue each other, rather than refuse them")
	return &command{
		name: "trend", line: "show the trend over finished batches", usage: "DIR... [--out DIR] [--unchained]",
		text: `Reads the summaries of finished batches, one folder a quarter, in any order. It
says for the total, each stream and each reporting unit whether acreage,
treatment and stream at risk rise or fall, with the median slope, a rank test and
its p, and a verdict in words. It splits the change of acreage into observed, new
and not detected; acres carried because nobody went there are no change. Verdicts
on acreage rest on the changes between the last two looks at each place. Each
batch must continue the one before it. Fewer than five quarters give no verdict.
Missing quarters keep their place.`,
		example: "driftreach trend 2025Q4 2026Q1 2026Q2 2026Q3 --out trend",
		flags:   flags,
		run: func(args []string) error {
			if len(args) == 0 {
				return &usageError{"no batches", "name the folders of finished batches, for example `driftreach trend 2026Q2 2026Q3`"}
			}
			if to.dir == "" {
				return needOut("")
			}
			return p.runTrend(args, to, unchained)
		},
	}
}

// runTrend reads the batches in dirs, writes the trend's folder, and prints the closing table.
func (p *program) runTrend(dirs []string, to outFlags, unchained bool) error {
	if err := p.mayHoldTrend(to.dir, dirs); err != nil {
		return err
	}
	batches, err := p.readBatches("", dirs)
	if err != nil {
		return err
	}
	broken := chained(batches)
	if len(broken) > 0 && !unchained {
		return chainError(broken)
	}
	history, err := assemble(batches)
	if err != nil {
		return err
	}
	err = folder.Make(p.ctx, p.out(to, folder.Trend, guardedBatches(dirs...)), func(f *folder.Folder) error {
		return writeTrend(f, history, batches)
	})
	if err != nil {
		return err
	}
	for _, text := range broken {
		p.say("warning", text+"; its changes are taken from the levels")
	}
	for _, text := range differences(batches) {
		p.say("warning", text)
	}
	trendClosing{history: history, trends: history.Trends, ever: everOf(batches), out: to.dir}.write(p.stderr)
	return nil
}

// writeTrend writes the files of a trend and the manifest that lists them.
func writeTrend(f *folder.Folder, h *trend.History, batches []readBatch) error {
	trendTable, seriesTable := report.TrendTable(h.Trends), report.SeriesTable(h)
	everTable := result.EverTable(everOf(batches))
	files := []struct {
		file  mapfile.File
		write func(io.Writer) error
	}{
		{mapfile.File{Name: trendFile, Role: "slopes, tests and verdicts", Read: trendTable.Rows},
			func(w io.Writer) error { return mapfile.WriteTable(w, trendTable) }},
		{mapfile.File{Name: seriesFile, Role: "figures by quarter", Read: seriesTable.Rows},
			func(w io.Writer) error { return mapfile.WriteTable(w, seriesTable) }},
		{mapfile.File{Name: everFile, Role: "all ever mapped by stage", Read: everTable.Rows},
			func(w io.Writer) error { return mapfile.WriteTable(w, everTable) }},
		{mapfile.File{Name: chartFile, Role: "chart", Read: len(h.Quarters)},
			func(w io.Writer) error { return report.WriteTrend(w, h) }},
		{mapfile.File{Name: pageFile, Role: "page to read and print", Read: len(h.Quarters)},
			func(w io.Writer) error { return report.WriteTrendPage(w, pageSources(h, batches)) }},
	}
	m := mapfile.Manifest{
		Program: folder.Program, Version: version, Assumed: []string{}, Inputs: []mapfile.File{}, Outputs: []mapfile.File{}, Balance: []mapfile.Balance{},
		Counts: map[string]int{"batches": len(batches), "quarters": len(h.Quarters), "sections": len(h.Sections)},
	}
	for _, b := range batches {
		m.Inputs = append(m.Inputs, b.files...)
	}
	for _, one := range files {
		if err := f.Write(one.file.Name, one.write); err != nil {
			return err
		}
		for _, sum := range f.Files() {
			if sum.Name == one.file.Name {
				one.file.SHA256, one.file.Bytes, one.file.Accepted = sum.SHA256, sum.Bytes, one.file.Read
				m.Outputs = append(m.Outputs, one.file)
			}
		}
	}
	return f.Write(folder.ManifestName, func(w io.Writer) error { return mapfile.WriteManifest(w, m) })
}

// pageSources returns what the page shows. The texts about the programme are from the last batch.
func pageSources(h *trend.History, batches []readBatch) report.TrendSources {
	from := report.TrendSources{Version: version, History: h, Ever: everOf(batches), Programme: batch.ProgrammeOf(settings.ReportOf(batches[len(batches)-1].settings))}
	from.Assumed = batches[len(batches)-1].summary.DefaultShare
	for _, text := range differences(batches) {
		from.Apart = append(from.Apart, strings.ToUpper(text[:1])+text[1:]+".")
	}
	return from
}

// everOf joins the batches' stages of all stands ever mapped, by quarter.
func everOf(batches []readBatch) []result.EverRow {
	var rows []result.EverRow
	for _, b := range batches {
		rows = append(rows, b.ever...)
	}
	return rows
}
