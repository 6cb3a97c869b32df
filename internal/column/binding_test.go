package column

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"driftreach/internal/cell"
	"driftreach/internal/check"
	"driftreach/internal/format"
	"driftreach/internal/survey"
)

// A layer whose format cuts names at ten letters has the column of a field by the first ten letters of
// its name, in any case of letters, or by fewer and a number; a name that fits two fields is neither's
// and told. By hand.
func TestNamesCutShort(t *testing.T) {
	fields := []Field{{Name: "coordinates_m", In: cell.Metre}, {Name: "occurrence_place"}, {Name: "occurrence_note"}, {Name: "short"}, {Name: "exactly_10"}, {Name: "surface_of_m2", In: cell.SquareMetre}}
	for _, c := range []struct{ columns, read, carried, doubts string }{
		{"coordinate", "coordinates_m=coordinate", "", ""}, {"COORDINATE", "coordinates_m=COORDINATE", "", ""}, {"coordinat", "", "coordinat", ""}, {"coordinates", "", "coordinates", ""},
		{"occurrence", "", "occurrence", "occurrence: occurrence_place, occurrence_note"}, {"occurren_1", "", "occurren_1", "occurren_1: occurrence_place, occurrence_note"}, {"coordina_1", "coordinates_m=coordina_1", "", ""}, {"coordin_12", "coordinates_m=coordin_12", "", ""},
		{"coordina_x", "", "coordina_x", ""}, {"coordinat_", "", "coordinat_", ""}, {"_123456789", "", "_123456789", ""}, {"short", "short=short", "", ""}, {"exactly_10", "exactly_10=exactly_10", "", ""}, {"surface_of", "surface_of_m2=surface_of", "", ""},
	} {
		b := newBinding(fields, Mapping{})
		b.Lay(Layout{Cut: 10})
		b.Learn(strings.Fields(c.columns))
		var read, doubts []string
		for _, r := range b.Reports() {
			read = append(read, r.Field+"="+r.Column)
		}
		for _, d := range b.doubts {
			doubts = append(doubts, d.column+": "+strings.Join(d.fields, ", "))
		}
		if strings.Join(read, " ") != c.read || strings.Join(b.Carried(), " ") != c.carried || strings.Join(doubts, " ") != c.doubts {
			t.Errorf("%s: read %q, carried %q, in doubt %q", c.columns, read, b.Carried(), doubts)
		}
	}
	// a field that has a column from the settings takes no other; where the format cuts nothing, neither
	b := newBinding(fields, Mapping{Columns: map[string]Names{"occurrence_note": {"remark"}}})
	b.Lay(Layout{Cut: 10})
	if b.Learn([]string{"remark", "occurrence"}); len(b.doubts) > 0 || !b.Has(1) || !b.Has(2) {
		t.Errorf("with a mapped note: %+v", b.Reports())
	}
	b = newBinding(fields, Mapping{})
	if b.Learn([]string{"coordinate"}); b.Has(0) {
		t.Error("a name that nothing cut is taken for a longer one")
	}
}

