package wellknown

import (
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"driftreach/internal/format"
)

// blob is a geometry in well-known binary: a byte order, a type, and counts, numbers and geometries as
// they come (OGC 06-103r4, 8.2).
func blob(order binary.AppendByteOrder, kind uint32, parts ...any) []byte {
	b := []byte{0}
	if order == binary.LittleEndian {
		b[0] = 1
	}
	b = order.AppendUint32(b, kind)
	for _, part := range parts {
		switch v := part.(type) {
		case int:
			b = order.AppendUint32(b, uint32(v))
		case float64:
			b = order.AppendUint64(b, math.Float64bits(v))
		case []byte:
			b = append(b, v...)
		}
	}
	return b
}

// described is a shape as text: its name, positions with a bar where a part ends and two where a polygon
// does, and what is wrong.
func described(s *format.Shape) string {
	out := s.Name
	for i, p := range s.Points {
		out += fmt.Sprintf(" %v,%v", p[0], p[1])
		for k, end := range s.Parts {
			if end == i+1 {
				out += "|"
				if area := s.Kind == format.PolygonShape || s.Kind == format.MultiPolygonShape; area && slices.Contains(s.Polygons, k+1) {
					out += "|"
				}
			}
		}
	}
	if s.Wrong != "" {
		out += "!" + s.Wrong
	}
	return strings.TrimSpace(out)
}

// TestBinaryKinds: every kind in both byte orders, with heights and measures by the standard's numbers
// (1000, 2000, 3000) and by the flags of PostGIS, which are left out; by hand.
func TestBinaryKinds(t *testing.T) {
	nan := math.NaN()
	for _, order := range []binary.AppendByteOrder{binary.LittleEndian, binary.BigEndian} {
		point := func(x float64) []byte { return blob(order, 1, x, 2.0) }
		line := blob(order, 2, 2, 1.0, 2.0, 3.0, 4.0)
		area := blob(order, 3, 2, 3, 0.0, 0.0, 4.0, 0.0, 0.0, 0.0, 3, 1.0, 1.0, 2.0, 1.0, 1.0, 1.0)
		for _, c := range []struct {
			name, want string
			bytes      []byte
		}{
			{"point", "Point 1,2", point(1)}, {"empty point", "Point", blob(order, 1, nan, nan)}, {"half a point", "Point 1,NaN", blob(order, 1, 1.0, nan)},
			{"with height", "Point 1,2", blob(order, 1001, 1.0, 2.0, 3.0)}, {"with measure", "Point 1,2", blob(order, 2001, 1.0, 2.0, 3.0)}, {"with both", "Point 1,2", blob(order, 3001, 1.0, 2.0, 3.0, 4.0)},
			{"flag of height", "Point 1,2", blob(order, 0x80000001, 1.0, 2.0, 3.0)}, {"flag of measure", "Point 1,2", blob(order, 0x40000001, 1.0, 2.0, 3.0)}, {"both flags", "Point 1,2", blob(order, 0xc0000001, 1.0, 2.0, 3.0, 4.0)},
			{"line", "LineString 1,2 3,4|", line}, {"empty line", "LineString", blob(order, 2, 0)}, {"line with heights", "LineString 1,2 3,4|", blob(order, 1002, 2, 1.0, 2.0, 9.0, 3.0, 4.0, 9.0)},
			{"polygon", "Polygon 0,0 4,0 0,0| 1,1 2,1 1,1||", area}, {"empty polygon", "Polygon", blob(order, 3, 0)},
			{"points", "MultiPoint 1,2 3,2", blob(order, 4, 2, point(1), point(3))}, {"points with an empty one", "MultiPoint 1,2", blob(order, 4, 2, point(1), blob(order, 1, nan, nan))},
			{"lines", "MultiLineString 1,2 3,4| 1,2 3,4|", blob(order, 5, 2, line, line)}, {"polygons", "MultiPolygon 0,0 4,0 0,0| 1,1 2,1 1,1|| 0,0 4,0 0,0| 1,1 2,1 1,1||", blob(order, 6, 2, area, area)},
			{"collection", "GeometryCollection", blob(order, 7, 0)}, {"a curve of no kind", "curve or surface of no kind", blob(order, 13, 0)}, {"a surface of no kind", "curve or surface of no kind", blob(order, 14, 0)},
			{"polyhedral surface", "surface of triangles or patches", blob(order, 15, 0)}, {"TIN", "surface of triangles or patches", blob(order, 1016, 0)}, {"triangle", "surface of triangles or patches", blob(order, 17, 0)},
			{"18", "geometry of an unknown kind", blob(order, 18, 0)}, {"0", "geometry of an unknown kind", blob(order, 0, 0)},
			{"curve", "CompoundCurve 1,2 3,4|", blob(order, 9, 1, line)}, {"curves", "MultiCurve 1,2 3,4| 1,2 3,4|", blob(order, 11, 2, line, blob(order, 9, 1, line))},
			{"pieces that meet", "CompoundCurve 1,2 3,4 5,6|", blob(order, 9, 2, line, blob(order, 2, 2, 3.0, 4.0, 5.0, 6.0))}, {"pieces that do not", "CompoundCurve 1,2 3,4 3,5 5,6|", blob(order, 9, 2, line, blob(order, 2, 2, 3.0, 5.0, 5.0, 6.0))},
			{"surface", "CurvePolygon 1,2 3,4| 1,2 3,4||", blob(order, 10, 2, line, blob(order, 9, 1, line))}, {"surfaces", "MultiSurface 0,0 4,0 0,0| 1,1 2,1 1,1|| 1,2 3,4||", blob(order, 12, 2, area, blob(order, 10, 1, line))},
		} {
			var s format.Shape
			if srid := ReadBinary(c.bytes, &s, 100); srid != 0 || described(&s) != c.want {
				t.Errorf("%s, %v: %d, %s, want %s", c.name, order, srid, described(&s), c.want)
			}
		}
		var s format.Shape
		if srid := ReadBinary(blob(order, 0x20000001, 32633, 1.0, 2.0), &s, 9); srid != 32633 || described(&s) != "Point 1,2" {
			t.Errorf("%v: SRID %d, %s", order, srid, described(&s))
		}
	}
}

