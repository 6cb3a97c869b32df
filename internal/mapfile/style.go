package mapfile

import (
	"strings"

	"github.com/twpayne/go-kml/v3"

	"driftreach/internal/result"
)

// images returns the name of a shape's image, relative to the document. Images are named only in a KMZ,
// which contains them; in a plain KML the viewer uses its own tinted marker.
type images func(shape) string

// mapStyles are the styles of the map's main document.
func mapStyles(run *result.Run, packed bool) []kml.Element {
	if packed {
		return styles(run, shape.file, balloonText(run))
	}
	return styles(run, nil, balloonText(run))
}

// fromPart leads from a part of a large map to the images of points.
const fromPart = "../"

// partStyles are the styles of a part of a large map. Its balloons end with the short caution only:
// otherwise a globe that reads every part would hold the full list once for each feature.
func partStyles(run *result.Run) []kml.Element {
	return styles(run, func(s shape) string { return fromPart + s.file() }, balloonHead)
}

// styles returns the shared styles, one for each look.
func styles(run *result.Run, icons images, text string) []kml.Element {
	balloon := kml.BalloonStyle(kml.Text(text))
	var all []kml.Element
	for _, l := range looksOf(run) {
		style := kml.SharedStyle(l.id)
		if l.shape != noShape && l.shape != small {
			style.Append(iconStyle(l, icons), noLabel())
		}
		if l.width > 0 {
			style.Append(kml.LineStyle(kml.Color(l.line.at(1)), kml.Width(l.width)))
		}
		if l.cover > 0 {
			style.Append(kml.PolyStyle(kml.Color(l.fill.at(l.cover)), kml.Fill(true), kml.Outline(true)))
		} else if l.width > 0 && l.shape != noShape {
			style.Append(hollow())
		}
		if !strings.HasPrefix(l.id, "point-") {
			style.Append(balloon)
		}
		all = append(all, style)
	}
	all = append(all, numberMark(icons))
	if run.WorksGiven {
		all = append(all, workStyle(balloon))
	}
	return all
}

// numberStyle is the id of the style for numbers in the treatment order.
const numberStyle = "stand-number"

// numberMark is that style: a dot with the number beside it.
func numberMark(icons images) kml.Element {
	l := look{fill: white, shape: small}
	return kml.SharedStyle(numberStyle, iconStyle(l, icons), kml.LabelStyle(kml.Scale(0.8)))
}

// iconScale makes icons 11 pixels wide. Our choice: they leave the outlines of small stands visible.
const iconScale = 0.35

func iconStyle(l look, icons images) kml.Element {
	tint := l.fill
	if tint == black {
		tint = 0x555555 // a black tint would hide the icon's rim
	}
	icon := kml.IconStyle(kml.Color(tint.at(1)), kml.Scale(iconScale))
	if icons != nil {
		icon.Append(kml.Icon(kml.Href(icons(l.shape))))
	}
	return icon
}

// noLabel hides the names of survey points, which would cover the map.
func noLabel() kml.Element {
	// transparent and almost of size 0: some viewers take size 0 as not given, and outline transparent
	// text (both OpenLayers 10)
	return kml.LabelStyle(kml.Color(white.at(0)), kml.Scale(0.01))
}

// balloonHead is the beginning of a balloon.
const balloonHead = "<h3>$[name]</h3>$[description]"

// balloonText is the balloon of stands, reaches and zones in viewers that support BalloonStyle: the
// feature's own table, and the cautions.
func balloonText(run *result.Run) string {
	return balloonHead + "<hr/>" + cautionList(run)
}

// workStyle is the shared style of planned works, including its icon.
func workStyle(balloon kml.Element) kml.Element {
	l := workLook()
	return kml.SharedStyle(l.id,
		kml.IconStyle(kml.Color(l.fill.at(1)), kml.Scale(1)),
		kml.LineStyle(kml.Color(l.line.at(1)), kml.Width(l.width)),
		kml.PolyStyle(kml.Color(l.fill.at(l.cover)), kml.Fill(true), kml.Outline(true)),
		balloon)
}

// hollow is the style of an area without fill.
func hollow() kml.Element { return kml.PolyStyle(kml.Fill(false), kml.Outline(true)) }
