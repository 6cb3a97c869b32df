package earth

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/paulmach/orb"
)

// system is a line of testdata/crs/systems.jsonl, which scripts/oracle_crs.py
// wrote with PROJ; its first line names the version.
type system struct {
	Authority string
	Code      int
	Refused   bool
	WKT1      string
	ESRI      string
	WKT2      string
	PROJJSON  string
	Proj      string
	Area      [4]float64
	Points    [][4]float64
}

// name is the system's code as people write it.
func (s system) name() string { return fmt.Sprintf("%s:%d", s.Authority, s.Code) }

// known says whether the code alone is enough to read the system.
func (s system) known() bool {
	return slices.Contains(map[string][]int{"EPSG": CRSCodes(), "ESRI": ESRICodes()}[s.Authority], s.Code)
}

func (s system) forms() map[string]string {
	return map[string]string{"WKT 1": s.WKT1, "ESRI": s.ESRI, "WKT 2": s.WKT2, "PROJJSON": s.PROJJSON}
}

func systems(t testing.TB) []system {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "crs", "systems.jsonl"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var all []system
	lines := bufio.NewScanner(f)
	lines.Buffer(nil, 1<<20)
	for lines.Scan() {
		var s system
		if err := json.Unmarshal(lines.Bytes(), &s); err != nil {
			t.Fatal(err)
		}
		if s.Code != 0 {
			all = append(all, s)
		}
	}
	if len(all) < 40 {
		t.Fatalf("only %d systems", len(all))
	}
	return all
}

// apart is the distance, in metres, between a system's result for xy and PROJ's.
func apart(t *testing.T, c CRS, row [4]float64) float64 {
	t.Helper()
	got, err := c.Degrees(orb.Point{row[2], row[3]})
	if err != nil {
		t.Errorf("%v: %v", row, err)
		return 0
	}
	return float64(Distance(got, orb.Point{row[0], row[1]}))
}

// TestCRSAgainstPROJ compares every form of every system with PROJ, within 1 mm. 1e-9 degrees, the
// step of the stored positions, is 0.1 mm.
func TestCRSAgainstPROJ(t *testing.T) {
	for _, s := range systems(t) {
		if s.Refused {
			continue
		}
		forms := s.forms()
		if s.known() {
			forms["code"] = s.name()
		}
		for form, text := range forms {
			if text == "" {
				continue
			}
			t.Run(s.name()+" "+form, func(t *testing.T) {
				c, err := ParseCRS(text)
				if err != nil {
					t.Fatalf("%v\n%s", err, text)
				}
				for _, row := range s.Points {
					if d := apart(t, c, row); !(d < 0.001) {
						t.Fatalf("%v lies %.4f m from where PROJ has it", row, d)
					}
				}
			})
		}
	}
}

// TestESRICodesAgainstPROJ: every accepted ESRI code was compared with PROJ.
func TestESRICodesAgainstPROJ(t *testing.T) {
	asked := map[int]bool{}
	for _, s := range systems(t) {
		asked[s.Code] = asked[s.Code] || s.Authority == "ESRI" && !s.Refused && len(s.Points) > 0 && s.ESRI != ""
	}
	for _, code := range ESRICodes() {
		if !asked[code] {
			t.Errorf("ESRI:%d is taken, and PROJ's answers are not stored", code)
		}
	}
}

// TestCRSRefused: another datum, meridian, method or orientation is never silently read as a known
// one.
func TestCRSRefused(t *testing.T) {
	for _, s := range systems(t) {
		if !s.Refused {
			continue
		}
		for form, text := range s.forms() {
			if c, err := ParseCRS(text); text != "" && !errors.Is(err, ErrUnsupported) {
				t.Errorf("%s as %s: read as %+v, error %v", s.name(), form, c, err)
			}
		}
		if _, err := ParseCRS(s.name()); !errors.Is(err, ErrUnsupported) {
			t.Errorf("%s: error %v", s.name(), err)
		}
	}
}

