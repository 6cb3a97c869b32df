package mapfile

import (
	"bytes"
	"encoding/xml"
	"io"
	"strings"
	"testing"

	"github.com/twpayne/go-kml/v3"

	"driftreach/internal/drift"
	"driftreach/internal/result"
)

// TestBalloonsOfALargeMapAreShort: the balloons of a large map begin with what to do, as in a small
// one. They have the acres and the reach, less than half of the text, and say where the rest is.
func TestBalloonsOfALargeMapAreShort(t *testing.T) {
	run := fixture()
	s := &run.Stands[0]
	s.Advice.Requirements, s.FollowUp, s.Drift.RiverKm = []string{"have the permit"}, "treat ]]> <now>", 12.345
	table := result.StandTable(run)
	row := table.Row(run, 0, nil)
	full := (&mapper{run: run, row: row}).appendStandBalloon(nil, table, 0)
	got := string((&mapper{run: run, row: row, large: true}).appendStandBalloon(nil, table, 0))
	first, _, _ := strings.Cut(string(full), "<h4>")
	if !strings.HasPrefix(got, first) {
		t.Errorf("it begins otherwise than\n%s:\n%s", first, got)
	}
	for _, want := range []string{"<td>Infested area</td><td>1.00 acres", "<td>Stream at risk</td><td>1.3 km", "stands.csv has the rest"} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in\n%s", want, got)
		}
	}
	if len(got)-len(first) > (len(full)-len(first))/2 {
		t.Errorf("%d bytes after what to do, of %d in a small map", len(got)-len(first), len(full)-len(first))
	}

	m := &mapper{run: run, large: true}
	if read := descriptionOf(t, m.stand(table, 0)); read != got {
		t.Errorf("the placemark has\n%s\nwant\n%s", read, got)
	}
	run.Reaches[0].Class, run.Reaches[0].Barrier = drift.High, "dam"
	said := descriptionOf(t, m.reach(result.ReachTable(run), 0))
	if !strings.Contains(said, "<td>Exposure class</td><td>high</td>") || !strings.Contains(said, "<td>dam</td>") || strings.Contains(said, "Velocity from") {
		t.Errorf("a reach says %s", said)
	}
	zone := result.ZoneTable(run)
	if said := descriptionOf(t, m.zone(zone, 0)); !strings.Contains(said, "acres</td>") || len(said) >= len(descriptionOf(t, (&mapper{run: run}).zone(zone, 0))) {
		t.Errorf("a zone says %s", said)
	}
}

// descriptionOf returns the description of a placemark as read by an XML reader.
func descriptionOf(t *testing.T, e kml.Element) string {
	t.Helper()
	placemark, err := xml.Marshal(e)
	if err != nil {
		t.Fatal(err)
	}
	var p struct {
		Description string `xml:"description"`
	}
	if err := xml.Unmarshal(placemark, &p); err != nil {
		t.Fatalf("%v: %s", err, placemark)
	}
	return p.Description
}

// TestCDATA: an XML reader reads back the same text, with the replacement character for characters
// not allowed in XML (XML 1.0, section 2.2).
func TestCDATA(t *testing.T) {
	for in, want := range map[string]string{
		"<b>a & b</b>":    "<b>a & b</b>",
		"a]]>b]]>]]>":     "a]]>b]]>]]>",
		"]]]>]>":          "]]]>]>",
		"":                "",
		"a\x00b\x1f\xffé": "a\uFFFDb\uFFFD\uFFFDé",
		"\ta\nb\uFFFE":    "\ta\nb\uFFFD",
	} {
		d := xml.NewDecoder(bytes.NewReader(append(appendCDATA([]byte("<x>"), []byte(in)), "</x>"...)))
		var got strings.Builder
		for {
			token, err := d.Token()
			if err == io.EOF {
				break
			}
			if err != nil {
				t.Fatalf("%q: %v", in, err)
			}
			if text, ok := token.(xml.CharData); ok {
				got.Write(text)
			}
		}
		if got.String() != want {
			t.Errorf("%q became %q, want %q", in, got.String(), want)
		}
	}
}

// TestLargeMapsHaveNumbersOfTheFirst: only the first stands in treatment order have numbers, and
// the folder says so.
func TestLargeMapsHaveNumbersOfTheFirst(t *testing.T) {
	run := largeRun()
	all := numbered(run)
	if len(run.Stands) <= mostNumbers || len(all) != mostNumbers {
		t.Fatalf("%d numbers of %d stands", len(all), len(run.Stands))
	}
	for _, i := range all {
		if n := run.Stands[i].Advice.Order; n > mostNumbers {
			t.Fatalf("number %d is on the map", n)
		}
	}
	if doc := fixtureKML(t, run); !bytes.Contains(doc, []byte("of the first 5000 stands that ask for it")) {
		t.Error("the folder does not say that the others have none")
	}
}
