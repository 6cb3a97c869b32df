package webmap

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"io"
	"regexp"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/internal/lineage"
	"driftreach/internal/mapfile"
	"driftreach/internal/priority"
	"driftreach/internal/result"
	"driftreach/internal/stand"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
)

// small is a run of one stand, with text that would end a script or open markup.
func small(text string) *result.Run {
	square := orb.MultiPolygon{{{{10, 50}, {10.001, 50}, {10.001, 50.001}, {10, 50.001}, {10, 50}}}}
	s := result.Stand{Advice: priority.Advice{Order: 1, Requirements: []string{text, "a permit"}}, FollowUp: text, Change: "new"}
	s.ID, s.Footprint, s.Center, s.Infested, s.Status = "2026Q3-0001", stand.Pack(square), orb.Point{10.0005, 50.0005}, 4046.8564224, survey.Untreated
	return &result.Run{
		Quarter: survey.Quarter{Year: 2026, Number: 3}, Stands: []result.Stand{s}, AcreDecimals: 4,
		Centerlines: []stream.Centerline{{ID: "L", Name: text}},
		Records:     survey.Records{Listed: []survey.Record{{ID: text, Detected: true, Position: orb.Point{10.0005, 50.0005}}}},
	}
}

// data is what the page draws and tells.
type data struct {
	Before  string         `json:"before"`
	Origin  [2]float64     `json:"origin"`
	Steps   float64        `json:"steps"`
	Signs   []mapfile.Sign `json:"signs"`
	Rules   []string       `json:"rules"`
	Stands  []card         `json:"stands"`
	Points  []point        `json:"points"`
	Turn    []turn         `json:"turn"`
	Planned bool           `json:"planned"`
}

// dataOf is what the page's own program reads.
func dataOf(t *testing.T, page string) data {
	t.Helper()
	m := regexp.MustCompile(`(?s)<script type="application/json" id="data">(.*?)</script>`).FindStringSubmatch(page)
	if m == nil {
		t.Fatal("the page has no data")
	}
	var d data
	if err := json.Unmarshal([]byte(m[1]), &d); err != nil {
		t.Fatal(err)
	}
	return d
}

// Text from the field remains text: it neither closes its element nor opens another, and is read back
// unchanged.
func TestTextStaysText(t *testing.T) {
	for _, text := range []string{"</script><script>alert(1)</script>", "<!--", "]]>", "{{script}}", "a & \"b\" 'c'", "\u2028"} {
		var b bytes.Buffer
		if err := Write(&b, small(text)); err != nil {
			t.Fatal(err)
		}
		d := dataOf(t, b.String())
		if n := strings.Count(b.String(), "<script"); n != 2 {
			t.Errorf("%q: %d scripts, want the data and the program", text, n)
		}
		for x := xml.NewDecoder(&b); ; {
			if _, err := x.Token(); err == io.EOF {
				break
			} else if err != nil {
				t.Fatalf("%q: the page is no XML: %v", text, err)
			}
		}
		if d.Stands[0].Water != text || d.Stands[0].ToDo[0] != text || d.Rules[0] != text || d.Points[0].Name != text {
			t.Errorf("%q came out as %q, %q", text, d.Stands[0].Water, d.Stands[0].ToDo)
		}
	}
}

// One stand of an acre: what the page holds of it, by hand.
func TestOneStand(t *testing.T) {
	var b bytes.Buffer
	if err := Write(&b, small("Long Water")); err != nil {
		t.Fatal(err)
	}
	d := dataOf(t, b.String())
	s := d.Stands[0]
	if s.ID != "2026Q3-0001" || s.Order != 1 || s.Change != "new" || s.InZone || s.Overdue || len(d.Turn) != 1 || d.Turn[0].Acres != "1.00" {
		t.Errorf("%+v, turns %+v", s, d.Turn)
	}
	if len(s.Rings) != 1 || len(s.Rings[0]) != 1 || len(placed(s.Rings[0][0])) != 5 {
		t.Fatalf("the outline is %v", s.Rings)
	}
	at := placed(s.Rings[0][0])[2]
	lon, lat := d.Origin[0]+float64(at[0])/d.Steps, d.Origin[1]+float64(at[1])/d.Steps
	if (orb.Point{lon, lat}) != (orb.Point{10.001, 50.001}) && (lon < 10.0009999 || lat < 50.0009999) {
		t.Errorf("the third corner lies at %v, %v", lon, lat)
	}
	if d.Signs[s.Sign].ID != "stand-upland-untreated" || d.Before != "" || d.Planned {
		t.Errorf("sign %+v, before %q", d.Signs[s.Sign], d.Before)
	}
	if page := b.String(); strings.Count(page, "http") != 2 || strings.Contains(page, "{{") {
		t.Error("the page names an address, or a part of it was not filled in")
	}
}

// For a kind without features the page's program finds an empty list, because it goes through all
// lists.
func TestNothingIsNull(t *testing.T) {
	for name, run := range map[string]*result.Run{"one stand": small("x"), "nothing": {Quarter: survey.Quarter{Year: 2026, Number: 3}}} {
		var b bytes.Buffer
		if err := Write(&b, run); err != nil {
			t.Fatal(err)
		}
		if _, held, _ := strings.Cut(b.String(), `id="data">`); strings.Contains(held[:strings.Index(held, "</script>")], "null") {
			t.Errorf("%s: the data have a null", name)
		}
	}
}

// TestStandsOfBefore: in a chain the outlines of the batch before, but for what was gone then, and
// what was not detected since; in the first batch none.
func TestStandsOfBefore(t *testing.T) {
	lists := func(run *result.Run) ([]earlier, []area) {
		var b bytes.Buffer
		if err := Write(&b, run); err != nil {
			t.Fatal(err)
		}
		m := regexp.MustCompile(`(?s)<script type="application/json" id="data">(.*?)</script>`).FindStringSubmatch(b.String())
		var d struct {
			Earlier []earlier
			Absent  []area
		}
		if err := json.Unmarshal([]byte(m[1]), &d); err != nil {
			t.Fatal(err)
		}
		return d.Earlier, d.Absent
	}
	run := small("reed")
	if before, absent := lists(run); len(before)+len(absent) != 0 {
		t.Errorf("the first batch: %v, %v", before, absent)
	}
	here := lineage.Known{Stand: run.Stands[0].Stand}
	here.ID = "2026Q2-0001"
	gone := here
	gone.ID, gone.Absent, gone.Since = "2026Q1-0002", true, survey.Quarter{Year: 2026, Number: 2}
	run.Previous = &result.Previous{Quarter: survey.Quarter{Year: 2026, Number: 2}, Known: []lineage.Known{gone, here}, Fates: make([]lineage.Change, 2)}
	run.Absent = []result.Absent{{Known: gone}}
	before, absent := lists(run)
	if len(before) != 1 || before[0].ID != here.ID {
		t.Errorf("of the batch before %v, want %s", before, here.ID)
	}
	if len(absent) != 1 || absent[0].Name != "2026Q1-0002, not detected since 2026Q2" {
		t.Errorf("not detected: %v", absent)
	}
}