// TestCRSLive draws ten thousand positions in each system and asks the
// installed PROJ.
func TestCRSLive(t *testing.T) {
	if _, err := exec.LookPath("proj"); err != nil {
		t.Skip("proj is not installed (proj-bin): ten thousand positions a system are not compared")
	}
	for _, s := range systems(t) {
		if s.Refused || strings.Contains(s.Proj, "longlat") {
			continue
		}
		t.Run(s.name(), func(t *testing.T) {
			t.Parallel()
			rng := rand.New(rand.NewPCG(uint64(s.Code), 1))
			var text strings.Builder
			points := make([]orb.Point, 10_000)
			for i := range points {
				points[i] = orb.Point{Wrap(s.Area[0] + rng.Float64()*(s.Area[2]-s.Area[0])), s.Area[1] + rng.Float64()*(s.Area[3]-s.Area[1])}
				fmt.Fprintf(&text, "%.12f %.12f\n", points[i][0], points[i][1])
			}
			command := exec.Command("proj", append([]string{"-f", "%.7f"}, strings.Fields(s.Proj)...)...)
			command.Stdin = strings.NewReader(text.String())
			out, err := command.Output()
			if err != nil {
				t.Fatal(err)
			}
			c, err := ParseCRS(s.WKT2)
			if err != nil {
				t.Fatal(err)
			}
			answers := strings.Fields(string(out))
			if len(answers) != 2*len(points) {
				t.Fatalf("%d answers", len(answers))
			}
			turn := 1.0 // the program leaves the order of axes to others
			if strings.Contains(s.Proj, "+axis=wsu") {
				turn = -1
			}
			worst := 0.0
			for i, p := range points {
				x, errX := strconv.ParseFloat(answers[2*i], 64)
				y, errY := strconv.ParseFloat(answers[2*i+1], 64)
				if errX != nil || errY != nil {
					t.Fatal(answers[2*i], answers[2*i+1])
				}
				worst = max(worst, apart(t, c, [4]float64{p[0], p[1], turn * x, turn * y}))
			}
			if !(worst < 0.001) {
				t.Errorf("worst of ten thousand is %.6f m", worst)
			}
		})
	}
}