// Of several columns of a field the settings' come first, in their order, then ours; the first text that
// is not blank counts. Other columns are carried, with their places; the geometry is neither.
func TestColumnsOfAField(t *testing.T) {
	b := newBinding(trapFields, Mapping{Columns: map[string]Names{"TRAP_ID": {"Code", " Key "}, "bait": {""}}})
	b.Lay(Layout{Hidden: 6})
	names := []string{"number", "Trap_ID", "key", "colour", "CODE", "shape", "area", "bait"}
	b.Learn(names[:5])
	b.Learn(names)
	var read []string
	for _, r := range b.Reports() {
		read = append(read, r.Field+"="+r.Column)
	}
	if got := strings.Join(read, " "); got != "trap_id=CODE trap_id=key trap_id=Trap_ID trap_id=number bait=bait" {
		t.Errorf("read %s", got)
	}
	var places []int
	for i := range names {
		places = append(places, b.Place(i))
	}
	if !slices.Equal(places, []int{-1, -1, -1, 0, -1, -1, 1, -1}) || strings.Join(b.Carried(), " ") != "colour area" || b.Geometry() != "shape" || !slices.Equal(b.Names(), names) {
		t.Errorf("places %v, carried %q, geometry %q", places, b.Carried(), b.Geometry())
	}
	if (&binding{}).Geometry() != "" {
		t.Error("a file without geometries has some")
	}
	for name, known := range map[string]bool{" trap_id ": true, "KEY": true, "code": true, "number": true, "colour": false, "": false, "surface_m2": true} {
		if b.Knows(name) != known {
			t.Errorf("%q is known: %v", name, !known)
		}
	}
	for cells, want := range map[string]string{"n|t|k||c": "c", "n|t|k||": "k", "n|t|": "t", "n": "n", "": "", "||||": ""} {
		f := &format.Feature{}
		for _, text := range strings.Split(cells, "|") {
			f.Cells = append(f.Cells, format.Cell{Text: []byte(text)})
		}
		if got := string(b.Cell(f, trapID)); got != want {
			t.Errorf("%q: %q, want %q", cells, got, want)
		}
	}
	if theirs, asked := b.Asked("trap_id"); !asked || !slices.Equal(theirs, Names{"Code", " Key "}) || b.FieldName(trapArea) != "surface_m2" {
		t.Errorf("asked %q, %v", theirs, asked)
	}
	if _, asked := b.Asked("surface_m2"); asked {
		t.Error("the settings name no column of surface_m2")
	}
	b.Adopt("bait", "colour")
	if got := b.Reports(); got[len(got)-1] != (Report{"bait", "colour"}) || len(got) != 6 {
		t.Errorf("%v", got)
	}
	if !b.isMapped("trap_id") || b.isMapped("bait") || b.isMapped("surface_m2") {
		t.Error("what the settings name and the file has")
	}
	if lost := newBinding(trapFields, Mapping{Columns: map[string]Names{"trap_id": {"x"}, "bait": {""}}}).lost(); !slices.Equal(lost, []string{"trap_id"}) {
		t.Errorf("lost %q", lost)
	}
	if names := FieldNames(trapFields); len(names) != len(trapFields) || names[1] != "surface_m2" {
		t.Errorf("%q", names)
	}
}

