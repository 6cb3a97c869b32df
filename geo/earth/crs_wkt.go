package earth

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// node is one bracketed element of a WKT text.
type node struct {
	word     string   // in upper case
	values   []string // quoted texts without quotes, numbers and bare words, in order
	children []*node
}

// deepestCRS limits nested brackets. Our choice: EPSG's own stay below ten.
const deepestCRS = 30

// nodeAt reads the element that begins at text[i:] and returns the place after it.
func nodeAt(text string, i, depth int) (*node, int, error) {
	start := i
	for i < len(text) && (isLetter(text[i]) || text[i] == '_' || i > start && text[i] >= '0' && text[i] <= '9') {
		i++
	}
	n := &node{word: strings.ToUpper(text[start:i])}
	i = blankless(text, i)
	if n.word == "" || i >= len(text) || text[i] != '[' && text[i] != '(' || depth > deepestCRS {
		return nil, i, fmt.Errorf("byte %d of the definition: no WKT: %w", i, ErrUnsupported)
	}
	for i++; ; i++ {
		i = blankless(text, i)
		if i >= len(text) {
			return nil, i, fmt.Errorf("the definition ends inside %s: %w", n.word, ErrUnsupported)
		}
		next, err := n.member(text, i, depth)
		if err != nil {
			return nil, i, err
		}
		i = blankless(text, next)
		switch {
		case i < len(text) && (text[i] == ']' || text[i] == ')'):
			return n, i + 1, nil
		case i >= len(text) || text[i] != ',':
			return nil, i, fmt.Errorf("byte %d of the definition: a comma or bracket is missing: %w", i, ErrUnsupported)
		}
	}
}

// member reads one value or child of n.
func (n *node) member(text string, i, depth int) (next int, err error) {
	if text[i] == '"' {
		var b strings.Builder
		for i++; i < len(text); i++ {
			if text[i] != '"' {
				b.WriteByte(text[i])
				continue
			}
			if i+1 >= len(text) || text[i+1] != '"' {
				n.values = append(n.values, b.String())
				return i + 1, nil
			}
			b.WriteByte('"')
			i++
		}
		return i, fmt.Errorf("a quote is never closed: %w", ErrUnsupported)
	}
	end := i
	for end < len(text) && !strings.ContainsRune(",[]()", rune(text[end])) {
		end++
	}
	if end < len(text) && (text[end] == '[' || text[end] == '(') {
		child, next, err := nodeAt(text, i, depth+1)
		if err != nil {
			return i, err
		}
		n.children = append(n.children, child)
		return next, nil
	}
	n.values = append(n.values, strings.TrimSpace(text[i:end]))
	return end, nil
}

func isLetter(b byte) bool { return b|0x20 >= 'a' && b|0x20 <= 'z' }

func blankless(text string, i int) int {
	for i < len(text) && text[i] <= ' ' {
		i++
	}
	return i
}

// child returns the first child called one of words.
func (n *node) child(words ...string) *node {
	if n == nil {
		return nil
	}
	for _, c := range n.children {
		for _, w := range words {
			if c.word == w {
				return c
			}
		}
	}
	return nil
}

// text returns value i, blank when there is none.
func (n *node) text(i int) string {
	if n == nil || i >= len(n.values) {
		return ""
	}
	return n.values[i]
}

// number returns value i, NaN when there is none.
func (n *node) number(i int) float64 {
	v, err := strconv.ParseFloat(n.text(i), 64)
	if err != nil {
		return math.NaN()
	}
	return v
}

func parseWKT(text string) (CRS, error) {
	root, end, err := nodeAt(text, 0, 0)
	if err != nil {
		return CRS{}, err
	}
	if strings.TrimSpace(text[end:]) != "" {
		return CRS{}, fmt.Errorf("text follows the definition: %w", ErrUnsupported)
	}
	d, err := root.definition()
	if err != nil {
		return CRS{}, err
	}
	return d.build()
}

// definition reads the values of the tree.
func (n *node) definition() (*definition, error) {
	switch n.word {
	case "COMPD_CS", "COMPOUNDCRS": // horizontal and vertical: the first is used
		if horizontal := n.child("PROJCS", "GEOGCS", "PROJCRS", "PROJECTEDCRS", "GEOGCRS", "GEOGRAPHICCRS", "GEODCRS", "BOUNDCRS"); horizontal != nil {
			return horizontal.definition()
		}
	case "BOUNDCRS":
		return n.bound()
	case "GEOGCS", "GEOGCRS", "GEOGRAPHICCRS", "GEODCRS", "GEODETICCRS", "BASEGEOGCRS", "BASEGEODCRS":
		return n.geographic()
	case "PROJCS", "PROJCRS", "PROJECTEDCRS":
		return n.projected()
	}
	return nil, fmt.Errorf("%s %q is no geographic or projected system: %w", n.word, n.text(0), ErrUnsupported)
}

