package mapfile

import (
	"strings"

	"github.com/twpayne/go-kml/v3"

	"driftreach/internal/result"
)

// styles returns the shared styles, one a look. Images are named only in a KMZ,
// which carries them; a bare KML gets the viewer's own tinted marker.
func styles(run *result.Run, packed bool) []kml.Element {
	balloon := kml.BalloonStyle(kml.Text(balloonText(run)))
	var all []kml.Element
	for _, l := range looksOf(run) {
		style := kml.SharedStyle(l.id)
		if l.shape != noShape && l.shape != small {
			style.Append(iconStyle(l, packed), noLabel())
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
	all = append(all, numberMark(packed))
	if run.WorksGiven {
		all = append(all, workStyle(balloon))
	}
	return all
}

// numberStyle is the id of the style of numbers in the order of treatment.
const numberStyle = "stand-number"

// numberMark is that style: a dot with the number beside it.
func numberMark(packed bool) kml.Element {
	l := look{fill: white, shape: small}
	return kml.SharedStyle(numberStyle, iconStyle(l, packed), kml.LabelStyle(kml.Scale(0.8)))
}

// iconScale makes icons 11 pixels wide: our choice, so that they leave the
// outlines of small stands in sight.
const iconScale = 0.35

func iconStyle(l look, packed bool) kml.Element {
	tint := l.fill
	if tint == black {
		tint = 0x555555 // a black tint would hide the icon's rim
	}
	icon := kml.IconStyle(kml.Color(tint.at(1)), kml.Scale(iconScale))
	if packed {
		icon.Append(kml.Icon(kml.Href(l.shape.file())))
	}
	return icon
}

// noLabel hides the names of survey points, which would cover the map.
func noLabel() kml.Element {
	// clear and next to nothing in size: some viewers take a size of 0 for none
	// given (OpenLayers 10), and outline clear text (the same)
	return kml.LabelStyle(kml.Color(white.at(0)), kml.Scale(0.01))
}

// balloonText is the balloon of stands, reaches and zones in viewers that know
// BalloonStyle: the feature's own table, and the cautions once for all.
func balloonText(run *result.Run) string {
	return "<h3>$[name]</h3>$[description]<hr/>" + cautionList(run)
}
