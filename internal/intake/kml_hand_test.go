package intake

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"

	"driftreach/internal/testkit"
)

// TestKMLByHand: white space around commas, as people type it, is ignored; text that is not a list
// of coordinates stays an error.
func TestKMLByHand(t *testing.T) {
	for text, want := range map[string][]orb.Point{
		"1,2":                     {{1, 2}},
		" 1, 2 , 3 ":              {{1, 2}},
		"1,\n2,\t3\n4 , 5 6,7, 8": {{1, 2}, {4, 5}, {6, 7}},
		"1,2, 3,4, 5,6":           nil,
		"1 2":                     nil,
	} {
		kml := "<kml><Placemark><LineString><coordinates>" + text + "</coordinates></LineString></Placemark></kml>"
		s, findings, err := ReadStreams(testkit.Source("f", strings.NewReader(kml)), testOptions())
		if err != nil || len(s.Centerlines) != min(len(want), 1) {
			t.Errorf("%q: %v, %d lines, %v", text, err, len(s.Centerlines), findings)
			continue
		}
		if len(want) > 0 {
			if diff := cmp.Diff(orb.LineString(want), s.Centerlines[0].Path); diff != "" {
				t.Errorf("%q (-want +got):\n%s", text, diff)
			}
		}
	}
}

// TestKMLBlankPoint: a point without coordinates beside a track, as telephones
// write it, leaves the track.
func TestKMLBlankPoint(t *testing.T) {
	kml := `<kml><Placemark><Point><coordinates/></Point><Track><coord>1 2 0</coord><coord>3 4 0</coord></Track></Placemark></kml>`
	s, findings, err := ReadStreams(testkit.Source("f", strings.NewReader(kml)), testOptions())
	if err != nil || len(s.Centerlines) != 1 {
		t.Errorf("%v, %d lines, %v", err, len(s.Centerlines), findings)
	}
}

// TestKMLSchema: placemarks of KML 2.0 under a name of their own, defined by an element or by
// attributes, with their columns.
func TestKMLSchema(t *testing.T) {
	for _, schema := range []string{
		`<Schema parent="Placemark" name="S_finds"><SimpleField type="string" name="recordedBy"/></Schema>`,
		`<Schema><name>S_finds</name><parent>Placemark</parent><SimpleField type="string" name="recordedBy"/></Schema>`,
	} {
		kml := `<kml><Document>` + schema + `<S_finds><name>a</name><recordedBy>N. N.</recordedBy><Point><coordinates>1,2</coordinates></Point></S_finds>
			<Placemark><name>b</name><Point><coordinates>1,2</coordinates></Point></Placemark><S_other><Point><coordinates>1,2</coordinates></Point></S_other></Document></kml>`
		p, findings, err := ReadPoints(testkit.Source("f", strings.NewReader(kml)), testOptions())
		if err != nil || len(p.Records) != 2 || p.Records[0].RecordedBy() != "N. N." {
			t.Errorf("%v, %+v, %v", err, p.Records, findings)
		}
	}
}
