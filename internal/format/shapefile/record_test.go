package shapefile_test

import (
	"encoding/binary"
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"

	"driftreach/internal/format"
	"driftreach/internal/testkit/layers"
)

// record is the content of a record: a type, and whole numbers, numbers and bytes in little-endian
// order as they come (ESRI Shapefile Technical Description, 1998, pages 6 to 24).
func record(kind uint32, parts ...any) []byte {
	b := binary.LittleEndian.AppendUint32(nil, kind)
	for _, part := range parts {
		switch v := part.(type) {
		case int:
			b = binary.LittleEndian.AppendUint32(b, uint32(v))
		case float64:
			b = binary.LittleEndian.AppendUint64(b, math.Float64bits(v))
		case []byte:
			b = append(b, v...)
		}
	}
	return b
}

// shp makes a file of these records.
func shp(records ...[]byte) []byte {
	b, _ := layers.Shapefile(nil)
	for i, record := range records {
		b = binary.BigEndian.AppendUint32(b, uint32(i+1))
		b = binary.BigEndian.AppendUint32(b, uint32(len(record)/2))
		b = append(b, record...)
	}
	binary.BigEndian.PutUint32(b[24:], uint32(len(b)/2))
	return b
}

// form is a Shapefile of these records without a table.
func form(records ...[]byte) layers.Form {
	return layers.Form{File: "a.shp", Bytes: shp(records...)}
}

var box = make([]byte, 32)

// TestShapeTypes: every type of the description (page 4), plain, with measures (20 and on) and with
// heights (10 and on), which are left out; by hand.
func TestShapeTypes(t *testing.T) {
	const misfit = "!the shape's counts do not fit its length, or pass the limit of vertices"
	ring := []any{0.0, 0.0, 0.0, 4.0, 4.0, 4.0, 0.0, 0.0} // clockwise
	hole := []any{1.0, 1.0, 2.0, 2.0, 1.0, 2.0, 1.0, 1.0}
	with := func(kind uint32, parts ...any) []byte {
		return record(kind, append([]any{box}, parts...)...)
	}
	for _, c := range []struct {
		name   string
		record []byte
		want   string
	}{
		{"null", record(0), ""},
		{"point", record(1, 1.0, 2.0), "Point 1 2"},
		{"point with height and measure", record(11, 1.0, 2.0, 3.0, 4.0), "Point 1 2"},
		{"point with measure", record(21, 1.0, 2.0, 3.0), "Point 1 2"},
		{"points", with(8, 2, 1.0, 2.0, 3.0, 4.0), "MultiPoint 1 2,3 4"},
		{"points with heights", with(18, 1, 1.0, 2.0, 0.0, 0.0, 5.0), "MultiPoint 1 2"},
		{"line", with(3, 1, 2, 0, 1.0, 2.0, 3.0, 4.0), "PolyLine (1 2,3 4)"},
		{"lines", with(23, 2, 4, 0, 2, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0), "PolyLine (1 2,3 4)(5 6,7 8)"},
		{"polygon", with(5, append([]any{1, 4, 0}, ring...)...), "Polygon ((0 0,0 4,4 4,0 0))"},
		{"polygon with a hole", with(15, append(append([]any{2, 8, 0, 4}, hole...), ring...)...), "Polygon ((0 0,0 4,4 4,0 0)(1 1,2 2,1 2,1 1))"},
		{"two polygons", with(5, append(append([]any{2, 8, 0, 4}, ring...), 5.0, 5.0, 5.0, 6.0, 6.0, 6.0, 5.0, 5.0)...), "Polygon ((0 0,0 4,4 4,0 0))((5 5,5 6,6 6,5 5))"},
		{"multipatch", record(31, box), "MultiPatch"},
		{"unknown", record(2, 1.0, 2.0), "shape of kind 2"},
		{"unknown with heights", record(14, 1.0), "shape of kind 14"},
		{"point too short", record(1, 1.0), misfit},
		{"points too many", with(8, 2, 1.0, 2.0), "1 2 " + misfit},
		{"points without a count", record(8, make([]byte, 34)), misfit},
		{"points of none", with(8, 0), "MultiPoint "},
		{"line without counts", record(3, make([]byte, 38)), misfit},
		{"line of no part", with(3, 0, 1, 1.0, 2.0), misfit},
		{"line of nothing", with(3, 0, 0), "PolyLine "},
		{"line of too many parts", with(3, 9, 1, 0, 1.0, 2.0), misfit},
		{"line whose first part does not begin it", with(3, 1, 2, 1, 1.0, 2.0, 3.0, 4.0), misfit},
		{"line whose part ends beyond it", with(3, 2, 2, 0, 3, 1.0, 2.0, 3.0, 4.0), misfit},
		{"line whose parts run backwards", with(3, 3, 2, 0, 2, 1, 1.0, 2.0, 3.0, 4.0), misfit},
		{"line with an empty part", with(3, 2, 2, 0, 2, 1.0, 2.0, 3.0, 4.0), "PolyLine (1 2,3 4)()"},
	} {
		l, err := layers.Read(form(c.record), layers.Asked{})
		got := strings.Join(l.Describe(), "|")
		if strings.Contains(c.want, "!") { // no positions of a shape that cannot be read count
			got = got[max(strings.IndexByte(got, '!'), 0):]
			c.want = misfit
		}
		if err != nil || len(l.Rows) != 1 || strings.TrimSpace(got) != strings.TrimSpace(c.want) {
			t.Errorf("%s: %s, %v, want %s", c.name, got, err, c.want)
		}
	}
	kinds := map[format.ShapeKind][]byte{format.LineShape: with(3, 1, 1, 0, 1.0, 2.0), format.MultiLineShape: with(3, 2, 2, 0, 1, 1.0, 2.0, 3.0, 4.0), format.MultiPolygonShape: with(5, 1, 1, 0, 1.0, 2.0), format.NoShape: record(1)}
	for want, content := range kinds {
		if l, err := layers.Read(form(content), layers.Asked{}); err != nil || l.Rows[0].Kind != want {
			t.Errorf("kind %d, %v, want %d", l.Rows[0].Kind, err, want)
		}
	}
}

