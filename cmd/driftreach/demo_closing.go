package main

import (
	"fmt"
	"io"
	"path/filepath"
	"text/tabwriter"

	"driftreach/internal/batch"
	"driftreach/internal/result"
)

// writeDemoClosing prints one line for each quarter, the last quarter's table, and what to open next.
func writeDemoClosing(w io.Writer, runs []*result.Run, out string) {
	fmt.Fprint(w, "\nEight quarters of an invented country\n\n")
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprint(t, "quarter\tpoints\tstands\tin zone\tgross\tinfested\tcarried\tcanopy\tstream at risk\t\n")
	for _, run := range runs {
		total := result.Summarize(run)[0]
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t\n", run.Quarter, count(run.Records.Len()), count(total.Stands),
			count(total.InZone), acres(total.Gross), acres(total.Infested), acres(total.Change.Carried),
			acres(total.Canopy), kilometers(total.ReachAtRisk))
	}
	t.Flush()
	last := filepath.Join(out, runs[len(runs)-1].Quarter.String())
	closing{run: runs[len(runs)-1], out: last, open: "the last quarter; the others are beside it"}.write(w)
	page, _ := trendFiles(filepath.Join(out, trendFolder))
	fmt.Fprintf(w, "Open next:\n  %s  in a browser\n  %s  in a browser\n  %s  in a map viewer\n  %s  what to do in the coming quarters, in a spreadsheet\n  %s  in a spreadsheet\n  %s  to print for a crew; crew.gpx and crew.gpkg beside it for units and telephones\n  %s  in a calendar\n  %s  in a browser\n  %s  says what the country is\n",
		filepath.Join(last, "report.html"), filepath.Join(last, "map.html"), filepath.Join(last, "map.kmz"), filepath.Join(last, "plan.csv"), filepath.Join(last, "stands.csv"), filepath.Join(last, batch.CrewName), filepath.Join(last, "followup.ics"),
		page, filepath.Join(out, inputFolder, "README.md"))
}
