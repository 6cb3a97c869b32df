package intake

import (
	"strings"
	"testing"

	"driftreach/internal/check"
	"driftreach/internal/format"
	"driftreach/internal/testkit"
)

// TestFilesOfTheWrongKind: a file in which every geometry is of a kind that the role does not take is
// refused; one with a right one among them is read, and the others are rejected; one without any feature
// is read. By hand, for each role that takes geometries.
func TestFilesOfTheWrongKind(t *testing.T) {
	feature := func(kind, places string) string {
		return `{"type":"Feature","properties":{"eventDate":"2026-07-01","date":"2026-07-01","method":"cut","kind":"weir"},"geometry":{"type":"` + kind + `","coordinates":` + places + "}}\n"
	}
	point, line, area := feature("Point", "[1,2]"), feature("LineString", "[[1,2],[1.001,2]]"), feature("Polygon", "[[[1,2],[1.001,2],[1.001,2.001],[1,2]]]")
	for _, c := range []struct{ role, right, wrong, refused string }{
		{RolePoints, point, line, "no feature is a point or a drawn patch"}, {RolePoints, area, line, "no feature is a point or a drawn patch"},
		{RoleStreams, line, point, "no feature is a line"}, {RoleStreams, line, area, "no feature is a line"},
		{RoleUnits, area, point, "no feature is an area"}, {RoleUnits, area, line, "no feature is an area"},
		{RoleSurveyed, line, point, "no feature is a line or an area"}, {RoleSurveyed, area, point, "no feature is a line or an area"},
		{RoleTreatments, point, line, "no feature is a point or an area"}, {RoleTreatments, area, line, "no feature is a point or an area"},
		{RoleBarriers, point, line, "no feature is a point or an area"}, {RoleBarriers, area, line, "no feature is a point or an area"},
		{RoleWater, area, point, "no feature is an area"}, {RoleWater, area, line, "no feature is an area"},
		{RoleWorks, point, "", ""}, {RoleWorks, line, "", ""}, {RoleWorks, area, "", ""}, {RoleValues, point, "", ""}, {RoleValues, line, "", ""}, {RoleValues, area, "", ""},
	} {
		r, _ := RoleOf(c.role)
		read := func(text string) (Taken, error) {
			return r.Read(Given{Sources: []format.Source{testkit.Source("f", strings.NewReader(text))}, Options: func(format.Source) (Options, error) { return testOptions(), nil }})
		}
		if taken, err := read(c.right); err != nil || taken.Files[0].Read != 1 || taken.Files[0].Rejected != 0 {
			t.Errorf("%s, %s: %v, %+v", c.role, c.right, err, taken.Files)
		}
		if c.wrong == "" {
			continue
		}
		for _, text := range []string{c.wrong, c.wrong + c.wrong} {
			if _, err := read(text); err == nil || !strings.Contains(err.Error(), c.refused) {
				t.Errorf("%s, %s: %v, want %s", c.role, text, err, c.refused)
			}
		}
		for _, text := range []string{c.right + c.wrong, c.wrong + c.right} {
			taken, err := read(text)
			if err != nil || taken.Files[0].Read != 2 || taken.Files[0].Rejected != 1 {
				t.Errorf("%s, %s: %v, %+v", c.role, text, err, taken.Files)
				continue
			}
			kinds := 0
			for _, f := range check.Join(taken.Findings...) {
				if f.Rule.Code == "geometry-kind" && f.Rule.Severity == check.Error {
					kinds++
				}
			}
			if kinds != 1 {
				t.Errorf("%s, %s: %d findings about the kind", c.role, text, kinds)
			}
		}
	}
}

// TestDatesOfRejectedPoints: a point that is rejected takes what was said of its date along: the next,
// which has none, is told; one whose date was told as unreadable is not told again. By hand.
func TestDatesOfRejectedPoints(t *testing.T) {
	feature := func(id, date, rings string) string {
		return `{"type":"Feature","properties":{"occurrenceID":"` + id + `","eventDate":"` + date + `"},"geometry":{"type":"Polygon","coordinates":[` + rings + "]}}\n"
	}
	const good, bad = "[[1,2],[1.001,2],[1.001,2.001],[1,2]]", "[[1,2],[1.001,2]]"
	for _, c := range []struct{ text, want string }{
		{feature("a", "soon", bad) + feature("b", "", good), "a date-unreadable; a geometry-malformed; b date-missing"},
		{feature("a", "soon", good) + feature("b", "", good), "a date-unreadable; b date-missing"},
		{feature("a", "", bad) + feature("b", "soon", good), "a geometry-malformed; b date-unreadable"},
		{feature("a", "2026-07-01", good) + feature("b", "", bad) + feature("c", "", good), "b geometry-malformed; c date-missing"},
	} {
		_, findings, err := ReadPoints(testkit.Source("p", strings.NewReader(c.text)), testOptions())
		if err != nil {
			t.Fatal(err)
		}
		if check.Sort(findings); codes(findings) != c.want {
			t.Errorf("%s: %s, want %s", c.text, codes(findings), c.want)
		}
	}
}

// TestNodesAndWholeNumbers: names of nodes and whole numbers of streams at their bounds; by hand.
func TestNodesAndWholeNumbers(t *testing.T) {
	for text, want := range map[string]string{
		"": "", "0": "", "0.0": "", "00": "00", "17": "17", "17.0": "17", "1.7e+001": "17", "1.7E+001": "17", "1.75e+001": "1.75e+001", "9.99999999999999e+014": "999999999999999", "1.0e+015": "1.0e+015", "-1.7e+001": "-17", "-1.0e+015": "-1.0e+015",
		"0.0e+000": "", "1e+1": "1e+1", "a.be+c": "a.be+c", "1.5": "1.5",
	} {
		if got := node([]byte(text)); got != want {
			t.Errorf("node %q is %q, want %q", text, got, want)
		}
	}
	for _, c := range []struct {
		field, text string
		order, part int
		told        bool
	}{
		{"divergence", "0", 0, 0, false}, {"divergence", "1", 0, 1, false}, {"divergence", "2", 0, 2, false}, {"divergence", "2.0", 0, 2, false}, {"divergence", "3", 0, 0, true}, {"divergence", "-1", 0, 0, true}, {"divergence", "1.5", 0, 0, true},
		{"divergence", "x", 0, 0, true}, {"divergence", "", 0, 0, false}, {"divergence", "minor", 0, 2, false}, {"divergence", "none", 0, 0, false}, {"divergence", "odd", 0, 0, true},
		{"stream_order", "0", 0, 0, false}, {"stream_order", "1", 1, 0, false}, {"stream_order", "2147483647", 2147483647, 0, false}, {"stream_order", "2147483648", 0, 0, true}, {"stream_order", "1.5", 0, 0, true}, {"stream_order", "", 0, 0, false},
	} {
		o := testOptions()
		o.Mapping.Values = map[string]map[string]string{"divergence": {"minor": "2", "none": "0", "odd": "3"}}
		s, findings, err := ReadStreams(testkit.Source("s.csv", strings.NewReader("stream_id,"+c.field+",WKT\na,"+c.text+`,"LINESTRING(1 2,1 2.01)"`+"\n")), o)
		if err != nil || len(s.Centerlines) != 1 {
			t.Fatalf("%s %s: %v", c.field, c.text, err)
		}
		l := s.Centerlines[0]
		if int(l.Order) != c.order || int(l.Divergence) != c.part || (len(findings) > 0) != c.told {
			t.Errorf("%s %q: order %d, divergence %d, %v", c.field, c.text, l.Order, l.Divergence, findings)
		}
	}
}