// bound reads a system that includes its own shift to another.
func (n *node) bound() (*definition, error) {
	source := n.child("SOURCECRS")
	if source == nil || len(source.children) == 0 {
		return nil, fmt.Errorf("a bound system has no source: %w", ErrUnsupported)
	}
	d, err := source.children[0].definition()
	if err != nil {
		return nil, err
	}
	d.shift = []float64{}
	if t := n.child("ABRIDGEDTRANSFORMATION"); t != nil {
		for _, c := range t.children {
			if c.word == "PARAMETER" {
				d.shift = append(d.shift, c.number(1))
			}
			if c.word == "PARAMETERFILE" {
				return nil, fmt.Errorf("%s: its datum shift needs the grid %s: %w", d.name, c.text(1), ErrUnsupported)
			}
		}
		if len(d.shift) == 7 {
			d.shift[6] = (d.shift[6] - 1) * 1e6 // here as a factor
		}
	}
	return d, nil
}

// geographic reads a geographic system; its unit is degrees of one unit.
func (n *node) geographic() (*definition, error) {
	d := &definition{name: n.text(0), unit: 1}
	datum := n.child("DATUM", "ENSEMBLE", "TRF", "GEODETICDATUM")
	ellipsoid := datum.child("SPHEROID", "ELLIPSOID")
	if ellipsoid == nil {
		return nil, fmt.Errorf("%s: the definition has no ellipsoid: %w", d.name, ErrUnsupported)
	}
	d.datum = datum.text(0)
	d.ellipsoid.A = ellipsoid.number(1) * unitOf(ellipsoid.child("LENGTHUNIT", "UNIT"), 1)
	if inverse := ellipsoid.number(2); inverse != 0 {
		d.ellipsoid.F = 1 / inverse
	}
	if shift := datum.child("TOWGS84"); shift != nil {
		for i := range shift.values {
			d.shift = append(d.shift, shift.number(i))
		}
	}
	if meridian := n.child("PRIMEM", "PRIMEMERIDIAN"); meridian != nil {
		d.meridian = meridian.number(1)
	}
	unit := n.child("UNIT", "ANGLEUNIT")
	if unit == nil {
		unit = n.child("AXIS").child("ANGLEUNIT", "UNIT")
	}
	d.unit = degreeUnit(unit)
	return d, nil
}

func (n *node) projected() (*definition, error) {
	base := n.child("GEOGCS", "BASEGEOGCRS", "BASEGEODCRS", "GEOGCRS")
	if base == nil {
		return nil, fmt.Errorf("%s: the definition has no geographic system: %w", n.text(0), ErrUnsupported)
	}
	d, err := base.geographic()
	if err != nil {
		return nil, err
	}
	angle := d.unit // for parameters without their own unit
	d.name = n.text(0)
	unit := n.child("UNIT", "LENGTHUNIT")
	if unit == nil {
		unit = n.child("AXIS").child("LENGTHUNIT", "UNIT")
	}
	d.unit = unitOf(unit, 1)
	conversion := n.child("CONVERSION")
	if conversion == nil {
		conversion = n
	}
	method := conversion.child("PROJECTION", "METHOD")
	if d.method = method.text(0); d.method == "" {
		return nil, fmt.Errorf("%s: the definition has no projection: %w", d.name, ErrUnsupported)
	}
	for _, c := range conversion.children {
		if c.word == "PARAMETER" {
			d.set(c.text(0), c.parameter(d.unit, angle))
		}
	}
	for _, c := range n.children {
		switch c.word {
		case "AXIS":
			d.axes = append(d.axes, strings.ToLower(c.text(1)))
		case "EXTENSION":
			d.extension = c.text(1)
		}
	}
	return d, nil
}

// parameter returns a PARAMETER's value in degrees, metres or as it is.
func (n *node) parameter(length, angle float64) float64 {
	v := n.number(1)
	switch unit := n.child("ANGLEUNIT", "LENGTHUNIT", "SCALEUNIT", "UNIT"); {
	case unit != nil && unit.word == "ANGLEUNIT":
		return v * degreeUnit(unit)
	case unit != nil:
		return v * snapUnit(unit.number(1))
	}
	return inUnits(n.text(0), v, length, angle)
}

// inUnits converts a parameter without a unit by the unit that its name implies.
func inUnits(name string, v, length, angle float64) float64 {
	switch plain := plainName(name); {
	case strings.Contains(plain, "scale"), strings.Contains(plain, "type"):
		return v
	case strings.Contains(plain, "easting"), strings.Contains(plain, "northing"), strings.Contains(plain, "height"):
		return v * snapUnit(length)
	}
	return v * angle
}

func unitOf(n *node, without float64) float64 {
	if n == nil {
		return without
	}
	return snapUnit(n.number(1))
}

// degreeUnit returns the degrees in one unit of angle; exactly 1 for the degree, which definitions
// give as rounded radians.
func degreeUnit(n *node) float64 {
	if n == nil {
		return 1
	}
	return snapDegrees(n.number(1))
}

func snapDegrees(radians float64) float64 {
	v := radians * degreesPerRadian
	if math.Abs(v-1) < 1e-9 {
		return 1
	}
	return v
}