// The mapping of a file over the one of all files: its columns replace theirs, and their unit with them;
// a word of the file replaces the same word; case does not matter. By hand.
func TestMappingOver(t *testing.T) {
	general := Mapping{
		Columns: map[string]Names{"Area": {"a", "b"}, "heat": {"h"}, "bait": {"x"}}, Units: map[string]string{"AREA": "ac", "heat": "F", "BAIT": "oz"},
		Values: map[string]map[string]string{"State": {"Zu": "shut", "auf": "open"}},
	}
	file := Mapping{Columns: map[string]Names{"area": {"c"}, "HEAT": {"k"}}, Units: map[string]string{"heat": "C", "bait": "lb"}, Values: map[string]map[string]string{"STATE": {"zu": "open"}, "other": {"y": "z"}}}
	got := file.Over(general)
	want := Mapping{
		Columns: map[string]Names{"area": {"c"}, "HEAT": {"k"}, "bait": {"x"}}, Units: map[string]string{"heat": "C", "bait": "lb"},
		Values: map[string]map[string]string{"State": {"zu": "open", "auf": "open"}, "other": {"y": "z"}},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	if diff := cmp.Diff(general, (Mapping{}).Over(general)); diff != "" {
		t.Errorf("nothing over it (-want +got):\n%s", diff)
	}
	if general.Columns["Area"][0] != "a" || general.Values["State"]["Zu"] != "shut" {
		t.Errorf("the general mapping is now %+v", general)
	}
	if words := (Mapping{Values: map[string]map[string]string{"State": {" ZU ": "shut"}, "other": {"zu": "x"}}}).Words("STATE"); len(words) != 1 || words["zu"] != "shut" {
		t.Errorf("%v", words)
	}
	for unit, want := range map[string]survey.DateOrder{"Day first ": survey.DayFirst, "month first": survey.MonthFirst, "": survey.NoOrder, "year first": survey.NoOrder} {
		if got := (Mapping{Units: map[string]string{"SET_ON": unit}}).Order("set_on"); got != want {
			t.Errorf("%q is order %v", unit, got)
		}
	}
}

// One name of a column is written as a text and several as a list, and read back so.
func TestNamesInJSON(t *testing.T) {
	for text, names := range map[string]Names{`"a"`: {"a"}, `["a","b"]`: {"a", "b"}, `""`: {""}, `[]`: {}} {
		b, err := json.Marshal(names)
		if err != nil || string(b) != text {
			t.Errorf("%q: %s, %v", names, b, err)
		}
		var back Names
		if err := json.Unmarshal([]byte(text), &back); err != nil || !slices.Equal(back, names) {
			t.Errorf("%s: %q, %v", text, back, err)
		}
	}
	var back Names
	if err := json.Unmarshal([]byte(`7`), &back); err == nil {
		t.Errorf("a number is read as %q", back)
	}
	if err := back.UnmarshalText([]byte("x")); err != nil || !slices.Equal(back, Names{"x"}) {
		t.Errorf("%q, %v", back, err)
	}
}

// A column whose name was cut and fits several fields is proposed for the one that its texts fit: words
// for found and not found before all, then what has a content, and last a field of any text.
func TestProposalsOfCutNames(t *testing.T) {
	fields := []Field{{Name: "occurrenceID"}, {Name: occurrence}, {Name: "occurrenceRemarks"}, {Name: "occurrenceArea", In: cell.SquareMetre}}
	known := []Recognised{Elsewhere("occurrenceID", Different), Elsewhere(occurrence, FewWords), Elsewhere("occurrenceRemarks", Anything), Elsewhere("occurrenceArea", Numbers)}
	for _, c := range []struct {
		name, want string
		columns    []string
		rows       []string
	}{
		{"found or not", "occurrenceStatus=occurrence", []string{"occurrence"}, []string{"detected", "absent", "detected"}},
		{"ids", "occurrenceID=occurrence", []string{"occurrence"}, []string{"a1", "a2", "a3"}},
		{"remarks alone", "occurrenceRemarks=occurrence", []string{"occurrence"}, []string{"by the bridge", "by the bridge", "dry"}},
		{"nothing in it", "", []string{"occurrence"}, []string{"", "", ""}},
		{"numbers that all differ", "occurrenceRemarks=occurrence", []string{"occurrence"}, []string{"1", "2", "3"}}, // an id or an area: two fit
		{"numbers that repeat", "occurrenceArea=occurrence", []string{"occurrence"}, []string{"1", "2", "2"}},
		{"three of them", "occurrenceStatus=occurren_1 occurrenceID=occurrence occurrenceRemarks=occurren_2", []string{"occurrence", "occurren_1", "occurren_2"}, []string{"a1|detected|dry", "a2|absent|dry", "a3|detected|wet"}},
	} {
		columns := New(fields, known, Mapping{})
		columns.Lay(Layout{Cut: 10})
		read(columns, c.columns, c.rows...)
		columns.Propose(false)
		var got []string
		for _, p := range columns.Proposals() {
			got = append(got, p.Field+"="+p.Column)
		}
		slices.Sort(got)
		want := strings.Fields(c.want)
		slices.Sort(want)
		if !slices.Equal(got, want) {
			t.Errorf("%s: %q, want %q", c.name, got, want)
		}
	}
}

// The one column of days whose name nobody knows is proposed where one field of days has none; not with
// two such columns or fields, nor where the name tells of the row or of what is planned.
func TestProposalsOfDays(t *testing.T) {
	two := append(slices.Clone(trapFields), Field{Name: "taken_on", In: cell.Day})
	known := append(slices.Clone(trapsElsewhere), Elsewhere("taken_on", Dates, "taken"))
	for _, c := range []struct {
		name, want string
		fields     []Field
		columns    []string
		rows       []string
	}{
		{"one", "set_on=when", trapFields, []string{"when"}, []string{"2026-07-01", "2026-07-02"}}, {"one, month first", "set_on=when month first", trapFields, []string{"when"}, []string{"7/13/2026", "7/14/2026"}},
		{"two columns", "", trapFields, []string{"when", "then"}, []string{"2026-07-01|2026-07-02", "2026-07-01|2026-07-02"}}, {"two fields", "", two, []string{"when"}, []string{"2026-07-01"}}, {"two fields, one known", "set_on=when taken_on=taken", two, []string{"when", "taken"}, []string{"2026-07-01|2026-07-01"}},
		{"no days", "", trapFields, []string{"when"}, []string{"soon"}}, {"edited", "", trapFields, []string{"last_Edited"}, []string{"2026-07-01"}}, {"its own column", "", trapFields, []string{"set_on", "when"}, []string{"2026-07-01|2026-07-01"}},
		{"due", "", trapFields, []string{"DueDate"}, []string{"2026-07-01"}}, {"exported", "", trapFields, []string{"exported"}, []string{"2026-07-01"}}, {"until", "", trapFields, []string{"valid until"}, []string{"2026-07-01"}}, {"uploaded", "", trapFields, []string{"uploaded"}, []string{"2026-07-01"}},
		{"synced", "", trapFields, []string{"synced"}, []string{"2026-07-01"}}, {"printed", "", trapFields, []string{"printed"}, []string{"2026-07-01"}}, {"next", "", trapFields, []string{"next visit"}, []string{"2026-07-01"}}, {"expires", "", trapFields, []string{"expires"}, []string{"2026-07-01"}}, {"modified", "", trapFields, []string{"modified"}, []string{"2026-07-01"}}, {"updated", "", trapFields, []string{"updated"}, []string{"2026-07-01"}},
	} {
		columns := New(c.fields, known, Mapping{})
		read(columns, c.columns, c.rows...)
		columns.Propose(false)
		var got []string
		for _, p := range columns.Proposals() {
			got = append(got, strings.TrimSpace(p.Field+"="+p.Column+" "+p.Unit))
		}
		slices.Sort(got)
		if strings.Join(got, " ") != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// The words of every proposed column of words are given, of the first column of the file too; of other
// columns none, and none where no feature was looked at.
func TestWordsOfProposals(t *testing.T) {
	for _, names := range [][]string{{"Lid", "Size"}, {"Size", "Lid"}} {
		columns := New(trapFields, trapsElsewhere, Mapping{})
		rows := []string{"ajar|2", "closed|3", "ajar|4"}
		if names[0] == "Size" {
			rows = []string{"2|ajar", "3|closed", "4|ajar"}
		}
		read(columns, names, rows...)
		columns.Propose(false)
		if got := fmt.Sprint(columns.ProposedWords()); got != "[{state ajar 0 } {state closed 0 }]" {
			t.Errorf("%q: %s", names, got)
		}
	}
	columns := New(trapFields, trapsElsewhere, Mapping{})
	columns.Learn([]string{"Lid"})
	columns.Propose(false)
	if got := columns.ProposedWords(); len(columns.Proposals()) != 1 || len(got) > 0 {
		t.Errorf("%v of %v", got, columns.Proposals())
	}
}

// A proposal that is made by itself takes the place of others of its column, in the order of the fields.
func TestProposeOnly(t *testing.T) {
	columns := New(trapFields, trapsElsewhere, Mapping{})
	read(columns, []string{"ID", "Size", "Lid"}, "1|2|ajar", "2|3|closed", "3|4|ajar")
	columns.Propose(false)
	columns.ProposeOnly("heat_c", "Lid")
	if got, want := fmt.Sprint(columns.Proposals()), "[{trap_id ID } {surface_m2 Size } {heat_c Lid }]"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	columns.ProposeOnly("surface_m2", "ID")
	if got, want := fmt.Sprint(columns.Proposals()), "[{surface_m2 Size } {surface_m2 ID } {heat_c Lid }]"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	if len(columns.Texts(0)) != 3 || columns.Texts(3) != nil || columns.Texts(7) != nil {
		t.Errorf("texts %q, %q", columns.Texts(0), columns.Texts(7))
	}
}

// Every rule has a code, a severity and a remedy, and is listed once.
func TestRules(t *testing.T) {
	seen := map[string]bool{}
	for _, rule := range Rules() {
		if seen[rule.Code] || rule.Code == "" || rule.Remedy == "" || rule.Severity != check.Note && rule.Severity != check.Warning {
			t.Errorf("%+v", rule)
		}
		seen[rule.Code] = true
	}
	for _, code := range []string{"unit-by-name", "unit-mixed", "percent-like-shares", "column-not-found", "column-cut-short", "column-two-valued", "column-not-read"} {
		if !seen[code] {
			t.Errorf("%s is not listed", code)
		}
	}
}