// TestVerticesOfAShape: as many as the limit, and one more.
func TestVerticesOfAShape(t *testing.T) {
	limits := format.DefaultLimits()
	limits.Vertices = 2
	for n, wrong := range map[int]bool{2: false, 3: true} {
		content := record(8, box, n)
		for range n {
			content = append(content, record(0, make([]byte, 16))[4:]...)
		}
		l, err := layers.Read(form(content), layers.Asked{Limits: limits})
		if err != nil || (l.Rows[0].Wrong != "") != wrong {
			t.Errorf("%d vertices: %q, %v", n, l.Describe(), err)
		}
	}
	// the longest record that a limit allows is one with 32 bytes a vertex and 16 MiB for its parts
	for size, refused := range map[uint32]bool{0: true, 1: true, 2: false, (16<<20 + 64) / 2: false, (16<<20+64)/2 + 1: true} {
		b := shp(record(0))
		binary.BigEndian.PutUint32(b[104:], size)
		_, err := layers.Read(layers.Form{File: "a.shp", Bytes: b}, layers.Asked{Limits: limits})
		if got := err != nil && strings.Contains(err.Error(), "bytes is impossible or above the limit"); got != refused {
			t.Errorf("a record of %d words: %v", size, err)
		}
	}
}

// TestCutShort: a file is whole where its header says that it ends, and records after that are read.
func TestCutShort(t *testing.T) {
	whole := shp(record(1, 1.0, 2.0), record(1, 3.0, 4.0))
	for _, c := range []struct {
		bytes []byte
		rows  int
		place string
	}{
		{whole, 2, ""}, {whole[:128], 1, "record 2"}, {whole[:130], 1, "record 2"}, {whole[:140], 1, "record 2"}, {whole[:100], 0, "record 1"}, {whole[:99], 0, "record 0"},
		{shp(), 0, ""}, {append(shp(record(1, 1.0, 2.0)), whole[128:]...), 2, ""},
	} {
		l, err := layers.Read(layers.Form{File: "a.shp", Bytes: c.bytes}, layers.Asked{})
		var unusable *format.UnusableError
		is := errors.As(err, &unusable)
		if len(l.Rows) != c.rows || is != (c.place != "") || is && (unusable.Place != c.place || unusable.Found != "the .shp ends early" || unusable.Remedy != "copy the files again") {
			t.Errorf("%d bytes: %d rows, %v", len(c.bytes), len(l.Rows), err)
		}
	}
	if _, err := layers.Read(layers.Form{File: "a.shp", Bytes: whole}, layers.Asked{Failing: errBroken}); !errors.Is(err, errBroken) {
		t.Errorf("a broken disk: %v", err)
	}
}

// noTable is told of a .shp alone: a Shapefile has three files, and the table is one of them (ESRI
// Shapefile Technical Description, 1998, page 2).
const noTable = `table-missing  "" "": there is no .dbf beside the .shp, so its shapes have no columns`

