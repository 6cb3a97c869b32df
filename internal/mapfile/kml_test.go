package mapfile

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/twpayne/go-kml/v3"

	"driftreach/internal/result"
	"driftreach/internal/survey"
	"driftreach/internal/verify/validate"
)

// schemaFile returns the path of the KML 2.2 schema that comes with the library, next to this
// project's stubs of the two schemas it refers to.
func schemaFile(t *testing.T) string {
	t.Helper()
	if _, err := exec.LookPath("xmllint"); err != nil {
		t.Skip("xmllint is not installed (libxml2-utils): documents are not held against the schema")
	}
	dir, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "github.com/twpayne/go-kml/v3").Output()
	if err != nil {
		t.Skipf("the module's folder is not known: %v", err)
	}
	schema, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(dir)), "xsd", "ogckml22.xsd"))
	if err != nil {
		t.Fatal(err)
	}
	out := t.TempDir()
	text := strings.Replace(string(schema), "http://docs.oasis-open.org/election/external/xAL.xsd", "xAL.xsd", 1)
	save(t, filepath.Join(out, "ogckml22.xsd"), []byte(text))
	for _, stub := range []string{"xAL.xsd", "atom-author-link.xsd"} {
		data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "xsd", stub))
		if err != nil {
			t.Fatal(err)
		}
		save(t, filepath.Join(out, stub), data)
	}
	return filepath.Join(out, "ogckml22.xsd")
}

func save(t *testing.T, name string, data []byte) {
	t.Helper()
	if err := os.WriteFile(name, data, 0o644); err != nil {
		t.Fatal(err)
	}
}

// xmllint returns xmllint's messages for the document, "" if it is valid.
func xmllint(t *testing.T, schema string, doc []byte) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "doc.kml")
	save(t, file, doc)
	out, err := exec.Command("xmllint", "--nonet", "--noout", "--schema", schema, file).CombinedOutput()
	if err == nil {
		return ""
	}
	return string(out)
}

// TestKMLValidates validates the fixture's map against the schema of OGC KML 2.2.
func TestKMLValidates(t *testing.T) {
	schema := schemaFile(t)
	for name, run := range map[string]*result.Run{"fixture": fixture(), "empty": {}} {
		doc := fixtureKML(t, run)
		if said := xmllint(t, schema, doc); said != "" {
			t.Errorf("%s: %s", name, said)
		}
	}
}

