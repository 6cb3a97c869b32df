package earth

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/paulmach/orb"
)

// named is a line of testdata/crs/names.tsv, which scripts/oracle_crs.py took from the database of
// PROJ 9.1.1: EPSG's data for a code.
type named struct {
	code        int
	name, datum string
	origin      []string // latitude, longitude, easting and northing; blank where not given
}

func epsgNames(t *testing.T) []named {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("..", "..", "testdata", "crs", "names.tsv"))
	if err != nil {
		t.Fatal(err)
	}
	var all []named
	for _, line := range strings.Split(strings.TrimSpace(string(text)), "\n")[1:] {
		cells := strings.Split(line, "\t")
		code, err := strconv.Atoi(cells[0])
		if err != nil || len(cells) != 7 {
			t.Fatalf("%q: %v", line, err)
		}
		all = append(all, named{code, cells[1], cells[2], cells[3:]})
	}
	return all
}

// TestCodesAreEPSGs: a code gives the system with EPSG's name for it, and no other code is
// accepted. Two names differ by custom: Australia's UTM zones are called MGA, and the polar grids
// name the order of axes.
func TestCodesAreEPSGs(t *testing.T) {
	zoned := statePlaneCodes()
	var known []int
	for _, c := range CRSCodes() {
		if !slices.Contains(zoned, c) {
			known = append(known, c)
		}
	}
	var asked []int
	for _, n := range epsgNames(t) {
		asked = append(asked, n.code)
		c, err := ParseCRS("EPSG:" + strconv.Itoa(n.code))
		if err != nil {
			t.Errorf("%d, %s: %v", n.code, n.name, err)
			continue
		}
		want := strings.TrimSuffix(n.name, " (N,E)")
		if zone, is := strings.CutPrefix(want, "GDA2020 / MGA zone "); is {
			want = "GDA2020 / UTM zone " + zone + "S"
		}
		if c.Name != want {
			t.Errorf("%d is %q, and EPSG's is %q", n.code, c.Name, want)
		}
	}
	slices.Sort(asked)
	if !slices.Equal(asked, known) {
		t.Errorf("known by code are %d systems, EPSG was asked of %d", len(known), len(asked))
	}
}

// TestDatumsOfCodes: EPSG's name for the datum of each code is also accepted in a full definition,
// and only WGS 84 itself counts as WGS 84.
func TestDatumsOfCodes(t *testing.T) {
	for _, n := range epsgNames(t) {
		if !isNullDatum(n.datum) && !isWGS84(n.datum) {
			t.Errorf("%d: the datum %q is not known", n.code, n.datum)
		}
		c, err := codeCRS(n.code)
		if err != nil {
			t.Fatal(err)
		}
		if own := strings.Contains(n.datum, "World Geodetic System 1984"); own != (c.Datum == "") {
			t.Errorf("%d: its datum is %q, and EPSG's is %q", n.code, c.Datum, n.datum)
		}
	}
}

// TestOriginsOfCodes: the false origin is at EPSG's latitude and longitude of the origin.
func TestOriginsOfCodes(t *testing.T) {
	grids := 0
	for _, n := range epsgNames(t) {
		c, err := codeCRS(n.code)
		if err != nil {
			t.Fatal(err)
		}
		if n.origin[1] == "" {
			if !c.IsGeographic() {
				t.Errorf("%d, %s: it is a grid and EPSG has no origin of it", n.code, n.name)
			}
			continue
		}
		grids++
		var v [4]float64
		for i, text := range n.origin {
			if text != "" {
				if v[i], err = strconv.ParseFloat(text, 64); err != nil {
					t.Fatal(n)
				}
			}
		}
		got, err := c.Degrees(orb.Point{v[2], v[3]})
		if err != nil {
			t.Errorf("%d, %s: %v", n.code, n.name, err)
			continue
		}
		switch {
		case n.origin[0] == "" || n.origin[0] == "-90.0" || n.origin[0] == "90.0": // a pole: any longitude
			if lat := got[1]; lat > -89.9999999 && lat < 89.9999999 {
				t.Errorf("%d, %s: the origin is at latitude %v", n.code, n.name, lat)
			}
			// a million metres along the axis: the meridian of the origin, in one direction or the
			// other
			side := 1e6
			if got[1] > 0 {
				side = -1e6
			}
			along, err := c.Degrees(orb.Point{v[2], v[3] + side})
			if err != nil {
				t.Fatal(err)
			}
			near(t, n.name+": the meridian", along[0], v[1], 1e-9)
		default:
			if d := Distance(got, orb.Point{v[1], v[0]}); d > 1e-6 {
				t.Errorf("%d, %s: the origin lies at %v, %v m from EPSG's", n.code, n.name, got, d)
			}
		}
	}
	if grids != 226 {
		t.Errorf("%d grids", grids)
	}
}

// TestCodesBesideTheRuns: the codes directly before and after each run of UTM zones are another
// system or none.
func TestCodesBesideTheRuns(t *testing.T) {
	for _, code := range []int{32600, 32662, 32700, 32762, 26900, 26924, 6329, 6349, 25827, 25839, 31964, 31986, 7845, 7860} {
		if c, err := codeCRS(code); !errors.Is(err, ErrUnsupported) {
			t.Errorf("EPSG:%d is read as %q", code, c.Name)
		}
	}
	for code, want := range map[int]string{31976: "SIRGAS 2000 / UTM zone 22N", 31977: "SIRGAS 2000 / UTM zone 17S"} {
		if c, err := codeCRS(code); err != nil || c.Name != want {
			t.Errorf("EPSG:%d is read as %q, %v", code, c.Name, err)
		}
	}
}
