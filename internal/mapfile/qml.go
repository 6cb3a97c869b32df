package mapfile

import (
	"fmt"
	"strings"
)

// pointsPerPixel converts screen pixels to print points: an inch has 96 of the one and 72 of the other
// (W3C CSS Values 3, section 6.2).
const pointsPerPixel = 72. / 96

// iconSize is the width of icons in pixels.
const iconSize = iconPixels * iconScale

// rim is the dark edge of icons.
const rim ink = 0x111111

// appendQML appends the style of a layer in the form of QGIS 3: one symbol for each sign, selected by
// rules. geometry is the SQL type of the layer; mixed geometries get symbols for all kinds of shapes.
// number is the expression of a label; blank for none.
func appendQML(b []byte, signs []sign, geometry, number string) []byte {
	b = append(b, "<!DOCTYPE qgis PUBLIC 'http://mrcc.com/qgis.dtd' 'SYSTEM'>\n"...)
	b = append(b, `<qgis version="3.22.0" styleCategories="Symbology|Labeling" labelsEnabled="`...)
	b = append(append(b, flagDigit(number != "")...), "\">\n"...)
	b = append(b, `<renderer-v2 type="RuleRenderer" symbollevels="0" enableorderby="0" forceraster="0"><rules key="root">`+"\n"...)
	var symbols []byte
	n := 0
	for _, s := range signs {
		for _, kind := range shapesOf(geometry) {
			b = fmt.Appendf(b, `<rule key="%s-%d" symbol="%d" label="`, s.look.id, n, n)
			b = append(appendXML(b, s.look.label), '"')
			if len(s.where) > 0 {
				b = append(appendXML(append(b, ` filter="`...), expression(s.where)), '"')
			}
			if s.off {
				b = append(b, ` checkstate="0"`...)
			}
			b = append(b, "/>\n"...)
			symbols = appendSymbol(symbols, n, s.look, kind)
			n++
		}
	}
	b = append(append(append(b, "</rules><symbols>\n"...), symbols...), "</symbols></renderer-v2>\n"...)
	if number != "" {
		b = append(appendXML(append(b, `<labeling type="simple"><settings calloutType="simple"><text-style fieldName="`...), number),
			`" isExpression="1" fontSize="8" fontSizeUnit="Point" textColor="17,17,17,255" fontWeight="75"><text-buffer bufferDraw="1" bufferSize="0.8" bufferSizeUnits="MM" bufferColor="255,255,255,255"/></text-style>`...)
		b = append(b, `<placement placement="1" centroidInside="1"/><rendering obstacle="0"/></settings></labeling>`+"\n"...)
	}
	return append(b, "</qgis>\n"...)
}

// shapesOf returns the kinds of symbols that a layer needs, by its SQL type.
func shapesOf(geometry string) []string {
	switch geometry {
	case "POINT", "MULTIPOINT":
		return []string{"marker"}
	case "MULTILINESTRING":
		return []string{"line"}
	case "MULTIPOLYGON":
		return []string{"fill"}
	}
	return []string{"fill", "line", "marker"}
}

// appendSymbol appends symbol n: a style as QGIS draws it.
func appendSymbol(b []byte, n int, l look, kind string) []byte {
	b = fmt.Appendf(b, `<symbol type="%s" name="%d" alpha="1" clip_to_extent="1" force_rhr="0">`, kind, n)
	switch {
	case kind == "line":
		b = appendSymbolLayer(b, "SimpleLine", "line_color", l.line.rgba(1), "line_width", points(l.width), "line_width_unit", "Point",
			"capstyle", "round", "joinstyle", "round")
	case kind == "fill":
		b = appendSymbolLayer(b, "SimpleFill", "color", l.fill.rgba(l.cover), "style", "solid",
			"outline_color", l.line.rgba(1), "outline_width", points(l.width), "outline_width_unit", "Point", "outline_style", "solid", "joinstyle", "round")
	case l.shape == ring: // a white ring between dark ones
		b = appendMarker(b, "circle", white.rgba(0), rim, 0.6*iconSize, 4)
		b = appendMarker(b, "circle", white.rgba(0), white, 0.6*iconSize, 2)
	default:
		b = appendMarker(b, markerNames[l.shape], l.fill.rgba(1), rim, iconSize, 1)
	}
	return append(b, "</symbol>\n"...)
}

func appendMarker(b []byte, name, fill string, edge ink, size, width float64) []byte {
	angle := "0"
	if name == "cross_fill" {
		angle = "45"
	}
	return appendSymbolLayer(b, "SimpleMarker", "name", name, "angle", angle, "color", fill, "size", points(size), "size_unit", "Point",
		"outline_color", edge.rgba(1), "outline_width", points(width), "outline_width_unit", "Point", "outline_style", "solid")
}

// markerNames are the names of the shapes in QGIS.
var markerNames = [...]string{"circle", "circle", "square", "triangle", "cross_fill", "circle", "circle"}

// appendSymbolLayer appends one layer of a symbol. options are names and values in turn.
func appendSymbolLayer(b []byte, class string, options ...string) []byte {
	b = fmt.Appendf(b, `<layer class="%s" enabled="1" pass="0" locked="0"><Option type="Map">`, class)
	for i := 0; i < len(options); i += 2 {
		b = fmt.Appendf(b, `<Option type="QString" name="%s" value="%s"/>`, options[i], options[i+1])
	}
	return append(b, "</Option></layer>"...)
}

// rgba returns the colour in the form of QGIS: red, green, blue and opacity, 0 to 255.
func (c ink) rgba(opacity float64) string {
	q := c.at(opacity)
	return fmt.Sprintf("%d,%d,%d,%d", q.R, q.G, q.B, q.A)
}

func points(pixels float64) string { return fmt.Sprintf("%.4g", pixels*pointsPerPixel) }

func flagDigit(yes bool) string {
	if yes {
		return "1"
	}
	return "0"
}

// expression returns conditions as a QGIS expression.
func expression(where []condition) string {
	var all []string
	for _, c := range where {
		name := quotedName(c.field)
		word := "'" + strings.ReplaceAll(c.word, "'", "''") + "'"
		all = append(all, map[demand]string{
			isWord: name + " = " + word, isOther: name + " <> " + word, isTrue: name + " = true", isFalse: name + " = false",
			isKnown: name + " IS NOT NULL", isBlank: name + " IS NULL",
		}[c.must])
	}
	return strings.Join(all, " AND ")
}
