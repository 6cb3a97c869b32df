package mapfile

import (
	"encoding/xml"
	"io"
	"os"
	"slices"
	"strings"
	"testing"

	"driftreach/geo"
	"driftreach/internal/result"
	"driftreach/internal/stretch"
	"driftreach/internal/survey"
)

// signed returns the fixture with additions: stands of every status, inside and outside the zone,
// carried and not; reaches of every class and stage; and a list of where to survey next.
func signed() *result.Run {
	run := fixture()
	for i := range run.Stands {
		s := &run.Stands[i]
		s.Status, s.Zone.InZone = survey.Status(i%4), i%8 < 4
		carried := *s
		carried.ID, carried.CarriedFrom = "2026Q1-1"+carried.ID[8:], survey.Quarter{Year: 2026, Number: 1}
		run.Stands = append(run.Stands, carried)
	}
	for i := range run.Records.Listed {
		run.Records.Listed[i].Status = survey.Status(i / 4 % 4)
	}
	for i := range run.Reaches {
		run.Reaches[i].Class, run.Reaches[i].Stage = classes[i%4], uint8(i/4%2)
	}
	for i, state := range []stretch.State{stretch.Never, stretch.Unknown, stretch.Looked, stretch.Never} {
		run.Stretches = append(run.Stretches, stretch.Stretch{ID: string(rune('a' + i)), Lines: []int32{0}, Drawn: &stretch.Drawn{Path: run.Reaches[0].Path}, Listed: i < 3, FromKm: geo.Kilometers(i), Last: stretch.Look{State: state}})
	}
	return run
}

// TestEveryRowHasTheSignOfTheMap: for each row the rules of a layer's style select exactly one
// symbol, the one in map.kmz.
func TestEveryRowHasTheSignOfTheMap(t *testing.T) {
	run := signed()
	looksOfRow := map[string]func(i int) string{
		"stands":       func(i int) string { return SignOfStand(&run.Stands[i]) },
		"reaches":      func(i int) string { return SignOfReach(run.Reaches[i].Class) },
		"points":       func(i int) string { return SignOfPoint(&run.Records.Listed[i]) },
		"aquatic_zone": func(int) string { return SignOfZone() },
		"absent":       func(int) string { return SignOfAbsent() },
		"notices":      func(int) string { return SignOfWork() },
		"findings":     func(i int) string { return "finding-" + run.Findings[i].Rule.Severity.String() },
		"network":      func(int) string { return "stream" },
		"looked_at":    func(int) string { return "looked-at" },
		"followup": func(i int) string {
			switch v := &run.Visits[i]; {
			case v.Due.IsZero():
				return "visit-none"
			case v.Due.Before(run.Quarter.End()):
				return "visit-overdue"
			}
			return "visit"
		},
		"survey_next": func(i int) string {
			switch s := &run.Stretches[i]; {
			case !s.Listed:
				return ""
			case s.Last.State == stretch.Never:
				return "look-next-never"
			}
			return "look-next"
		},
	}
	rows := 0
	for _, l := range packLayers(run, true) {
		if l.geometry == "" {
			continue
		}
		want, known := looksOfRow[l.table.Name]
		if !known {
			t.Errorf("nothing says how %s is drawn", l.table.Name)
			continue
		}
		used := map[string]bool{}
		for i := range l.table.Rows {
			var got []string
			for _, s := range signsOf(l.table.Name) {
				if fits(s, l.table, l.table.Row(run, i, nil)) {
					got = append(got, s.look.id)
					if hidden := l.table.Name == "reaches" && run.Reaches[i].Stage == 1; s.off != hidden {
						t.Errorf("%s, row %d: hidden is %v", l.table.Name, i, s.off)
					}
				}
			}
			if strings.Join(got, ", ") != want(i) {
				t.Errorf("%s, row %d: drawn as %q, want %q", l.table.Name, i, got, want(i))
			}
			used[want(i)] = true
			rows++
		}
		if least := map[string]int{"stands": 16, "reaches": 4, "points": 5, "followup": 3, "survey_next": 3}[l.table.Name]; len(used) < least {
			t.Errorf("%s shows %d signs of %d", l.table.Name, len(used), least)
		}
	}
	if rows < 250 {
		t.Errorf("%d rows were held", rows)
	}
}

// fits says whether a row meets all conditions of a symbol, and has the field of each.
func fits(s sign, table result.Table, row []result.Value) bool {
	for _, c := range s.where {
		k := slices.IndexFunc(table.Fields, func(f result.Field) bool { return f.Name == c.field })
		if k < 0 || !c.holds(row[k]) {
			return false
		}
	}
	return true
}

// TestStylesSayTheColours: the style of a layer is valid XML in both forms, with label and colours
// of each symbol. Symbols that are not shown at first are not in the SLD.
func TestStylesSayTheColours(t *testing.T) {
	run := signed()
	for _, l := range packLayers(run, true) {
		if l.geometry == "" {
			continue
		}
		signs := signsOf(l.table.Name)
		qml, sld := string(appendQML(nil, signs, l.geometry, "")), string(appendSLD(nil, l.table.Name, signs, l.geometry))
		for _, doc := range []string{qml, sld} {
			if err := wellFormed(doc); err != nil {
				t.Fatalf("%s: %v\n%s", l.table.Name, err, doc)
			}
		}
		for _, s := range signs {
			colours := []ink{s.look.fill}
			if s.look.width > 0 && l.geometry != "POINT" {
				colours = []ink{s.look.line}
			}
			for _, c := range colours {
				if q := c.rgba(1); !strings.Contains(qml, q) && !strings.Contains(qml, c.rgba(s.look.cover)) {
					t.Errorf("%s: the QML has no %s", s.look.id, q)
				}
				if !s.off && !strings.Contains(sld, c.hex()) {
					t.Errorf("%s: the SLD has no %s", s.look.id, c.hex())
				}
			}
			if !strings.Contains(qml, `label="`+s.look.label+`"`) || strings.Contains(sld, "<se:Name>"+s.look.label+"</se:Name>") == s.off {
				t.Errorf("%s: %q is in one style and not in the other, hidden is %v", s.look.id, s.look.label, s.off)
			}
		}
	}
}

func wellFormed(doc string) error {
	read := xml.NewDecoder(strings.NewReader(doc))
	for {
		if _, err := read.Token(); err == io.EOF {
			return nil
		} else if err != nil {
			return err
		}
	}
}

// TestStreamsAreOneBlue: map.html draws streams in the same blue as the GeoPackage's style.
func TestStreamsAreOneBlue(t *testing.T) {
	script, err := os.ReadFile("../webmap/draw.js")
	if err != nil {
		t.Fatal(err)
	}
	if want := `line: "` + streamLine.hex() + `"`; !strings.Contains(string(script), want) {
		t.Errorf("map.html does not draw streams with %s", want)
	}
}

// holds says whether a row's value meets the condition.
func (c condition) holds(v result.Value) bool {
	switch c.must {
	case isTrue:
		return v.Kind == result.Flag && v.Int != 0
	case isFalse:
		return v.Kind == result.Flag && v.Int == 0
	case isKnown:
		return !blank(v)
	case isBlank:
		return blank(v)
	}
	return !blank(v) && (v.String() == c.word) == (c.must == isWord)
}
