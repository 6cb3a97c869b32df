package mapfile

import (
	"fmt"
	"io"
	"strings"

	"driftreach/internal/drift"
	"driftreach/internal/plan"
	"driftreach/internal/result"
)

// writePlanSVG writes plan.svg: what a larger or smaller budget for first treatments would remove in
// the first planned quarter, with the upper bound for any set and the quarter's own budget. It needs no
// network and follows the reader's light or dark setting.
func writePlanSVG(w io.Writer, run *result.Run) error {
	curve := run.Plan.Curve
	money, exposure := plan.Cost(0), drift.AmountKm(0)
	for _, p := range curve {
		money, exposure = max(money, p.Money), max(exposure, p.Bound, p.Exposure)
	}
	free, quarter := plan.Cost(0), run.Quarter.Next()
	if len(run.Plan.Quarters) > 0 {
		free = run.Plan.Quarters[0].Free
	}
	at := func(v plan.Cost, exposed drift.AmountKm) (x, y float64) {
		return float64(chartLeft + plotWidth*v/max(money, 1e-300)), float64(chartTop + plotHeight*(1-exposed/max(exposure, 1e-300)))
	}
	var best, bound strings.Builder
	for i, p := range curve {
		x, y := at(p.Money, p.Exposure)
		fmt.Fprintf(&best, "%c%.1f %.1f", "ML"[min(i, 1)], x, y)
		x, y = at(p.Money, max(p.Bound, p.Exposure))
		fmt.Fprintf(&bound, "%c%.1f %.1f", "ML"[min(i, 1)], x, y)
	}
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %d" role="img" aria-labelledby="t d">
<title id="t">What more money would take away, %s</title>
<desc id="d">The line is what the best sets found take away, the broken line the frontier that no set can pass (under the line where the two are one), the upright one what first treatments may cost.</desc>
<style>
svg{font:12px system-ui,sans-serif;fill:#222}.axis{stroke:#666;fill:none}.even{stroke:#666;stroke-dasharray:4 4;fill:none}
.curve{stroke:#0072b2;stroke-width:2.5;fill:none}
@media(prefers-color-scheme:dark){svg{fill:#ddd}.axis,.even{stroke:#999}.curve{stroke:#56b4e9}}
</style>
<text x="8" y="20" font-weight="bold">Exposure taken away, index x km</text>
`, chartWidth, chartHeight, quarter)
	for _, share := range []float64{0, 0.5, 1} {
		cost, removed := plan.Cost(share)*money, drift.AmountKm(share)*exposure
		x, y := at(cost, removed)
		fmt.Fprintf(&b, "<path class=\"axis\" d=\"M%d %.1fh%d\" opacity=\".4\"/><text x=\"%d\" y=\"%.1f\" text-anchor=\"end\">%.3g</text>\n", chartLeft, y, plotWidth, chartLeft-6, y+4, removed)
		fmt.Fprintf(&b, "<text x=\"%.1f\" y=\"%d\" text-anchor=\"middle\">%s</text>\n", x, chartHeight-chartBottom+18, run.Plan.Text(cost))
	}
	fmt.Fprintf(&b, "<text x=\"%d\" y=\"%d\" text-anchor=\"middle\">%s for first treatments in %s</text>\n", chartLeft+plotWidth/2, chartHeight-chartBottom+36, appendXML(nil, run.Plan.Unit), quarter)
	if len(curve) > 0 {
		x, _ := at(free, 0)
		writePlanKey(&b, best.String() == bound.String())
		fmt.Fprintf(&b, "<path class=\"axis\" d=\"M%.1f %dv%d\"/>\n<path class=\"even\" d=\"%s\"/>\n<path class=\"curve\" d=\"%s\"/>\n", x, chartTop, plotHeight, bound.String(), best.String())
	}
	b.WriteString("</svg>\n")
	_, err := io.WriteString(w, b.String())
	return err
}

// writePlanKey writes the legend of the lines. If the best sets found reach the upper bound everywhere,
// it is one line.
func writePlanKey(b *strings.Builder, one bool) {
	y := chartHeight - chartBottom + 56
	row := func(path, words string) {
		fmt.Fprintf(b, "<path %s/><text x=\"%d\" y=\"%d\">%s</text>\n", path, chartLeft+32, y, words)
		y += 18
	}
	line := fmt.Sprintf(`class="curve" d="M%d %dh24"`, chartLeft, y-4)
	if one {
		row(line, "the best set for so much: none that keeps the rules takes more")
	} else {
		row(line, "the best set found for so much")
		row(fmt.Sprintf(`class="even" d="M%d %dh24"`, chartLeft, y-4), "no set that keeps the rules can take more")
	}
	row(fmt.Sprintf(`class="axis" d="M%d %dv14"`, chartLeft+12, y-12), "what the budget leaves for first treatments")
}
