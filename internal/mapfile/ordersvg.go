package mapfile

import (
	"fmt"
	"io"
	"strings"

	"driftreach/geo"
	"driftreach/internal/drift"
	"driftreach/internal/priority"
	"driftreach/internal/result"
)

// The chart's frame, in its own pixels. Our choice: small enough for a printed page.
const (
	chartWidth, chartHeight     = 480, 392
	chartLeft, chartRight       = 56, 16
	chartTop, chartBottom       = 36, 140
	plotWidth, plotHeight       = chartWidth - chartLeft - chartRight, chartHeight - chartTop - chartBottom
	mostChartPoints         int = 400 // more steps than pixels show nothing more
)

// writeOrderSVG writes order.svg: the share of exposure removed against acres treated, for the
// recommended order, for the best possible sets and for random orders. It needs no network and follows
// the reader's light or dark setting.
func writeOrderSVG(w io.Writer, run *result.Run) error {
	acres, percent := orderCurve(run)
	last := len(acres) - 1
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %d" role="img" aria-labelledby="t d">
<title id="t">Exposure taken away against acres treated, %s</title>
<desc id="d">%s</desc>
<style>
svg{font:12px system-ui,sans-serif;fill:#222}.axis{stroke:#666;fill:none}.chance{stroke:#666;stroke-dasharray:4 4;stroke-width:1.5;fill:none}
.curve{stroke:#0072b2;stroke-width:2.5;fill:none}.frontier{stroke:#b45309;stroke-width:1.5;fill:none}
@media(prefers-color-scheme:dark){svg{fill:#ddd}.axis,.chance{stroke:#999}.curve{stroke:#56b4e9}.frontier{stroke:#e69f00}}
</style>
`, chartWidth, chartHeight, run.Quarter, describeCurve(run, acres, percent))
	fmt.Fprintf(&b, "<text x=\"%d\" y=\"20\" font-weight=\"bold\">Exposure taken away, %% of all</text>\n", 8)
	for _, tick := range []int{0, 25, 50, 75, 100} {
		y := chartY(float64(tick))
		fmt.Fprintf(&b, "<path class=\"axis\" d=\"M%d %.1fh%d\" opacity=\".4\"/><text x=\"%d\" y=\"%.1f\" text-anchor=\"end\">%d</text>\n",
			chartLeft, y, plotWidth, chartLeft-6, y+4, tick)
	}
	for _, share := range []float64{0, 0.5, 1} {
		fmt.Fprintf(&b, "<text x=\"%.1f\" y=\"%d\" text-anchor=\"middle\">%s</text>\n",
			chartLeft+share*plotWidth, chartHeight-chartBottom+18, geo.Acres(share*acres[last]).Text())
	}
	fmt.Fprintf(&b, "<text x=\"%d\" y=\"%d\" text-anchor=\"middle\">acres treated</text>\n",
		chartLeft+plotWidth/2, chartHeight-chartBottom+36)
	for _, line := range [][2]string{{"chance", pointsPath(run, run.Against.Chance)}, {"frontier", pointsPath(run, run.Against.Frontier)}} {
		if line[1] != "" {
			fmt.Fprintf(&b, "<path class=\"%s\" d=\"%s\"/>\n", line[0], line[1])
		}
	}
	fmt.Fprintf(&b, "<path class=\"curve\" d=\"%s\"/>\n", curvePath(acres, percent))
	writeKey(&b, run)
	b.WriteString("</svg>\n")
	_, err := io.WriteString(w, b.String())
	return err
}

// writeKey writes the legend of the lines, and what the rule means.
func writeKey(b *strings.Builder, run *result.Run) {
	y := chartHeight - chartBottom + 56
	for _, row := range [][2]string{
		{"curve", "the recommended order"},
		{"frontier", "no set of stands that keeps upstream first can take more"},
		{"chance", fmt.Sprintf("chance: mean of %d random orders that keep upstream first", run.Against.Draws)},
	} {
		fmt.Fprintf(b, "<path class=\"%s\" d=\"M%d %dh24\"/><text x=\"%d\" y=\"%d\">%s</text>\n", row[0], chartLeft, y-4, chartLeft+32, y, row[1])
		y += 18
	}
	for _, line := range ruleSaid {
		fmt.Fprintf(b, "<text x=\"%d\" y=\"%d\" font-size=\"10.5\">%s</text>\n", chartLeft, y, line)
		y += 14
	}
}

// ruleSaid explains "upstream first", in the lines of the chart.
var ruleSaid = [...]string{
	"Upstream first: no stand is treated before one that can seed it. Plants regrow:",
	"what was treated has to be looked at again, and treated again where it lives.",
}

// orderCurve returns the running sums, beginning with 0.
func orderCurve(run *result.Run) (acres, percent []float64) {
	acres, percent = []float64{0}, []float64{0}
	all := exposureOfAll(run)
	sum := 0.0
	for _, step := range run.Steps {
		if step.Treat {
			s := &run.Stands[step.Stand]
			sum += (1 - s.Done.Share) * float64(s.Infested.Acres())
		}
		taken := 0.0
		if all > 0 {
			taken = float64(100 * step.Exposure / all)
		}
		acres, percent = append(acres, sum), append(percent, taken)
	}
	return acres, percent
}

// describeCurve describes the curves in a few sentences, for readers who cannot see them.
func describeCurve(run *result.Run, acres, percent []float64) string {
	total := acres[len(acres)-1]
	for i := range acres {
		if percent[i] < 50 {
			continue
		}
		said := fmt.Sprintf("Half of the exposure is taken away after %s of %s acres.", geo.Acres(acres[i]).Text(), geo.Acres(total).Text())
		if all := exposureOfAll(run); len(run.Against.Chance) > 0 && all > 0 {
			here := geo.Acres(acres[i])
			said += fmt.Sprintf(" For as many acres no set of stands that keeps upstream first takes more than %.0f %%, and random orders that do take %.0f %% on the mean.",
				100*priority.At(run.Against.Frontier, here)/all, 100*priority.At(run.Against.Chance, here)/all)
		}
		return said + " " + strings.Join(ruleSaid[:], " ")
	}
	return fmt.Sprintf("%s acres in all; no stand releases fragments.", geo.Acres(total).Text())
}

// exposureOfAll is the exposure that treating everything removes.
func exposureOfAll(run *result.Run) drift.AmountKm {
	if n := len(run.Steps); n > 0 {
		return run.Steps[n-1].Exposure
	}
	return 0
}

// pointsPath draws a curve through points; blank if there is nothing to draw.
func pointsPath(run *result.Run, points []priority.Point) string {
	all := exposureOfAll(run)
	if len(points) == 0 || all <= 0 {
		return ""
	}
	acres, percent := make([]float64, len(points)), make([]float64, len(points))
	for i, p := range points {
		acres[i], percent[i] = float64(p.Acres), float64(100*p.Exposure/all)
	}
	return curvePath(acres, percent)
}

func chartY(percent float64) float64 {
	return chartTop + plotHeight*(1-percent/100)
}

// curvePath draws the curve, thinned if there are more steps than pixels.
func curvePath(acres, percent []float64) string {
	last := len(acres) - 1
	stride := max(1, last/mostChartPoints)
	var b strings.Builder
	for i := 0; i <= last; i += stride {
		if i+stride > last {
			i = last
		}
		x := float64(chartLeft)
		if acres[last] > 0 {
			x += plotWidth * acres[i] / acres[last]
		}
		fmt.Fprintf(&b, "%c%.1f %.1f", "ML"[min(i, 1)], x, chartY(percent[i]))
	}
	return b.String()
}
