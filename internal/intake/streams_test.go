package intake

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"driftreach/internal/check"
	"driftreach/internal/column"
	"driftreach/internal/format"
	"driftreach/internal/stream"
	"driftreach/internal/testkit"
)

// TestBadStreams checks that each kind of bad line gives its finding, with a good line beside each.
// Derived by hand from the field table.
func TestBadStreams(t *testing.T) {
	for _, c := range []struct {
		name, properties, geometry string
		kept                       int
		want                       string
	}{
		{"good", ``, `{"type":"LineString","coordinates":[[2,3],[4,5]]}`, 2, ""},
		{"two parts", ``, `{"type":"MultiLineString","coordinates":[[[2,3],[4,5]],[[6,7],[8,9]]]}`, 3, ""},
		{"one part empty", ``, `{"type":"MultiLineString","coordinates":[[[2,3],[4,5]],[]]}`, 2, "b#2 line-empty"},
		{"no vertices", ``, `{"type":"LineString","coordinates":[]}`, 1, "b geometry-empty"},
		{"no parts", ``, `{"type":"MultiLineString","coordinates":[[]]}`, 1, "b geometry-empty"},
		{"no geometry", ``, `null`, 1, "b geometry-empty"},
		{"one vertex", ``, `{"type":"LineString","coordinates":[[2,3]]}`, 1, "b line-one-vertex"},
		{"zero length", ``, `{"type":"LineString","coordinates":[[2,3],[2,3],[2,3]]}`, 1, "b line-zero-length"},
		{"repeated vertex", ``, `{"type":"LineString","coordinates":[[2,3],[2,3],[4,5]]}`, 2, "b line-vertex-repeated"},
		{"NaN vertex", ``, `{"type":"LineString","coordinates":[[2,3],[NaN,5]]}`, 1, "b line-not-finite"},
		{"infinite vertex", ``, `{"type":"LineString","coordinates":[[2,3],[4,-1e400]]}`, 1, "b line-not-finite"},
		{"out of range", ``, `{"type":"LineString","coordinates":[[200,3],[205,5]]}`, 1, "b line-out-of-range"},
		{"swapped", ``, `{"type":"LineString","coordinates":[[45,117],[46,118]]}`, 1, "b line-swapped"},
		{"projected", ``, `{"type":"LineString","coordinates":[[500000,4600000],[500010,4600010]]}`, 1, "b line-projected"},
		{"past 180", ``, `{"type":"LineString","coordinates":[[179.9,3],[180.1,3]]}`, 2, "b line-longitude-wrapped"},
		{"self-crossing", ``, `{"type":"LineString","coordinates":[[0,0],[2,2],[2,0],[0,2]]}`, 2, "b line-self-crossing"},
		{"closed", ``, `{"type":"LineString","coordinates":[[0,1],[2,2],[2,1],[0,1]]}`, 2, "b line-closed"},
		{"point", ``, `{"type":"Point","coordinates":[2,3]}`, 1, "b geometry-kind"},
		{"polygon", ``, `{"type":"Polygon","coordinates":[[[2,3],[4,5],[4,3],[2,3]]]}`, 1, "b geometry-kind"},
		{"mixed depth", ``, `{"type":"LineString","coordinates":[[2,3],[[4,5]]]}`, 1, "b geometry-malformed"},
		{"number among positions", ``, `{"type":"LineString","coordinates":[[2,3],4]}`, 1, "b geometry-malformed"},
		{"coordinates missing", ``, `{"type":"LineString"}`, 1, "b geometry-empty"},
		{"divergence 3", `,"divergence":3`, ``, 2, "b divergence-unknown"},
		{"divergence word", `,"divergence":"main"`, ``, 2, "b divergence-unknown"},
		{"divergence written as a float", `,"divergence":2.0`, ``, 2, ""},
		{"share above 1", `,"flow_share":1.5`, ``, 2, "b share-out-of-range"},
		{"pass below 0", `,"barrier_pass":-0.1`, ``, 2, "b share-out-of-range"},
		{"negative width", `,"bankfull_width_m":-3`, ``, 2, "b measure-negative"},
		{"negative length", `,"length_km":-3`, ``, 2, "b measure-negative"},
		{"negative order", `,"stream_order":-8`, ``, 2, "b measure-negative"},
		{"order -9 is outside the network", `,"stream_order":-9,"divergence":-9,"slope":-9998`, ``, 2, "line-coast"},
		{"coast by its type", `,"feature_type":"CoastLine","divergence":7`, ``, 2, "line-coast"},
		{"a pipeline carries water", `,"feature_type":"Pipeline"`, ``, 2, ""},
		{"broken order", `,"stream_order":2.5`, ``, 2, "b number-not-whole"},
		{"missing slope as agencies write it", `,"slope":-9998`, ``, 2, "b measure-negative"},
		{"unknown barrier", `,"barrier":"beaver lodge"`, ``, 2, "b barrier-unknown"},
		{"barrier in capitals", `,"barrier":"DAM"`, ``, 2, ""},
		{"NaN discharge", `,"discharge_m3s":NaN`, ``, 2, "b number-not-finite"},
		{"unreadable velocity", `,"mean_velocity_mps":"fast"`, ``, 2, "b number-unreadable"},
		{"all blank", `,"mean_velocity_mps":"","barrier":null,"divergence":" ","slope":"NA"`, ``, 2, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			if c.geometry == "" {
				c.geometry = `{"type":"LineString","coordinates":[[2,3],[4,5]]}`
			}
			text := `{"type":"FeatureCollection","features":[
				{"type":"Feature","properties":{"stream_id":"a"},"geometry":{"type":"LineString","coordinates":[[1,1],[1,2]]}},
				{"type":"Feature","properties":{"stream_id":"b"` + c.properties + `},"geometry":` + c.geometry + `}]}`
			lines, findings, _ := readStreams(t, text, testOptions())
			if len(lines) != c.kept || codes(findings) != c.want {
				t.Errorf("kept %d with %q, want %d with %q", len(lines), codes(findings), c.kept, c.want)
			}
		})
	}
}

