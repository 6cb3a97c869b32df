// Command margins holds the percentiles of acreage against brute force: the stands
// made again for every draw of the errors.
package main

import (
	"flag"
	"fmt"
	"math"

	"driftreach/internal/margin"
	"driftreach/internal/stand"
)

func main() {
	draws := flag.Int("draws", 400, "draws of each survey")
	flag.Parse()
	none := margin.Settings{Position: 1e-3}
	at := func(change func(*margin.Settings)) margin.Settings {
		s := none
		change(&s)
		return s
	}
	cases := []struct {
		name string
		s    margin.Settings
	}{
		{"2 m", at(func(s *margin.Settings) { s.Position = 2 })},
		{"5 m", at(func(s *margin.Settings) { s.Position = 5 })},
		{"8 m", at(func(s *margin.Settings) { s.Position = 8 })},
		{"patch", at(func(s *margin.Settings) { s.PatchOwn, s.PatchShared = 0.4, 0.1 })},
		{"all", margin.DefaultSettings()},
	}
	rules := stand.DefaultSettings()
	for _, f := range families() {
		now, stands := mapped(f.records, rules)
		for _, c := range cases {
			forms := formsOf(f.records, stands, rules, c.s)
			drawn := brute(f.records, rules, c.s, *draws)
			fmt.Printf("%-24s %-6s", f.name, c.name)
			for k := range now {
				d := drawn[k]
				n := float64(len(d))
				mean, sq := 0.0, 0.0
				for _, v := range d {
					mean += v / n
				}
				for _, v := range d {
					sq += (v - mean) * (v - mean) / (n - 1)
				}
				b := forms[k].Area(geoArea(now[k]))
				p := func(v float64) float64 { return 100 * (v/now[k] - 1) }
				fmt.Printf(" | sd %5.2f %5.2f  mean %+5.2f  p10 %+6.2f %+6.2f p90 %+6.2f %+6.2f", 100*float64(forms[k].Sigma())/now[k], 100*math.Sqrt(sq)/now[k], p(mean),
					p(float64(b.P10)), p(d[len(d)/10]), p(float64(b.P90)), p(d[len(d)*9/10]))
			}
			fmt.Println()
		}
	}
}
