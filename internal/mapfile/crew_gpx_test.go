package mapfile

import (
	"bytes"
	"cmp"
	"encoding/csv"
	"encoding/xml"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/internal/followup"
	"driftreach/internal/result"
)

func crewGPX(t *testing.T, run *result.Run) []byte {
	t.Helper()
	data, err := written(func(b *bytes.Buffer) error { return writeCrewGPX(b, run) })
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// The exact text of one waypoint, written by hand from the schema of GPX 1.1.
func TestCrewGPXText(t *testing.T) {
	run := fixture()
	run.Visits = []result.Visit{{Stand: -1, Row: &followup.Row{
		StandID: "2025Q1-0007", State: followup.Watch, Look: followup.NotFound, Due: day("2026-11-14"), LastLook: day("2025-11-14"),
		Clear: followup.Clear{Since: day("2024-11-01"), Last: day("2025-11-14"), Years: 2},
		Place: followup.Place{Position: orb.Point{180, -34.25}, WaterBody: `Cañón <b> & "Creek"`, RiverKm: 3.25},
	}}}
	_, got, _ := strings.Cut(string(crewGPX(t, run)), "</metadata>\n")
	want := `<wpt lat="-34.25" lon="-180"><name>25Q1-0007</name><cmt>1 LOOK AGAIN BY 2026-11-14</cmt><desc>Stand 2025Q1-0007. ` +
		`Look again by 2026-11-14: clear in 2 of 5 years. Why: not found on 2025-11-14, clear since 2024-11-01. ` +
		`Where: Cañón &lt;b&gt; &amp; &#34;Creek&#34;; river km 3.2; -34.250000, 180.000000. ` +
		`Stay out of flood water, and off banks that floods have undercut. Planning aid: the product label, permits and local rules decide.</desc><type>look again</type></wpt>
</gpx>
`
	if got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// crewSchema returns the schema of GPX 1.1. It states no licence, so it is kept outside the
// project.
func crewSchema(t *testing.T) string {
	t.Helper()
	name := filepath.Join(cmp.Or(os.Getenv("DRIFTREACH_DATA"), filepath.Join("..", "..", "..", "shared", "data")), "gpx-1.1.xsd")
	if _, err := os.Stat(name); err != nil {
		t.Skip("gpx-1.1.xsd (topografix.com/GPX/1/1/gpx.xsd) is not in the data folder: the schema itself is not asked; validate.GPX checks the order and kinds of elements without it")
	}
	if _, err := exec.LookPath("xmllint"); err != nil {
		t.Skip("xmllint is not installed (libxml2-utils)")
	}
	return name
}

func TestCrewGPXHoldsToItsSchema(t *testing.T) {
	schema := crewSchema(t)
	for name, run := range map[string]*result.Run{"fixture": fixture(), "empty": {Quarter: fixture().Quarter}} {
		if said := xmllint(t, schema, crewGPX(t, run)); said != "" {
			t.Errorf("%s: %.2000s", name, said)
		}
	}
	// the schema does find an error
	if said := xmllint(t, schema, bytes.Replace(crewGPX(t, fixture()), []byte("<wpt lat"), []byte("<wpt latitude"), 1)); said == "" {
		t.Error("a waypoint without lat passes")
	}
}

// gpxPlaces returns the waypoints by name, as read by encoding/xml.
func gpxPlaces(t *testing.T, data []byte) (names []string, places map[string]orb.Point) {
	t.Helper()
	var doc struct {
		Points []struct {
			Lat  float64 `xml:"lat,attr"`
			Lon  float64 `xml:"lon,attr"`
			Name string  `xml:"name"`
		} `xml:"wpt"`
	}
	if err := xml.Unmarshal(data, &doc); err != nil {
		t.Fatal(err)
	}
	places = map[string]orb.Point{}
	for _, p := range doc.Points {
		names, places[p.Name] = append(names, p.Name), orb.Point{p.Lon, p.Lat}
	}
	return names, places
}

// GDAL and GPSBabel (reference programs, Debian's gdal-bin and gpsbabel) read every waypoint with
// its name and place, in our order.
func TestCrewGPXReadByOthers(t *testing.T) {
	data := crewGPX(t, fixture())
	names, places := gpxPlaces(t, data)
	file := filepath.Join(t.TempDir(), gpxFile)
	save(t, file, data)
	held := func(t *testing.T, k int, name string, lon, lat string, digits float64) {
		t.Helper()
		x, _ := strconv.ParseFloat(lon, 64)
		y, _ := strconv.ParseFloat(lat, 64)
		if want := places[name]; name != names[k] || !(math.Abs(x-want[0]) <= digits && math.Abs(y-want[1]) <= digits) {
			t.Fatalf("waypoint %d is read as %q at %s, %s; want %q at %v", k, name, lon, lat, names[k], places[names[k]])
		}
	}
	t.Run("GDAL", func(t *testing.T) {
		if _, err := exec.LookPath("ogr2ogr"); err != nil {
			t.Skip("ogr2ogr is not installed (gdal-bin)")
		}
		out, err := exec.Command("ogr2ogr", "-f", "CSV", "/vsistdout/", file, "waypoints", "-select", "name,cmt", "-lco", "GEOMETRY=AS_XY").Output()
		if err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(bytes.NewReader(out)).ReadAll()
		if err != nil || len(rows) != len(names)+1 {
			t.Fatalf("%d rows, %v; want %d and a header", len(rows), err, len(names))
		}
		for k, row := range rows[1:] {
			held(t, k, row[2], row[0], row[1], 1e-9)
		}
	})
	t.Run("GPSBabel", func(t *testing.T) {
		if _, err := exec.LookPath("gpsbabel"); err != nil {
			t.Skip("gpsbabel is not installed (Debian: gpsbabel): the file is not read as units' programs do")
		}
		out, err := exec.Command("gpsbabel", "-i", "gpx", "-f", file, "-o", "unicsv,utc=0", "-F", "-").Output()
		if err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(bytes.NewReader(out)).ReadAll()
		if err != nil || len(rows) != len(names)+1 {
			t.Fatalf("%d rows, %v; want %d and a header", len(rows), err, len(names))
		}
		for k, row := range rows[1:] { // No, Latitude, Longitude, Name
			held(t, k, row[3], row[2], row[1], 1e-6)
		}
	})
}