// TestStreamsThatCannotBeRead: a row of a table with a cell too many, and a feature that is none, each
// beside a good line.
func TestStreamsThatCannotBeRead(t *testing.T) {
	for text, want := range map[string]string{
		"stream_id,WKT\na,\"LINESTRING (1 1,1 2)\"\nb,\"LINESTRING (2 3,4 5)\",c\n":                                                                                  "b row-ragged",
		`{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"stream_id":"a"},"geometry":{"type":"LineString","coordinates":[[1,1],[1,2]]}},7]}`: "row 2 feature-unreadable",
	} {
		lines, findings, file := readStreams(t, text, testOptions())
		if len(lines) != 1 || codes(findings) != want || file.Read != 2 {
			t.Errorf("%s: kept %d of %d with %q, want %q", text, len(lines), file.Read, codes(findings), want)
		}
	}
}

func TestStreamsUnusable(t *testing.T) {
	for _, c := range []struct{ name, text, found string }{
		{"points", `{"type":"Feature","properties":{},"geometry":{"type":"Point","coordinates":[1,2]}}`, "no feature is a line"},
		// lines can be read from a table's column, so the message says that this table has none
		{"CSV", "stream_id,x,y\na,1,2\n", "a table without a column of lines"},
	} {
		_, _, err := ReadStreams(testkit.Source("s", strings.NewReader(c.text)), testOptions())
		var unusable *format.UnusableError
		if !errors.As(err, &unusable) || !strings.Contains(unusable.Found, c.found) {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}

// TestStreamFields reads every field once; values by hand.
func TestStreamFields(t *testing.T) {
	text := `{"type":"Feature","properties":{"STREAM_ID":7.0,"waterBody":"Lo","from_node":1.0,"to_node":"n2","hydroseq":5,"divergence":1,"flow_share":0.25,
		"stream_order":3,"bankfull_width_m":4.5,"mean_velocity_mps":0.5,"drainage_km2":6,"discharge_m3s":7,"mean_discharge_m3s":8,"slope":0.001,
		"barrier":"Weir","barrier_pass":0.7,"length_km":1.5,"catchment_km2":2},"geometry":{"type":"LineString","coordinates":[[1,2,9],[1.0095,2.0095,9]]}}`
	lines, findings, _ := readStreams(t, text, testOptions())
	if len(lines) != 1 || len(findings) != 0 {
		t.Fatalf("%d lines, %s", len(lines), codes(findings))
	}
	l := lines[0]
	if l.ID != "7" || l.Name != "Lo" || l.FromNode != "1" || l.ToNode != "n2" || l.Sequence != 5 || l.Divergence != stream.MainPath ||
		l.FlowShare != 0.25 || l.Order != 3 || l.BankfullWidth != 4.5 || l.MeanVelocity != 0.5 || l.Drainage != 6 || l.Discharge != 7 ||
		l.MeanDischarge != 8 || l.Slope != 0.001 || l.Barrier != stream.Weir || l.BarrierPass != 0.7 || l.Length != 1500 || l.LocalArea != 2 {
		t.Errorf("%+v", l)
	}
	text = `{"type":"Feature","properties":{},"geometry":{"type":"LineString","coordinates":[[1,2],[3,4]]}}`
	lines, _, _ = readStreams(t, text, testOptions())
	l = lines[0]
	for name, v := range map[string]float64{"hydroseq": l.Sequence, "flow_share": float64(l.FlowShare), "velocity": float64(l.MeanVelocity), "drainage": float64(l.Drainage),
		"discharge": float64(l.Discharge), "mean discharge": float64(l.MeanDischarge), "slope": l.Slope, "pass": float64(l.BarrierPass), "catchment": float64(l.LocalArea)} {
		if !math.IsNaN(v) {
			t.Errorf("%s not recorded reads as %v, want NaN", name, v)
		}
	}
	if l.Length != 0 || l.BankfullWidth != 0 || l.Order != 0 || l.ID != "streams#1" {
		t.Errorf("not recorded reads as %+v", l)
	}
}

// TestStreamMapping reads an agency's names through the mapping.
func TestStreamMapping(t *testing.T) {
	text := `{"type":"Feature","properties":{"ComID":12,"FromNode":250.0,"ToNode":251.0,"Kind":"Sperre","Div":"Haupt","from_node":"not this"},"geometry":{"type":"LineString","coordinates":[[1,2],[3,4]]}}`
	o := testOptions()
	o.Mapping = column.Mapping{
		Columns: single(map[string]string{"stream_id": "COMID", "from_node": "FromNode", "To_Node": "tonode", "barrier": "kind", "divergence": "Div", "slope": "Gefaelle"}),
		Values:  map[string]map[string]string{"barrier": {"sperre": "dam"}, "divergence": {"Haupt": "1"}},
	}
	lines, findings, s := readStreams(t, text, o)
	if len(lines) != 1 || codes(findings) != "column-not-found" || findings[0].Field != "slope" || findings[0].Value != "Gefaelle" {
		t.Fatalf("%d lines, %v", len(lines), findings)
	}
	if l := lines[0]; l.ID != "12" || l.FromNode != "250" || l.ToNode != "251" || l.Barrier != stream.Dam || l.Divergence != stream.MainPath {
		t.Errorf("%+v", l)
	}
	// from_node, our own name, gives way to the mapped FromNode
	if len(s.Columns) != 6 {
		t.Errorf("understood %v", s.Columns)
	}
}

// TestSurveyExtract reads 746 published flowlines of the U.S. Geological Survey (see the README
// beside the data): all are good lines with nodes.
func TestSurveyExtract(t *testing.T) {
	dir := os.Getenv("DRIFTREACH_DATA")
	if dir == "" {
		dir = filepath.Join("..", "..", "..", "shared", "data")
	}
	text, err := os.ReadFile(filepath.Join(dir, "nhdplusv2_new_hope_746.geojson"))
	if err != nil {
		t.Skip("the flowline extract is not there: set DRIFTREACH_DATA")
	}
	o := testOptions()
	o.Mapping.Columns = single(map[string]string{"stream_id": "COMID", "waterBody": "GNIS_NAME", "from_node": "FromNode", "to_node": "ToNode",
		"hydroseq": "Hydroseq", "length_km": "LENGTHKM", "catchment_km2": "AreaSqKM", "stream_order": "StreamOrde"})
	lines, findings, _ := readStreams(t, string(text), o)
	if len(lines) != 746 || check.Count(findings, check.Error) != 0 {
		t.Fatalf("%d lines, %s", len(lines), codes(findings))
	}
	total, divided := 0.0, 0
	for _, l := range lines {
		total += float64(l.Length.Kilometers())
		if l.Divergence != stream.NoDivergence {
			divided++
		}
	}
	// 577.376 km: the extract's own ArbolateSu at the outlet.
	if math.Abs(total-577.376) > 0.0005 || divided == 0 {
		t.Errorf("%.4f km, %d divergences", total, divided)
	}
}

// TestStreamNodes: 0, however written, means no node; a number stored as a float is the same node.
func TestStreamNodes(t *testing.T) {
	for written, want := range map[string]string{
		`0`: "", `0.0`: "", `"0"`: "", `"0.000"`: "", `" 0 "`: "", `null`: "", `""`: "",
		`250031721`: "250031721", `250031721.0`: "250031721", `"250031721.0"`: "250031721", `"250031721.00"`: "250031721",
		`10`: "10", `"n0"`: "n0", `"0.5"`: "0.5", `"00"`: "00", `"a.0"`: "a.0",
		`"2.50031721000e+008"`: "250031721", `"0.00000000000e+000"`: "", `"1e5"`: "1e5", `"1.25e+001"`: "1.25e+001",
	} {
		for _, field := range []string{"from_node", "to_node"} {
			text := `{"type":"Feature","properties":{"stream_id":"s","` + field + `":` + written + `},"geometry":{"type":"LineString","coordinates":[[1,2],[3,4]]}}`
			lines, findings, _ := readStreams(t, text, testOptions())
			if len(lines) != 1 || len(findings) != 0 || lines[0].FromNode+lines[0].ToNode != want {
				t.Errorf("%s %s: %+v with %s, want %q", field, written, lines, codes(findings), want)
			}
		}
	}
}

// TestFeatureTypeMapped: the source's own column, and its own word for a coast.
func TestFeatureTypeMapped(t *testing.T) {
	o := testOptions()
	o.Mapping.Columns = single(map[string]string{"feature_type": "FTYPE"})
	o.Mapping.Values = map[string]map[string]string{"feature_type": {"kueste": "Coastline"}}
	for word, want := range map[string]bool{"Kueste": true, "Coastline": true, "StreamRiver": false, "566.0": true} {
		text := `{"type":"Feature","properties":{"ftype":"` + word + `"},"geometry":{"type":"LineString","coordinates":[[1,2],[3,4]]}}`
		if lines, _, _ := readStreams(t, text, o); len(lines) != 1 || lines[0].IsCoast() != want {
			t.Errorf("%s: %+v", word, lines)
		}
	}
}
