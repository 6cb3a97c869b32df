package column

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"driftreach/internal/cell"
	"driftreach/internal/check"
	"driftreach/internal/format"
)

// The fields of an invented table: the code must not know any of the program's own fields.
const (
	trapID = iota
	trapArea
	trapHeat
	trapDay
	trapState
	trapFound
	trapBait
)

var trapFields = []Field{
	trapID:    {Name: "trap_id", Also: []string{"number"}},
	trapArea:  {Name: "surface_m2", In: cell.SquareMetre},
	trapHeat:  {Name: "heat_c", In: cell.Celsius},
	trapDay:   {Name: "set_on", In: cell.Day},
	trapState: {Name: "state", Words: Theirs{"open": {"unlocked", "ajar"}, "shut": {"closed"}}},
	trapFound: {Name: occurrence, Words: Theirs{"detected": {"yes"}, "notDetected": {"no"}}},
	trapBait:  {Name: "bait", AsWritten: true},
}

var trapsElsewhere = []Recognised{
	Elsewhere("trap_id", Different, "id"), Elsewhere("surface_m2", Numbers, "size", "area"), Elsewhere("set_on", Dates, "day"),
	Elsewhere("state", FewWords, "lid"), Elsewhere("bait", Numbers, "baitused"),
}

// read returns the features of a table with the given columns.
func read(c *Columns, names []string, rows ...string) []*format.Feature {
	var out []*format.Feature
	c.Learn(names)
	for _, row := range rows {
		f := &format.Feature{}
		for _, text := range strings.Split(row, "|") {
			f.Cells = append(f.Cells, format.Cell{Text: []byte(text)})
		}
		c.Look(f)
		out = append(out, f)
	}
	return out
}

// told collects the findings about a file.
func told(tell func(teller)) string {
	var all []string
	tell(func(rule check.Rule, field, value, _ string) { all = append(all, rule.Code+" "+field+" "+value) })
	slices.Sort(all)
	return strings.Join(all, "; ")
}

// TestNumber: the unit is that in the settings, at the end of a column's name, or ours; a unit in
// the cell takes precedence. By hand: 1 ac is 4046.8564224 m2, 212 °F is 100 °C, and a temperature in °C
// stays what it is.
func TestNumber(t *testing.T) {
	for _, c := range []struct {
		column, unit, text string
		field              int
		want               float64
	}{
		{"surface_m2", "", "12", trapArea, 12}, {"surface_m2", "ac", "1", trapArea, 4046.8564224}, {"Size (ac)", "", "1", trapArea, 4046.8564224},
		{"Size (ac)", "ha", "1", trapArea, 10_000}, {"Size (ac)", "", "1 ha", trapArea, 10_000}, {"Size", "", "7", trapArea, 7}, {"Heat F", "", "212", trapHeat, 100},
		{"heat_c", "", "212 F", trapHeat, 100}, {"heat_c", "", "21 C", trapHeat, 21}, {"heat_c", "C", "21", trapHeat, 21}, {"heat_c", "", "3 ft", trapHeat, math.NaN()}, {"heat_c", "", "warm", trapHeat, math.NaN()},
		{"heat_c", "", "", trapHeat, math.NaN()}, {"bait", "", "2", trapBait, 2}, {"bait", "", "2 lb", trapBait, math.NaN()},
	} {
		name := trapFields[c.field].Name
		m := Mapping{}
		if c.column != name {
			m.Columns = map[string]Names{name: {c.column}}
		}
		if c.unit != "" {
			m.Units = map[string]string{name: c.unit}
		}
		columns := New(trapFields, nil, m)
		f := read(columns, []string{c.column}, c.text)[0]
		got := columns.Number(f, c.field, false)
		if math.Abs(got.Value-c.want) > 1e-9 || math.IsNaN(got.Value) != math.IsNaN(c.want) {
			t.Errorf("%s in %q, %q: %v, want %v", c.column, c.unit, c.text, got.Value, c.want)
		}
	}
}

// TestOurNameIsInOurUnit: the unit in the settings is that of the column that they name. Where a file has
// our own name instead, its numbers are in our unit, whether it is the field's name or another of ours.
func TestOurNameIsInOurUnit(t *testing.T) {
	fields := []Field{{Name: "surface_m2", Also: []string{"surface"}, In: cell.SquareMetre}}
	m := Mapping{Columns: map[string]Names{"surface_m2": {"Size"}}, Units: map[string]string{"surface_m2": "ha"}}
	for column, want := range map[string]float64{"Size": 20_000, "surface_m2": 2, "surface": 2} {
		columns := New(fields, nil, m)
		f := read(columns, []string{column}, "2")[0]
		if got := columns.Number(f, 0, false).Value; got != want {
			t.Errorf("2 in %s are %v m2, want %v", column, got, want)
		}
	}
}

// TestUnitOfAName: the unit in a column's name, and the name without it; by hand.
func TestUnitOfAName(t *testing.T) {
	for _, c := range []struct {
		field            int
		name, stem, unit string
		said             bool
	}{
		{trapArea, "Area (ft2)", "area", "ft2", true}, {trapArea, "AreaSqFt", "area", "sq ft", true}, {trapArea, "area_m2", "area", "", true}, {trapArea, "Acres", "acres", "acres", true},
		{trapArea, "Area", "area", "", false}, {trapArea, "area_ft", "areaft", "", false}, {trapID, "no m", "nom", "", false},
		{trapBait, "Gallons used", "used", "gallons", true}, {trapBait, "gal", "gal", "gal", true}, {trapBait, "bait", "bait", "", false},
	} {
		stem, unit, said := trapFields[c.field].cutUnit(c.name)
		if stem != c.stem || unit != c.unit || said != c.said || said != trapFields[c.field].UnitSaid(c.name) {
			t.Errorf("%s: %q %q %v", c.name, stem, unit, said)
		}
	}
}