// TestBrokenBinary: each is refused with what is wrong, and nothing is left of it.
func TestBrokenBinary(t *testing.T) {
	const early, many = "the geometry ends early", "the geometry has more vertices than limits.vertices allows"
	little := binary.LittleEndian
	point, line, arc := blob(little, 1, 1.0, 2.0), blob(little, 2, 2, 1.0, 2.0, 3.0, 4.0), blob(little, 8, 3, 0.0, 0.0, 1.0, 1.0, 2.0, 0.0)
	for _, c := range []struct {
		name, want string
		bytes      []byte
	}{
		{"nothing", early, nil}, {"four bytes", early, point[:4]}, {"half a point", early, point[:20]}, {"no SRID", early, blob(little, 0x20000001)},
		{"another byte order", "the geometry is no well-known binary", append([]byte{2}, point[1:]...)},
		{"line without its count", early, line[:7]}, {"line cut off", early, line[:len(line)-1]}, {"a count too large", early, blob(little, 2, math.MaxInt32, 1.0, 2.0)}, {"rings that are none", early, blob(little, 3, 2, 1, 1.0, 2.0)},
		{"a line among points", "a multi geometry holds another kind", blob(little, 4, 1, line)}, {"members cut off", early, blob(little, 4, 2, point)},
		{"a point as a curve", "a curve or surface holds another kind", blob(little, 9, 1, point)}, {"a curve of curves", "a curve or surface holds another kind", blob(little, 9, 1, blob(little, 9, 1, line))}, {"a line as a surface", "a curve or surface holds another kind", blob(little, 12, 1, line)},
		{"an area as a ring", "a curve or surface holds another kind", blob(little, 10, 1, blob(little, 3, 0))},
		{"an arc of two", "an arc has not three positions, or five, or seven", blob(little, 8, 2, 0.0, 0.0, 1.0, 1.0)}, {"an arc of four", "an arc has not three positions, or five, or seven", blob(little, 8, 4, 0.0, 0.0, 1.0, 1.0, 2.0, 0.0, 3.0, 0.0)},
		{"an arc of too many chords", many, arc}, {"five points", many, blob(little, 2, 5, 1.0, 2.0, 1.0, 2.0, 1.0, 2.0, 1.0, 2.0, 1.0, 2.0)}, {"five in parts", many, blob(little, 5, 3, line, line, line)},
	} {
		var s format.Shape
		ReadBinary(c.bytes, &s, 4)
		if s.Wrong != c.want || len(s.Points)+len(s.Parts)+len(s.Polygons) > 0 || s.Kind != format.NoShape {
			t.Errorf("%s: %s, want %s", c.name, described(&s), c.want)
		}
	}
	var s format.Shape
	if ReadBinary(blob(little, 5, 2, line, line), &s, 4); s.Wrong != "" || len(s.Points) != 4 {
		t.Errorf("four points where four are allowed: %s", described(&s))
	}
	if ReadBinary(blob(little, 8, 0), &s, 4); described(&s) != "CircularString" {
		t.Errorf("an empty arc: %s", described(&s))
	}
}

// TestCellsOfBinary: a cell of hexadecimal digits is binary from the length of a point on, 21 bytes.
func TestCellsOfBinary(t *testing.T) {
	point := hex.EncodeToString(blob(binary.LittleEndian, 1, 1.0, 2.0))
	big := strings.ToUpper(hex.EncodeToString(blob(binary.BigEndian, 0x20000001, 32633, 1.0, 2.0)))
	for text, is := range map[string]bool{point: true, big: true, point[:40]: false, point[:41]: false, point + "0": false, point + "00": true, "02" + point[2:]: false, "11" + point[2:]: false, point[:40] + "xy": false, "SRID=4326;" + point: true} {
		if IsText([]byte(text)) != is {
			t.Errorf("%s is a geometry: %v", text, !is)
		}
	}
	var s format.Shape
	if srid := ReadText([]byte(point), &s, 9); srid != 0 || described(&s) != "Point 1,2" {
		t.Errorf("%d, %s", srid, described(&s))
	}
	if srid := ReadText([]byte(big), &s, 9); srid != 32633 || described(&s) != "Point 1,2" {
		t.Errorf("%d, %s", srid, described(&s))
	}
}
