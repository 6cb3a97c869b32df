// Command margins compares the percentiles of acreage with brute force, in which the stands are
// made again for every draw of the errors. It prints a table for scripts/MEASURED.md.
//
//	go run ./scripts/margins [-draws N] [FAMILY]
package main

import (
	"flag"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"driftreach/geo"
	"driftreach/internal/margin"
	"driftreach/internal/stand"
)

func main() {
	draws := flag.Int("draws", 400, "draws of each survey")
	flag.Parse()
	tried := slices.DeleteFunc(families(), func(f family) bool { return !strings.HasPrefix(f.name, flag.Arg(0)) })
	write(os.Stdout, tried, cases, *draws)
}

// cases are the errors tried: each kind alone, then all with their defaults.
var cases = []struct {
	name string
	off  margin.Settings
}{
	{"position 2 m", margin.Settings{Position: 2}},
	{"position 8 m", margin.Settings{Position: 8}},
	{"patches", margin.Settings{Position: 1e-3, PatchOwn: 0.4, PatchShared: 0.1}},
	{"all", margin.DefaultSettings()},
}

// held is the percentiles of one acreage, to first order and from the draws, in percent of the
// mapped acreage.
type held struct{ p10, p90, drawn10, drawn90, mean float64 }

// against returns the results for infested, gross and canopy acres of a survey, by both methods.
func against(f family, off margin.Settings, draws int) [3]held {
	rules := stand.DefaultSettings()
	now, stands := mapped(f.records, rules)
	forms := formsOf(f.records, stands, rules, off)
	drawn := brute(f.records, rules, off, draws)
	var out [3]held
	for k := range now {
		percent := func(v float64) float64 { return 100 * (v/now[k] - 1) }
		d, r := drawn[k], forms[k].Area(geo.SquareMeters(now[k]))
		mean := 0.0
		for _, v := range d {
			mean += v / float64(len(d))
		}
		out[k] = held{
			percent(float64(r.P10)), percent(float64(r.P90)),
			percent(d[len(d)/10]), percent(d[len(d)*9/10]), percent(mean),
		}
	}
	return out
}

// write prints infested acres of every family and case.
func write(out io.Writer, families []family, cases []struct {
	name string
	off  margin.Settings
}, draws int,
) {
	fmt.Fprint(out, "| infested acres, %: P10 to P90, by brute force, mean of the draws |")
	for _, c := range cases {
		fmt.Fprintf(out, " %s |", c.name)
	}
	fmt.Fprint(out, "\n|---|")
	for range cases {
		fmt.Fprint(out, "--:|")
	}
	fmt.Fprintln(out)
	for _, f := range families {
		fmt.Fprintf(out, "| %s |", f.name)
		for _, c := range cases {
			h := against(f, c.off, draws)[0]
			fmt.Fprintf(out, " %+.1f to %+.1f, %+.1f to %+.1f, %+.1f |", h.p10, h.p90, h.drawn10, h.drawn90, h.mean)
		}
		fmt.Fprintln(out)
	}
}