// TestProposals: each column is proposed once, by its name or its content, with the words to be
// mapped, the order of day and month, and a unit that only some cells have.
func TestProposals(t *testing.T) {
	columns := New(trapFields, trapsElsewhere, Mapping{})
	read(columns, []string{"ID", "Size", "Day", "Lid", "area", "colour"}, "1|2 sq ft|7/13/2026|Ajar|4|red", "2|3|7/3/2026|Closed|5|blue", "3|4|7/4/2026|Stuck|6|red")
	columns.Propose(false)
	want := []Proposal{{"trap_id", "ID", ""}, {"surface_m2", "Size", "sq ft"}, {"set_on", "Day", "month first"}, {"state", "Lid", ""}}
	if got := columns.Proposals(); !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	var words []string
	for _, w := range columns.ProposedWords() {
		words = append(words, w.Word+"="+trapFields[trapState].Word(w.Word))
	}
	if got := fmt.Sprint(words); got != "[Ajar=open Closed=shut Stuck=]" {
		t.Error(got)
	}
	got := told(func(tell teller) { columns.TellUnread(tell, func(string) bool { return false }) })
	if got != `column-not-read surface_m2 = "Size"; state = "Lid" ` {
		t.Error(got)
	}
	columns.ProposeOnly(occurrence, "Lid")
	if got := columns.Proposals(); len(got) != 4 || got[3] != (Proposal{occurrence, "Lid", ""}) {
		t.Errorf("%v", got)
	}
}

// TestTold: findings about units taken from names, cells with a unit beside cells without, columns
// named in the settings that the file lacks, and shortened names.
func TestTold(t *testing.T) {
	m := Mapping{Columns: map[string]Names{"surface_m2": {"Size"}, "heat_c": {"Heat F"}, "state": {"Lid"}}}
	columns := New(trapFields, nil, m)
	for _, f := range read(columns, []string{"Size", "Heat F"}, "2 sq ft|50", "3|60") {
		columns.Number(f, trapArea, false)
		columns.Number(f, trapHeat, false)
	}
	if got := told(columns.Tell); got != "column-not-found state Lid; unit-by-name heat_c Heat F; unit-mixed surface_m2 Size" {
		t.Error(got)
	}
	cut := New([]Field{{Name: "height_of_lid"}, {Name: "height_of_wall"}, {Name: "surface_wet_m2"}}, nil, Mapping{})
	cut.Lay(Layout{Cut: 10})
	cut.Learn([]string{"height_of_", "surface_we"})
	if got := told(cut.Tell); got != "column-cut-short height_of_ " || cut.Has(0) || !cut.Has(2) {
		t.Error(got)
	}
	// a name of ten letters is whole: the column that a program numbered is no cut one of it
	whole := New([]Field{{Name: "pit_number"}, {Name: "pit_numbers"}}, nil, Mapping{})
	whole.Lay(Layout{Cut: 10})
	whole.Learn([]string{"pit_numb_1"})
	if whole.Has(0) || !whole.Has(1) {
		t.Errorf("pit_numb_1 is pit_number: %v, pit_numbers: %v", whole.Has(0), whole.Has(1))
	}
}

// TestTwoValues: unmapped columns with yes and no, or with two values only, are reported; columns
// with three values or with fewer than four cells are not.
func TestTwoValues(t *testing.T) {
	columns := New(trapFields, nil, Mapping{})
	read(columns, []string{"a", "b", "c", "d"}, "yes|x|1|p", "no|y|2|", "Yes|x|3|q", "no|y|1|")
	if got := told(columns.TellTwoValued); got != "column-two-valued a ; column-two-valued b " {
		t.Error(got)
	}
}

// TestWordCounts: words by field, the most frequent first.
func TestWordCounts(t *testing.T) {
	columns := New(trapFields, nil, Mapping{})
	for _, word := range []string{"shut", "open", "open", "shut", "open"} {
		columns.Count(trapState, []byte(word), word)
	}
	columns.CountMany(trapID, "x", "", 7)
	if got := fmt.Sprint(columns.Words()); got != "[{trap_id x 7 } {state open 3 open} {state shut 2 shut}]" {
		t.Error(got)
	}
}

// TestPresenceOf: what a column's name says about presence; by hand.
func TestPresenceOf(t *testing.T) {
	for name, want := range map[string]Claimed{
		"Present?": SaysPresence, "PlantFound": SaysPresence, "Absent": SaysAbsence, "seen": MaySay, "occurrence": SaysNothing, "Present crew": SaysNothing, "": SaysNothing,
	} {
		if got := PresenceOf(name); got != want {
			t.Errorf("%s: %d, want %d", name, got, want)
		}
	}
	for word, want := range map[string]bool{"Not found": true, "absent": true, "no": false, "0": false} {
		if FindsPlainly(word) != want {
			t.Error(word)
		}
	}
}

// TestYesAndNo: a column in which every word means found or not found, and both occur.
func TestYesAndNo(t *testing.T) {
	for _, c := range []struct{ texts, want []string }{
		{[]string{"present", "absent"}, []string{"absent", "present"}},
		{[]string{"yes", "no", "absent"}, []string{"absent", "no", "yes"}},
		{[]string{"absent", "no", "yes"}, []string{"absent", "no", "yes"}},
		{[]string{"present"}, nil}, {[]string{"absent", "no"}, nil}, {[]string{"present", "absent", "perhaps"}, nil}, {nil, nil},
	} {
		s := &sample{texts: c.texts}
		if got := s.yesAndNo(trapFields[trapFound]); !slices.Equal(got, c.want) {
			t.Errorf("%q: %q, want %q", c.texts, got, c.want)
		}
	}
}
