package parquet

import (
	"encoding/binary"
	"encoding/json"
	"slices"
	"testing"

	"driftreach/internal/check"
	"driftreach/internal/format"
)

// TestParquetTimestamps: the twelve bytes of the oldest files. By hand: 2026-07-01
// is day 20635 since 1970, Julian day 2461223; 01:02:03.004 is 3723004 ms.
func TestParquetTimestamps(t *testing.T) {
	b := binary.LittleEndian.AppendUint64(nil, 3_723_004_000_000)
	b = binary.LittleEndian.AppendUint32(b, 2_461_223)
	c := column{leaf: leaf{physical: parquetInt96}}
	if got := string(c.text(nil, value{bytes: b})); got != "2026-07-01T01:02:03.004Z" {
		t.Error(got)
	}
}

// TestRuns reads runs packed by hand: by the format's own example, 0 to 7 in three
// bits are the bytes 88 C6 FA; then four times 5.
func TestRuns(t *testing.T) {
	r := runs{bytes: []byte{3, 0x88, 0xC6, 0xFA, 8, 5}, width: 3}
	var got []uint32
	for v, ok := r.next(); ok; v, ok = r.next() {
		got = append(got, v)
	}
	if want := []uint32{0, 1, 2, 3, 4, 5, 6, 7, 5, 5, 5, 5}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

// TestDeltas reads differences packed by hand, by the format's own examples: 1 to
// 5, whose differences are all 1; and 7, 5, 3, 1, 2, 3, 4, 5, whose least is -2.
func TestDeltas(t *testing.T) {
	for _, c := range []struct {
		bytes []byte
		want  []int64
	}{
		{[]byte{0x80, 1, 4, 5, 2, 2, 0, 0, 0, 0}, []int64{1, 2, 3, 4, 5}},
		{append([]byte{0x80, 1, 4, 8, 14, 3, 2, 0, 0, 0, 0xC0, 0x3F}, make([]byte, 6)...), []int64{7, 5, 3, 1, 2, 3, 4, 5}},
	} {
		d, err := newDeltas(c.bytes)
		if err != nil {
			t.Fatal(err)
		}
		if rest, ok := d.after(); !ok || len(rest) != 0 {
			t.Errorf("%d bytes after %v", len(rest), c.want)
		}
		var got []int64
		for v, ok := d.number(); ok; v, ok = d.number() {
			got = append(got, v)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%v, want %v", got, c.want)
		}
	}
}

// TestParquetSystemByKey: Parquet's own geometry type may name a text of the file.
func TestParquetSystemByKey(t *testing.T) {
	for _, test := range []struct{ crs, want string }{
		{"projjson:here", "WGS 84 / UTM zone 11N"},
		{"srid:26911", "NAD83 / UTM zone 11N"},
	} {
		definition := `{"type":"ProjectedCRS","name":"WGS 84 / UTM zone 11N","base_crs":{"name":"WGS 84","datum":{"type":"GeodeticReferenceFrame","name":"World Geodetic System 1984","ellipsoid":{"name":"WGS 84","semi_major_axis":6378137,"inverse_flattening":298.257223563}}},
			"conversion":{"name":"UTM zone 11N","method":{"name":"Transverse Mercator"},"parameters":[{"name":"Latitude of natural origin","value":0,"unit":"degree"},{"name":"Longitude of natural origin","value":-117,"unit":"degree"},
			{"name":"Scale factor at natural origin","value":0.9996,"unit":"unity"},{"name":"False easting","value":500000,"unit":"metre"},{"name":"False northing","value":0,"unit":"metre"}]},
			"coordinate_system":{"subtype":"Cartesian","axis":[{"name":"Easting","abbreviation":"E","direction":"east","unit":"metre"},{"name":"Northing","abbreviation":"N","direction":"north","unit":"metre"}]}}`
		p := &file{Reading: &format.Reading{Log: &check.Log{}}, meta: &meta{texts: map[string][]byte{"here": []byte(definition)}}}
		crs, _ := json.Marshal(test.crs)
		if err := p.referTo("g", geoParquetColumn{CRS: crs}); err != nil || p.System.Name != test.want {
			t.Errorf("%s: %v, %q", test.crs, err, p.System.Name)
		}
	}
}
