package mapfile

import (
	"bytes"

	"github.com/twpayne/go-kml/v3"
)

// legendFile is the legend's image inside a KMZ.
const legendFile = "files/legend.png"

// legend adds a folder with the legend as text and, in a KMZ, as an image in
// the corner of the screen.
func (d *document) legend() {
	d.folder("Legend", legendTable(), func() {
		if d.packed {
			d.add(func(_ *mapper, b *bytes.Buffer) error { return marshal(b, legendOverlay()) })
		}
	})
}

// legendOverlay hangs the image in the lower left corner, a little off the edge.
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
