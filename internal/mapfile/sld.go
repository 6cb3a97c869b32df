package mapfile

import "fmt"

// appendSLD appends the style of a layer as a Styled Layer Descriptor 1.1 with rules in Symbology
// Encoding 1.1 (OGC 05-078r4, 05-077r4), with lengths in pixels. Signs that are not shown at first are
// left out, since the format cannot express that.
func appendSLD(b []byte, layer string, signs []sign, geometry string) []byte {
	b = append(b, `<?xml version="1.0" encoding="UTF-8"?>
<StyledLayerDescriptor version="1.1.0" xmlns="http://www.opengis.net/sld" xmlns:se="http://www.opengis.net/se" xmlns:ogc="http://www.opengis.net/ogc">
<NamedLayer>`...)
	b = appendElement(b, "se:Name", layer)
	b = append(appendElement(append(b, "<UserStyle>"...), "se:Name", layer), "<se:FeatureTypeStyle>\n"...)
	for _, s := range signs {
		if s.off {
			continue
		}
		b = appendElement(append(b, "<se:Rule>"...), "se:Name", s.look.label)
		if len(s.where) > 0 {
			b = appendFilter(b, s.where)
		}
		for _, kind := range sldShapes(geometry) {
			b = appendSymbolizer(b, s.look, kind)
		}
		b = append(b, "</se:Rule>\n"...)
	}
	return append(b, "</se:FeatureTypeStyle></UserStyle></NamedLayer></StyledLayerDescriptor>\n"...)
}

// sldShapes returns the symbols of a layer. A line symbol draws the outline of an area, and a point
// symbol draws a mark inside any shape (05-077r4, sections 11.1 and 11.3). Layers of mixed shapes use
// these.
func sldShapes(geometry string) []string {
	if all := shapesOf(geometry); len(all) == 1 {
		return all
	}
	return []string{"line", "marker"}
}

func appendSymbolizer(b []byte, l look, kind string) []byte {
	switch {
	case kind == "line":
		return append(appendStroke(append(b, "<se:LineSymbolizer>"...), l.line, l.width), "</se:LineSymbolizer>"...)
	case kind == "fill":
		b = append(b, "<se:PolygonSymbolizer>"...)
		if l.cover > 0 {
			b = appendFill(b, l.fill, l.cover)
		}
		return append(appendStroke(b, l.line, l.width), "</se:PolygonSymbolizer>"...)
	case l.shape == ring:
		return appendMark(appendMark(b, "circle", white, 0, rim, 0.6*iconSize, 4), "circle", white, 0, white, 0.6*iconSize, 2)
	}
	if l.shape == cross { // some programs draw only its stroke
		return appendMark(b, "x", l.fill, 1, l.fill, iconSize, 3)
	}
	return appendMark(b, sldMarks[l.shape], l.fill, 1, rim, iconSize, 1)
}

// sldMarks are the well-known names for the shapes (05-077r4, section 11.3.2).
var sldMarks = [...]string{"circle", "circle", "square", "triangle", "x", "circle", "circle"}

func appendMark(b []byte, name string, fill ink, cover float64, edge ink, size, width float64) []byte {
	b = appendElement(append(b, "<se:PointSymbolizer><se:Graphic><se:Mark>"...), "se:WellKnownName", name)
	b = append(appendStroke(appendFill(b, fill, cover), edge, width), "</se:Mark>"...)
	return append(appendElement(b, "se:Size", fmt.Sprintf("%.4g", size)), "</se:Graphic></se:PointSymbolizer>"...)
}

func appendFill(b []byte, c ink, cover float64) []byte {
	return fmt.Appendf(b, `<se:Fill><se:SvgParameter name="fill">%s</se:SvgParameter><se:SvgParameter name="fill-opacity">%g</se:SvgParameter></se:Fill>`, c.hex(), cover)
}

func appendStroke(b []byte, c ink, width float64) []byte {
	return fmt.Appendf(b, `<se:Stroke><se:SvgParameter name="stroke">%s</se:SvgParameter><se:SvgParameter name="stroke-width">%g</se:SvgParameter></se:Stroke>`, c.hex(), width)
}

// appendFilter appends conditions as an OGC filter (04-095, 1.1.0).
func appendFilter(b []byte, where []condition) []byte {
	b = append(b, "<ogc:Filter>"...)
	if len(where) > 1 {
		b = append(b, "<ogc:And>"...)
	}
	for _, c := range where {
		b = appendCondition(b, c)
	}
	if len(where) > 1 {
		b = append(b, "</ogc:And>"...)
	}
	return append(b, "</ogc:Filter>"...)
}

// appendCondition appends one condition. Flags are tested by inequality with the other value: QGIS
// compares flags both as numbers and as words, and only then do both give the same result.
func appendCondition(b []byte, c condition) []byte {
	compare := func(element, word string) []byte {
		b = appendElement(append(append(append(b, '<'), element...), '>'), "ogc:PropertyName", c.field)
		if word != "" {
			b = appendElement(b, "ogc:Literal", word)
		}
		return append(append(append(b, "</"...), element...), '>')
	}
	switch c.must {
	case isTrue:
		return compare("ogc:PropertyIsNotEqualTo", "false")
	case isFalse:
		return compare("ogc:PropertyIsNotEqualTo", "true")
	case isOther:
		return compare("ogc:PropertyIsNotEqualTo", c.word)
	case isBlank:
		return compare("ogc:PropertyIsNull", "")
	case isKnown:
		b = append(b, "<ogc:Not>"...)
		return append(compare("ogc:PropertyIsNull", ""), "</ogc:Not>"...)
	}
	return compare("ogc:PropertyIsEqualTo", c.word)
}