func fixtureKML(t *testing.T, run *result.Run) []byte {
	t.Helper()
	doc, err := written(func(b *bytes.Buffer) error { return writeKML(b, run, 2) })
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

// kmlMutants are single changes that must be found by this project's checks and, where the schema
// covers them, by xmllint too.
var kmlMutants = []struct {
	name     string
	old, new string
	schema   bool // found by the schema too
}{
	{"name after style", "</name><description>", "</name><styleUrl>#reach-low</styleUrl><description>", true},
	{"colour with a sign", "<color>ff", "<color>#f", true},
	{"upper-case colour", "<color>ff005ed5", "<color>FF005ED5", false},
	{"longitude beyond 180", "<coordinates>-20.5,", "<coordinates>200.5,", false},
	{"swapped coordinates", "<coordinates>-20.5,-34.25</coordinates>", "<coordinates>-34.25,-20.5</coordinates>", false},
	{"not a number", "<coordinates>-20.5,", "<coordinates>NaN,", false},
	{"undeclared field", `<SimpleData name="stand_id">`, `<SimpleData name="stand">`, false},
	{"empty field", `<SimpleData name="quarter">2026Q3`, `<SimpleData name="quarter">`, false},
	{"word in a number field", `<SimpleData name="points">2`, `<SimpleData name="points">two`, false},
	{"infinite number", `<SimpleData name="reach_km">1.25`, `<SimpleData name="reach_km">Inf`, false},
	{"style that is not there", "<styleUrl>#stand-", "<styleUrl>#stands-", false},
	{"schema that is not there", `schemaUrl="#stands"`, `schemaUrl="#stand"`, false},
	{"unknown field type", `type="double"`, `type="decimal"`, false},
	{"span that ends before it begins", "<begin>2026", "<begin>2027", false},
	{"folder without a name", "<Folder>\n<name>Low</name>", "<Folder>\n", false},
	{"two styles of one id", `<Style id="reach-low">`, `<Style id="reach-high">`, true},
	{"another namespace", "opengis.net/kml/2.2", "google.com/kml/2.0", true},
	{"image from the network", "</scale></IconStyle>", "</scale><Icon><href>http://example.org/pin.png</href></Icon></IconStyle>", false},
	{"unclosed element", "</Folder>", "", true},
}

// TestKMLMutantsAreCaught makes one change at a time to the fixture's map.
func TestKMLMutantsAreCaught(t *testing.T) {
	doc := string(fixtureKML(t, fixture()))
	// the fixture's places, eastward from 24 W; a swapped first stand is west of it
	within := validate.Bounds{West: -24, South: -40, East: -179, North: 80}
	if found := validate.KML([]byte(doc), within).Problems; len(found) > 0 {
		t.Fatal(found)
	}
	for _, m := range kmlMutants {
		t.Run(m.name, func(t *testing.T) {
			mutant := strings.Replace(doc, m.old, m.new, 1)
			if mutant == doc {
				t.Fatal("the mutant is the original")
			}
			if validate.KML([]byte(mutant), within).OK() {
				t.Error("not caught")
			}
		})
	}
}

// TestKMLSchemaCatchesMutants: xmllint finds the changes that the schema covers.
func TestKMLSchemaCatchesMutants(t *testing.T) {
	schema := schemaFile(t)
	doc := string(fixtureKML(t, fixture()))
	for _, m := range kmlMutants {
		if !m.schema {
			continue
		}
		if xmllint(t, schema, []byte(strings.Replace(doc, m.old, m.new, 1))) == "" {
			t.Errorf("%s: xmllint lets it pass", m.name)
		}
	}
}

// ringMutants change one ring of a one-ring document.
func TestKMLRingMutants(t *testing.T) {
	const head = `<kml xmlns="http://www.opengis.net/kml/2.2"><Placemark><name>x</name><Polygon><outerBoundaryIs><LinearRing><coordinates>`
	const tail = `</coordinates></LinearRing></outerBoundaryIs></Polygon></Placemark></kml>`
	for _, c := range []struct {
		name, ring string
		ok         bool
	}{
		{"right", "0,0 1,0 1,1 0,0", true},
		{"clockwise", "0,0 1,1 1,0 0,0", false},
		{"open", "0,0 1,0 1,1 0,1", false},
		{"three positions", "0,0 1,0 0,0", false},
		{"no area", "0,0 1,0 2,0 0,0", false},
		{"repeated vertex", "0,0 1,0 1,0 1,1 0,0", false},
		{"over the antimeridian", "179,0 -179,0 -179,1 179,0", false},
		{"a word", "0,0 1,x 1,1 0,0", false},
	} {
		if got := validate.KML([]byte(head+c.ring+tail), validate.Bounds{}).OK(); got != c.ok {
			t.Errorf("%s: valid is %v", c.name, got)
		}
	}
}

// TestColorIsNotPremultiplied: half-clear vermillion D55E00 is 7f or 80, blue 00,
// green 5e, red d5 (derived by hand: aabbggrr of OGC 07-147r2, section 16.8).
func TestColorIsNotPremultiplied(t *testing.T) {
	got, err := written(func(b *bytes.Buffer) error { return marshal(b, kml.Color(vermillion.at(0.5))) })
	if err != nil {
		t.Fatal(err)
	}
	if want := "<color>80005ed5</color>\n"; string(got) != want {
		t.Errorf("%s, want %s", got, want)
	}
}

// TestStandsComeInTreatmentOrder: the numbers before the names increase within each folder, and the
// name has order, identity and acres, without a number if no treatment is needed. The numbers alone
// come after the stands.
func TestStandsComeInTreatmentOrder(t *testing.T) {
	doc := string(fixtureKML(t, fixture()))
	_, stands, _ := strings.Cut(doc, "<name>Aquatic-zone stands</name>")
	at := 0
	for _, name := range []string{
		"1. 2026Q3-0000 (1.00 acres)", "2026Q3-0002 (1.33 acres)", "5. 2026Q3-0004 (1.67 acres)", "2026Q3-0006 (2.00 acres)",
		"Upland stands", "2026Q3-0001 (1.00 acres)", "4. 2026Q3-0003 (1.33 acres)", "2026Q3-0005 (1.67 acres)", "8. 2026Q3-0007 (2.00 acres)",
		"Numbers", "1", "4", "5", "8", "Survey points",
	} {
		k := strings.Index(stands[at:], "<name>"+name+"</name>")
		if k < 0 {
			t.Fatalf("%q is not there, or not after the one before", name)
		}
		at += k
	}
}

// TestLooksAreToldApart: no symbol occurs twice, and stands inside and outside the zone differ in
// more than colour.
func TestLooksAreToldApart(t *testing.T) {
	seen := map[string]bool{}
	for _, l := range looks() {
		if seen[l.id] {
			t.Errorf("%s comes twice", l.id)
		}
		seen[l.id] = true
	}
	if a, b := standLook(survey.Treated, true), standLook(survey.Treated, false); a.width == b.width || a.cover == b.cover {
		t.Error("zone and upland stands differ in colour only")
	}
}
