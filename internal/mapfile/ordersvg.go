package mapfile

import (
	"fmt"
	"io"
	"strings"

	"driftreach/internal/result"
)

// The chart's frame, in pixels of its own: our choice, small enough for a page
// of print.
const (
	chartWidth, chartHeight     = 480, 300
	chartLeft, chartRight       = 56, 16
	chartTop, chartBottom       = 36, 48
	plotWidth, plotHeight       = chartWidth - chartLeft - chartRight, chartHeight - chartTop - chartBottom
	mostChartPoints         int = 400 // more steps than pixels tell nothing
)

// WriteOrderSVG writes order.svg: the share of exposure taken away against
// acres treated in the recommended order. It needs no network and follows a
// reader's light or dark setting.
func WriteOrderSVG(w io.Writer, run *result.Run) error {
	acres, percent := orderCurve(run)
	last := len(acres) - 1
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %d" role="img" aria-labelledby="t d">
<title id="t">Exposure taken away against acres treated, %s</title>
<desc id="d">%s</desc>
<style>
svg{font:12px system-ui,sans-serif;fill:#222}.axis{stroke:#666;fill:none}.even{stroke:#666;stroke-dasharray:4 4;fill:none}
.curve{stroke:#0072b2;stroke-width:2.5;fill:none}
@media(prefers-color-scheme:dark){svg{fill:#ddd}.axis,.even{stroke:#999}.curve{stroke:#56b4e9}}
</style>
`, chartWidth, chartHeight, run.Quarter, describeCurve(acres, percent))
	fmt.Fprintf(&b, "<text x=\"%d\" y=\"20\" font-weight=\"bold\">Exposure taken away, %% of all</text>\n", 8)
	for _, tick := range []int{0, 25, 50, 75, 100} {
		y := chartY(float64(tick))
		fmt.Fprintf(&b, "<path class=\"axis\" d=\"M%d %.1fh%d\" opacity=\".4\"/><text x=\"%d\" y=\"%.1f\" text-anchor=\"end\">%d</text>\n",
			chartLeft, y, plotWidth, chartLeft-6, y+4, tick)
	}
	for _, share := range []float64{0, 0.5, 1} {
		fmt.Fprintf(&b, "<text x=\"%.1f\" y=\"%d\" text-anchor=\"middle\">%.1f</text>\n",
			chartLeft+share*plotWidth, chartHeight-chartBottom+18, share*acres[last])
	}
	fmt.Fprintf(&b, "<text x=\"%d\" y=\"%d\" text-anchor=\"middle\">acres treated, in the recommended order</text>\n",
		chartLeft+plotWidth/2, chartHeight-10)
	fmt.Fprintf(&b, "<path class=\"even\" d=\"M%d %.1fL%d %.1f\"/>\n<path class=\"curve\" d=\"%s\"/>\n</svg>\n",
		chartLeft, chartY(0), chartLeft+plotWidth, chartY(100), curvePath(acres, percent))
	_, err := io.WriteString(w, b.String())
	return err
}

// orderCurve returns the running sums from 0 on.
func orderCurve(run *result.Run) (acres, percent []float64) {
	acres, percent = []float64{0}, []float64{0}
	all := 0.0
	if n := len(run.Steps); n > 0 {
		all = run.Steps[n-1].Exposure
	}
	sum := 0.0
	for _, step := range run.Steps {
		if step.Treat {
			sum += float64(run.Stands[step.Stand].Infested.Acres())
		}
		taken := 0.0
		if all > 0 {
			taken = 100 * step.Exposure / all
		}
		acres, percent = append(acres, sum), append(percent, taken)
	}
	return acres, percent
}

// describeCurve says the curve in a sentence, for who cannot see it.
func describeCurve(acres, percent []float64) string {
	total := acres[len(acres)-1]
	for i := range acres {
		if percent[i] >= 50 {
			return fmt.Sprintf("Half of the exposure is taken away after %.2f of %.2f acres. The broken line is what an even spread would give.", acres[i], total)
		}
	}
	return fmt.Sprintf("%.2f acres in all; no stand releases fragments.", total)
}

func chartY(percent float64) float64 {
	return chartTop + plotHeight*(1-percent/100)
}

// curvePath draws the curve, thinned where there are more steps than pixels.
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