// TestCRSText: invalid definitions are errors; by hand.
func TestCRSText(t *testing.T) {
	wgs84 := `GEOGCS["WGS 84",DATUM["WGS_1984",SPHEROID["WGS 84",6378137,298.257223563]],UNIT["degree",0.0174532925199433]]`
	for name, text := range map[string]string{
		"blank": " ", "word": "NAD27", "number": "EPSG:0", "unknown code": "EPSG:27700", "other authority": "ESRI:54030",
		"local":        `LOCAL_CS["site",UNIT["metre",1]]`,
		"cut off":      wgs84[:60],
		"more":         wgs84 + "x",
		"brackets":     strings.Repeat("A[", 5000),
		"long":         strings.Repeat("x", 1<<17),
		"quote":        `GEOGCS["WGS`,
		"paris":        `GEOGCS["x",DATUM["WGS_1984",SPHEROID["WGS 84",6378137,298.257223563]],PRIMEM["Paris",2.33722917],UNIT["degree",0.0174532925199433]]`,
		"shifted":      `GEOGCS["x",DATUM["WGS_1984",SPHEROID["WGS 84",6378137,298.257223563],TOWGS84[10,0,0,0,0,0,0]],UNIT["degree",0.0174532925199433]]`,
		"ellipsoid":    `GEOGCS["x",DATUM["WGS_1984",SPHEROID["Clarke",6378206.4,294.9786982]],UNIT["degree",0.0174532925199433]]`,
		"no ellipsoid": `GEOGCS["x",DATUM["WGS_1984"]]`,
		"empty json":   `{}`, "bad json": `{"type":`, "nested json": `{"components":[{"components":[{"components":[{"components":[{"components":[{}]}]}]}]}]}`,
		"no parameters": `PROJCS["x",` + wgs84 + `,UNIT["metre",1]]`,
		"oblique":       `PROJCS["x",` + wgs84 + `,PROJECTION["Hotine_Oblique_Mercator"],UNIT["metre",1]]`,
		"azimuth":       `PROJCS["x",` + wgs84 + `,PROJECTION["Transverse_Mercator"],PARAMETER["azimuth",3],UNIT["metre",1]]`,
		"unit":          `PROJCS["x",` + wgs84 + `,PROJECTION["Transverse_Mercator"],UNIT["nothing",0]]`,
		"scaled cone":   `PROJCS["x",` + wgs84 + `,PROJECTION["Albers"],PARAMETER["Standard_Parallel_1",20],PARAMETER["Standard_Parallel_2",-20],UNIT["metre",1]]`,
	} {
		if c, err := ParseCRS(text); err == nil {
			t.Errorf("%s: read as %+v", name, c)
		}
	}
	for name, text := range map[string]string{
		"code": "ESRI:102003", "urn": "urn:ogc:def:crs:ESRI::102003", "number": "102003", "taken for EPSG's": "EPSG:102003", "small": "esri:102003",
	} {
		if c, err := ParseCRS(text); err != nil || c.Name != "USA_Contiguous_Albers_Equal_Area_Conic" {
			t.Errorf("%s of ESRI: %+v, %v", name, c, err)
		}
	}
	if _, err := ParseCRS("ESRI:102999"); !errors.Is(err, ErrUnsupported) || !strings.Contains(err.Error(), "ESRI:102999 is not among the codes known here") {
		t.Errorf("a code of ESRI's that is none: %v", err)
	}
	for name, text := range map[string]string{
		"wkt": wgs84, "marked": "\ufeff" + wgs84 + "\n", "urn": "urn:ogc:def:crs:OGC:1.3:CRS84", "url": "http://www.opengis.net/def/crs/EPSG/0/4326",
		"old url": "http://www.opengis.net/gml/srs/epsg.xml#4326", "number": "4326", "small": "epsg:4326", "version": "urn:ogc:def:crs:EPSG:6.9:4326",
		"no shift": strings.Replace(wgs84, "563]]", "563],TOWGS84[0,0,0,0,0,0,0]]", 1),
		"compound": `COMPD_CS["x",` + wgs84 + `,VERT_CS["height",VERT_DATUM["h",2005],UNIT["metre",1]]]`,
		"lines":    strings.ReplaceAll(wgs84, ",", ",\n   "),
		"round":    strings.NewReplacer("[", "(", "]", ")").Replace(wgs84),
	} {
		if c, err := ParseCRS(text); err != nil || !c.IsWGS84() {
			t.Errorf("%s: %+v, %v", name, c, err)
		}
	}
}

// TestSouthOrientated: ESRI writes the grid with axes to the west and south with a scale of -1;
// other axes are rejected.
func TestSouthOrientated(t *testing.T) {
	base := `GEOGCS["Hartebeesthoek94",DATUM["Hartebeesthoek94",SPHEROID["WGS 84",6378137,298.257223563]],UNIT["degree",0.0174532925199433]]`
	system := func(method, scale, axes string) string {
		return `PROJCS["Lo29",` + base + `,PROJECTION["` + method + `"],PARAMETER["Central_Meridian",29],PARAMETER["Scale_Factor",` + scale + `],UNIT["metre",1]` + axes + `]`
	}
	for _, text := range []string{
		system("Transverse_Mercator", "-1", ""), system("Transverse_Mercator_South_Orientated", "1", ""),
		system("Transverse_Mercator_South_Oriented", "1", `,AXIS["Y",WEST],AXIS["X",SOUTH]`),
	} {
		c, err := ParseCRS(text)
		if err != nil {
			t.Fatal(err)
		}
		got, err := c.Degrees(orb.Point{71984.484, 2847342.738})
		if want := (orb.Point{28.2826330556, -25.7320283333}); err != nil || Distance(got, want) > 0.02 {
			t.Errorf("%v, %v: %s", got, err, text)
		}
	}
	for _, axes := range []string{`,AXIS["X",SOUTH],AXIS["Y",WEST]`, `,AXIS["E",EAST],AXIS["N",NORTH]`} {
		if _, err := ParseCRS(system("Transverse_Mercator_South_Orientated", "1", axes)); !errors.Is(err, ErrUnsupported) {
			t.Errorf("%s: %v", axes, err)
		}
	}
}

