package mapfile

import (
	"strings"

	"github.com/twpayne/go-kml/v3"

	"driftreach/internal/result"
)

// images names the image of a shape, from where the document lies. Images are named only
// in a KMZ, which carries them; a bare KML gets the viewer's own tinted marker.
type images func(shape) string

// mapStyles are the styles of a map's own document.
func mapStyles(run *result.Run, packed bool) []kml.Element {
	if packed {
		return styles(run, shape.file, balloonText(run))
	}
	return styles(run, nil, balloonText(run))
}

// fromPart leads from a part of a large map to the images of points.
const fromPart = "../"

// partStyles are the styles of a part of a large map. Its balloons end with the short
// caution of each: a globe that reads every part would hold the list as often as there
// are features.
func partStyles(run *result.Run) []kml.Element {
	return styles(run, func(s shape) string { return fromPart + s.file() }, balloonHead)
}

// styles returns the shared styles, one a look.
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

// numberStyle is the id of the style of numbers in the order of treatment.
const numberStyle = "stand-number"

// numberMark is that style: a dot with the number beside it.
func numberMark(icons images) kml.Element {
	l := look{fill: white, shape: small}
	return kml.SharedStyle(numberStyle, iconStyle(l, icons), kml.LabelStyle(kml.Scale(0.8)))
}

// iconScale makes icons 11 pixels wide: our choice, so that they leave the
// outlines of small stands in sight.
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
	// clear and next to nothing in size: some viewers take a size of 0 for none
	// given (OpenLayers 10), and outline clear text (the same)
	return kml.LabelStyle(kml.Color(white.at(0)), kml.Scale(0.01))
}

// balloonHead is what a balloon begins with.
const balloonHead = "<h3>$[name]</h3>$[description]"

// balloonText is the balloon of stands, reaches and zones in viewers that know
// BalloonStyle: the feature's own table, and the cautions once for all.
func balloonText(run *result.Run) string {
	return balloonHead + "<hr/>" + cautionList(run)
}

// workStyle is the shared style of planned works, icon and all.
func workStyle(balloon kml.Element) kml.Element {
	l := workLook()
	return kml.SharedStyle(l.id,
		kml.IconStyle(kml.Color(l.fill.at(1)), kml.Scale(1)),
		kml.LineStyle(kml.Color(l.line.at(1)), kml.Width(l.width)),
		kml.PolyStyle(kml.Color(l.fill.at(l.cover)), kml.Fill(true), kml.Outline(true)),
		balloon)
}

// hollow is the style of an area that shows what is under it.
func hollow() kml.Element { return kml.PolyStyle(kml.Fill(false), kml.Outline(true)) }
