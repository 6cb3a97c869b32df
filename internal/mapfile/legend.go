package mapfile

import (
	"bytes"
	"fmt"
	"strings"

	"github.com/twpayne/go-kml/v3"

	"driftreach/internal/survey"
)

// legendFile is the legend's image inside a KMZ.
const legendFile = "files/legend.png"

// legend adds a folder with the legend as text and, in a KMZ, as an image in
// the corner of the screen.
func (d *document) legend() {
	d.folder("Legend", legendTable(shownLooks(d.run)), func() {
		if d.packed {
			d.add(func(_ *mapper, b *bytes.Buffer) error { return marshal(b, legendOverlay()) })
		}
	})
}

// legendOverlay puts the image in the lower left corner, a little away from the edge.
func legendOverlay() kml.Element {
	corner := func(x, y float64) kml.Vec2 {
		return kml.Vec2{X: x, Y: y, XUnits: kml.UnitsPixels, YUnits: kml.UnitsPixels}
	}
	return kml.ScreenOverlay(
		kml.Name("Legend"),
		kml.Icon(kml.Href(legendFile)),
		kml.OverlayXY(kml.Vec2{XUnits: kml.UnitsFraction, YUnits: kml.UnitsFraction}),
		kml.ScreenXY(corner(12, 36)),
		kml.Size(kml.Vec2{X: -1, Y: -1, XUnits: kml.UnitsPixels, YUnits: kml.UnitsPixels}),
	)
}

// legendTable returns the styles as an HTML table for balloons: a swatch and its meaning, with
// differences other than colour in words. Swatches use old HTML attributes that every viewer's balloon
// understands.
func legendTable(all []look) string {
	var b strings.Builder
	b.WriteString("<table>")
	for _, l := range all {
		hue := l.fill
		if l.shape == noShape {
			hue = l.line
		}
		fmt.Fprintf(&b, `<tr><td bgcolor="#%06X">&#160;&#160;&#160;&#160;</td><td>%s%s</td></tr>`, uint32(hue), l.label, manner(l))
	}
	b.WriteString("</table>")
	return b.String()
}

// manner says in words how a style differs from others besides its colour.
func manner(l look) string {
	switch l.shape {
	case small:
		if l.cover == 0 {
			return ": hollow"
		}
		if l.line == blue {
			return ": heavy blue outline, dense fill"
		}
		return ": thin outline, light fill"
	case ring:
		if l.width > 0 {
			return ": thin dark outline, nothing in it"
		}
		return ": ring"
	case disc, square, triangle, cross:
		return ": " + [...]string{"disc", "square", "triangle", "cross"}[l.shape-disc]
	}
	if l.cover == 0 {
		return fmt.Sprintf(": line %g pixels wide", l.width)
	}
	if l.id == workLook().id {
		return ": broad black line, areas pale within it"
	}
	return ": pale area along the water"
}

// LegendPage returns the web page of which legend.png is a picture, made by the script viewlegend. It
// changes only if styles change.
func LegendPage() string {
	var b strings.Builder
	b.WriteString(`<!doctype html><meta charset="utf-8"><style>
body{margin:0;font:12px "DejaVu Sans",sans-serif;color:#111}
div{box-sizing:border-box;width:244px;height:290px;padding:6px 10px;background:#fffffff0;border:1px solid #777;border-radius:6px}
table{border-spacing:0}td{height:18px;padding:0 6px 0 0;white-space:nowrap}th{font-weight:normal;font-size:10px;padding-right:6px;color:#333}
td.s{text-align:center}svg{display:block;margin:auto}</style>
<div><table><tr><th>zone<th>upland<th>point<th></tr>
`)
	for _, s := range survey.Statuses() {
		point := pointLook(&survey.Record{Detected: true, Status: s})
		fmt.Fprintf(&b, "<tr><td class=s>%s<td class=s>%s<td class=s>%s<td>%s</tr>\n",
			swatch(standLook(s, true)), swatch(standLook(s, false)), swatch(point), statusLabels[s])
	}
	fmt.Fprintf(&b, "<tr><td class=s>%s<td class=s>%s<td><td>nobody visited</tr>\n",
		swatch(carriedLook(survey.Untreated, true)), swatch(carriedLook(survey.Untreated, false)))
	absent := pointLook(&survey.Record{})
	fmt.Fprintf(&b, "<tr><td><td><td class=s>%s<td>not detected</tr>\n", swatch(absent))
	fmt.Fprintf(&b, "<tr><td class=s>%s<td><td><td>not detected since</tr></table>\n<table>", swatch(absentLook()))
	for _, c := range classes {
		l := reachLook(c)
		fmt.Fprintf(&b, "<tr><td class=s>%s<td>%s</tr>\n", swatch(l), strings.ToLower(l.label))
	}
	fmt.Fprintf(&b, "<tr><td class=s>%s<td>aquatic zone</tr>\n", swatch(zoneLook()))
	fmt.Fprintf(&b, "<tr><td class=s>%s<td>look here next</tr>\n", swatch(nextLook(false)))
	fmt.Fprintf(&b, "<tr><td class=s>%s<td>planned work to warn</tr></table></div>\n", swatch(workLook()))
	return b.String()
}

// swatch draws a style as SVG.
func swatch(l look) string {
	switch {
	case l.shape == noShape && l.cover == 0:
		return fmt.Sprintf(`<svg width="34" height="14"><path d="M0 7H34" stroke="#%06X" stroke-width="%g"/></svg>`, uint32(l.line), l.width)
	case l.shape == noShape || l.shape == small || l.width > 0:
		return fmt.Sprintf(`<svg width="34" height="14"><rect x="2" y="2" width="30" height="10" fill="#%06X" fill-opacity="%g" stroke="#%06X" stroke-width="%g"/></svg>`,
			uint32(l.fill), l.cover, uint32(l.line), l.width)
	}
	marks := [...]string{
		`<circle cx="7" cy="7" r="5"/>`, `<rect x="2.5" y="2.5" width="9" height="9"/>`, `<path d="M7 1.5L12.5 12H1.5Z"/>`,
		`<path d="M4 1.5L7 4.5L10 1.5L12.5 4L9.5 7L12.5 10L10 12.5L7 9.5L4 12.5L1.5 10L4.5 7L1.5 4Z"/>`,
		`<path fill-rule="evenodd" d="M7 1.2A5.8 5.8 0 1 1 6.99 1.2ZM7 4.6A2.4 2.4 0 1 0 7.01 4.6Z"/>`,
	}
	return fmt.Sprintf(`<svg width="14" height="14" fill="#%06X" stroke="#111" stroke-width="1">%s</svg>`, uint32(l.fill), marks[l.shape-disc])
}