// TestCRSFeet: the two feet differ by 2 parts in a million, 4 m at 2 million
// metres; both are exact, to the rounding of a double.
func TestCRSFeet(t *testing.T) {
	for factor, want := range map[string]float64{
		"0.3048": 0.3048, "0.304800609601219": 1200.0 / 3937, "0.3048006096012192": 1200.0 / 3937, "0.3048006096": 1200.0 / 3937, "1": 1, "0.201168": 0.201168,
	} {
		v, err := strconv.ParseFloat(factor, 64)
		if err != nil || snapUnit(v) != want {
			t.Errorf("unit %s is %.17g metres, want %.17g", factor, snapUnit(v), want)
		}
	}
}

// FuzzCRS: any text gives a system or an error, and a system's results are numbers.
func FuzzCRS(f *testing.F) {
	for _, s := range systems(f) {
		for _, text := range s.forms() {
			f.Add(text)
		}
	}
	f.Fuzz(func(t *testing.T, text string) {
		c, err := ParseCRS(text)
		if err != nil {
			return
		}
		for _, p := range []orb.Point{{0, 0}, {500000, 4e6}, {-1e9, 1e300}} {
			if q, err := c.Degrees(p); err == nil && !c.IsGeographic() && !finite(q[0], q[1]) {
				t.Fatalf("%q puts %v at %v", text, p, q)
			}
		}
	})
}

func BenchmarkCRS(b *testing.B) {
	for _, code := range []string{"EPSG:26911", "EPSG:5070", "EPSG:3857", "EPSG:3034"} {
		c, err := ParseCRS(code)
		if err != nil {
			b.Fatal(err)
		}
		b.Run(code, func(b *testing.B) {
			for range b.N {
				if _, err := c.Degrees(orb.Point{412345, 3912345}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// A system bound to WGS 84 by its own shift: texts and positions are of PROJ 9.1.1 (projinfo and
// cs2cs). With a zero shift it is read as its source system; with another, on Bessel's ellipsoid,
// the error is about the shift and not about the form.
func TestBoundSystem(t *testing.T) {
	read := func(file string) (CRS, error) {
		text, err := os.ReadFile(filepath.Join("..", "..", "testdata", "crs", file))
		if err != nil {
			t.Fatal(err)
		}
		return ParseCRS(string(text))
	}
	for _, form := range []string{".wkt", ".json"} {
		c, err := read("bound" + form)
		if err != nil {
			t.Errorf("%s: %v", form, err)
			continue
		}
		for _, row := range [][4]float64{
			{-118.2, 34.1, 389309.5969, 3773893.7895}, {-114.9, 41.3, 675815.1391, 4574187.8007}, {-119.7, -12.5, 206534.1643, -1383341.0712},
		} {
			if d := apart(t, c, row); !(d < 0.001) {
				t.Errorf("%s: %v lies %.4f m from where PROJ has it", form, row, d)
			}
		}
		if _, err := read("bound_shifted" + form); !errors.Is(err, ErrUnsupported) || !strings.Contains(err.Error(), "lies up to 1216 m from WGS 84") {
			t.Errorf("%s, shifted: %v", form, err)
		}
	}
}
