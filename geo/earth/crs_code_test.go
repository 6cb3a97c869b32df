package earth

import (
	"errors"
	"fmt"
	"math"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"

	"github.com/paulmach/orb"
)

// cs2cs lets PROJ convert positions, in the order of the definitions' axes, from one system to
// another.
func cs2cs(t *testing.T, from, to string, points []orb.Point) []orb.Point {
	t.Helper()
	var text strings.Builder
	for _, p := range points {
		fmt.Fprintf(&text, "%.12f %.12f\n", p[0], p[1])
	}
	command := exec.Command("cs2cs", "-f", "%.9f", from, "+to", to)
	command.Stdin = strings.NewReader(text.String())
	out, err := command.CombinedOutput()
	if err != nil {
		t.Fatalf("cs2cs %s %s: %v: %s", from, to, err, out)
	}
	words := strings.Fields(string(out))
	if len(words) != 3*len(points) {
		t.Fatalf("cs2cs %s %s: %s", from, to, out)
	}
	got := make([]orb.Point, len(points))
	for i := range got {
		for k := range got[i] {
			if got[i][k], err = strconv.ParseFloat(words[3*i+k], 64); err != nil {
				t.Fatalf("cs2cs %s %s: %s", from, to, out)
			}
		}
	}
	return got
}

func needPROJ(t *testing.T) {
	t.Helper()
	if _, err := exec.LookPath("cs2cs"); err != nil {
		t.Skip("cs2cs is not installed (proj-bin): codes are not compared with PROJ")
	}
}

// TestStatePlaneAgainstPROJ: one system of every fourth zone, within 1 mm of PROJ
// at four places about its origin.
func TestStatePlaneAgainstPROJ(t *testing.T) {
	needPROJ(t)
	bases := map[string]string{"NAD83": "EPSG:4269", "NAD83(2011)": "EPSG:6318", "NAD83(HARN)": "EPSG:4152",
		"NAD83(NSRS2007)": "EPSG:4759", "NAD83(CORS96)": "EPSG:6783", "NAD83(PA11)": "EPSG:6322"}
	zones := 0
	statePlaneZones(func(cells, columns, systems []string) bool {
		zones++
		if zones%12 != 0 && os.Getenv("DRIFTREACH_LONG") == "" { // running the program for each zone takes a minute
			return true
		}
		datum, text, _ := strings.Cut(systems[len(systems)-1], "=")
		code, err := strconv.Atoi(text)
		if err != nil || bases[datum] == "" || len(cells) != len(columns) {
			t.Fatalf("%v: %v", cells, err)
		}
		c, err := codeCRS(code)
		if err != nil {
			t.Fatal(err)
		}
		known, _ := statePlaneCode(code)
		lon, lat := known.values["lon0"], known.values["lat0"]
		var asked []orb.Point
		for _, d := range []orb.Point{{0.3, 0.4}, {-0.7, 1.1}, {0.9, 0.2}, {-0.2, 2}} {
			asked = append(asked, orb.Point{lat + d[1], lon + d[0]}) // latitude first: the order of the code's axes
		}
		for i, p := range cs2cs(t, bases[datum], "EPSG:"+text, asked) {
			got, err := c.Degrees(p)
			if d := float64(Distance(got, orb.Point{asked[i][1], asked[i][0]})); err != nil || !(d < 0.001) {
				t.Errorf("EPSG:%d, %s: %.4f m from where PROJ has it, %v", code, c.Name, d, err)
			}
		}
		return true
	})
	if zones < 200 {
		t.Errorf("%d zones", zones)
	}
}

// TestNullDatumsAgainstPROJ: PROJ, which has EPSG's transformations, does not move longitude and
// latitude on these datums either. A program run for each code takes long: all are run with
// DRIFTREACH_LONG, every fifth otherwise.
func TestNullDatumsAgainstPROJ(t *testing.T) {
	needPROJ(t)
	var codes []int
	for _, c := range familyCodes {
		codes = append(codes, c.code)
	}
	for _, d := range nullDatums {
		if d.code != 0 {
			codes = append(codes, d.code)
		}
	}
	for i, code := range codes {
		if i%5 == 0 || os.Getenv("DRIFTREACH_LONG") != "" {
			checkNull(t, code)
		}
	}
}

func checkNull(t *testing.T, code int) {
	t.Helper()
	c, err := codeCRS(code)
	if err != nil || c.Datum == "" || !c.IsGeographic() {
		t.Errorf("EPSG:%d: %+v, %v", code, c, err)
	}
	at := orb.Point{46.5, -70.25} // in Canada, whose datum PROJ relates differently by place
	for _, p := range cs2cs(t, "EPSG:"+strconv.Itoa(code), "EPSG:4326", []orb.Point{at}) {
		if math.Abs(p[0]-at[0])+math.Abs(p[1]-at[1]) > 1e-5 { // about a metre
			t.Errorf("EPSG:%d, %s: PROJ moves %v to %v", code, c.Name, at, p)
		}
	}
}

// TestDatumNames: as EPSG, ESRI and old WKT write them; by hand.
func TestDatumNames(t *testing.T) {
	for name, want := range map[string]bool{
		"D_GDM_2000": true, "Geodetic Datum of Malaysia 2000": true, "Geodetic_Datum_of_Malaysia_2000": true, "D_SWEREF99": true, "SWEREF99": true,
		"NAD83 (National Spatial Reference System PA11)": true, "D_NAD_1983_MA11": true, "North American Datum of 1983 (CSRS) version 7": true,
		"D_ETRS_1989": true, "European Terrestrial Reference System 1989 ensemble": true, "European Terrestrial Reference Frame 2000": true,
		"D_Korea_2000": true, "D_China_2000": true, "GDA2020": true, "D_GDA_1994": false, "Geocentric Datum of Australia 1994": false,
		"D_North_American_1927": false, "North American Datum 1927": false, "NAD27": false, "D_OSGB_1936": false, "European Datum 1950": false,
		"Amersfoort": false, "Pulkovo 1942": false, "D_Pulkovo_1942": false, "CH1903+": false, "Tokyo": false, "D_New_Zealand_1949": false,
	} {
		if got := isNullDatum(name); got != want {
			t.Errorf("%s: %v, want %v", name, got, want)
		}
	}
	for _, code := range []string{"EPSG:4267", "EPSG:4283", "EPSG:27700", "EPSG:26711", "EPSG:4230", "EPSG:0", "EPSG:-1"} {
		if c, err := ParseCRS(code); !errors.Is(err, ErrUnsupported) {
			t.Errorf("%s is read as %+v", code, c)
		}
	}
}