var errBroken = errors.New("the disk is broken")

// TestProjection: without a .prj the positions are degrees, if the box of the header can hold degrees.
func TestProjection(t *testing.T) {
	for corners, degrees := range map[[4]float64]bool{
		{-180, -90, 180, 90}: true, {-360, -90, 360, 90}: true, {-361, 0, 0, 0}: false, {0, 0, 361, 0}: false, {0, -91, 0, 0}: false, {0, 0, 0, 91}: false, {}: true,
	} {
		b := shp(record(1, 1.0, 2.0))
		for i, v := range corners {
			binary.LittleEndian.PutUint64(b[36+8*i:], math.Float64bits(v))
		}
		l, err := layers.Read(layers.Form{File: "a.shp", Bytes: b}, layers.Asked{})
		told := strings.Join(l.Tell(), " ")
		if (err == nil) != degrees || degrees && told != `reference-system-assumed  "" "": the file names no reference system; its positions were read as WGS 84 degrees `+noTable {
			t.Errorf("%v: %v, told %s", corners, err, told)
		}
	}
	f := form(record(1, 500000.0, 0.0))
	f.Beside = map[string][]byte{".prj": []byte("EPSG:32633")}
	if l, err := layers.Read(f, layers.Asked{}); err != nil || cmp.Diff([]string{noTable}, l.Tell()) != "" || cmp.Diff([]string{"Point 15 0"}, l.Describe()) != "" {
		t.Errorf("with a system: %q, %q, %v", l.Describe(), l.Tell(), err)
	}
	f.Beside[".prj"] = []byte("nothing known")
	var unusable *format.UnusableError
	if _, err := layers.Read(f, layers.Asked{}); !errors.As(err, &unusable) || unusable.Place != ".prj" {
		t.Errorf("with another text: %v", err)
	}
}

// TestShapeIndex: bytes that no entry of the .shx points to are passed over (page 23: offsets and
// lengths in words of 16 bits); an index that runs backwards is ignored where the record's own number is
// right, and refused where it is not.
func TestShapeIndex(t *testing.T) {
	shx := func(offsets ...uint32) []byte {
		b := make([]byte, 100)
		for _, at := range offsets {
			b = binary.BigEndian.AppendUint32(b, at/2)
			b = binary.BigEndian.AppendUint32(b, 10)
		}
		return b
	}
	whole := shp(record(1, 1.0, 2.0), record(1, 3.0, 4.0), record(1, 5.0, 6.0)) // at 100, 128 and 156
	swapped := shp(record(1, 1.0, 2.0), record(1, 3.0, 4.0), record(1, 5.0, 6.0))
	swapped[128+3], swapped[156+3] = 3, 2
	for _, c := range []struct {
		name, want string
		shp, shx   []byte
	}{
		{"in order", "Point 1 2|Point 3 4|Point 5 6", whole, shx(100, 128, 156)},
		{"with an old shape between", "Point 1 2|Point 5 6", whole, shx(100, 156)},
		{"backwards, numbers right", "Point 1 2|Point 3 4|Point 5 6", whole, shx(100, 100, 100)},
		{"backwards, numbers not", "!record 2: the .shx has the records in another order than the .shp, or belongs to another", swapped, shx(100, 126, 128)},
		{"beyond the file", "!record 3: the .shp ends early", whole, shx(100, 128, 400)},
		{"cut off in its header", "Point 1 2|Point 3 4|Point 5 6", whole, make([]byte, 60)},
		{"cut off in an entry", "Point 1 2|Point 3 4|Point 5 6", whole, shx(100, 128, 156)[:110]},
	} {
		f := layers.Form{File: "a.shp", Bytes: c.shp, Beside: map[string][]byte{".shx": c.shx}}
		if c.name == "with an old shape between" { // only the table tells that there are two
			_, f.Beside[".dbf"] = layers.Shapefile(make([]orb.Point, 2))
		}
		l, err := layers.Read(f, layers.Asked{})
		var unusable *format.UnusableError
		switch got := strings.ReplaceAll(strings.ReplaceAll(strings.Join(l.Describe(), "|"), " id=0", ""), " id=1", ""); {
		case errors.As(err, &unusable):
			if "!"+unusable.Place+": "+unusable.Found != c.want {
				t.Errorf("%s: %v, want %s", c.name, err, c.want)
			}
		case err != nil || got != c.want:
			t.Errorf("%s: %s, %v, want %s", c.name, got, err, c.want)
		}
	}
}
