package column

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"driftreach/internal/cell"
	"driftreach/internal/check"
)

// saysOf collects code, field, value and message of each finding about a file.
func saysOf(tell func(teller)) []string {
	var all []string
	tell(func(rule check.Rule, field, value, message string) {
		all = append(all, rule.Code+" | "+field+" | "+value+" | "+message)
	})
	return all
}

func holdSays(t *testing.T, name string, got []string, want ...string) {
	t.Helper()
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("%s:\n%s\nwant:\n%s", name, strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// TestUnreadInWords: what is said of columns that look like ours, by hand: one in the singular, two in
// the plural, in the order of the fields; none that the settings name, that are read another way, or
// on which no figure depends.
func TestUnreadInWords(t *testing.T) {
	never := func(string) bool { return false }
	file := func(m Mapping, names ...string) *Columns {
		c := New(trapFields, trapsElsewhere, m)
		rows := []string{}
		for i := range 3 {
			var cells []string
			for _, name := range names {
				cells = append(cells, map[string]string{"ID": fmt.Sprint("t", i), "Size": fmt.Sprint(2 + i), "Lid": []string{"open", "shut", "open"}[i]}[name])
			}
			rows = append(rows, strings.Join(cells, "|"))
		}
		read(c, names, rows...)
		c.Propose(false)
		return c
	}
	one, two := file(Mapping{}, "ID", "Size"), file(Mapping{}, "ID", "Size", "Lid")
	holdSays(t, "one", saysOf(func(tell teller) { one.TellUnread(tell, never) }),
		`column-not-read | surface_m2 = "Size" |  | the column "Size" looks like a field of ours; it was carried and not read`)
	holdSays(t, "two", saysOf(func(tell teller) { two.TellUnread(tell, never) }),
		`column-not-read | surface_m2 = "Size"; state = "Lid" |  | the columns "Size", "Lid" look like fields of ours; they were carried and not read`)
	holdSays(t, "read another way", saysOf(func(tell teller) { two.TellUnread(tell, func(field string) bool { return field == "state" }) }),
		`column-not-read | surface_m2 = "Size" |  | the column "Size" looks like a field of ours; it was carried and not read`)
	holdSays(t, "an id alone", saysOf(func(tell teller) { file(Mapping{}, "ID").TellUnread(tell, never) }))
	named := file(Mapping{Columns: map[string]Names{"surface_m2": {"Size"}}}, "ID", "Size", "Lid")
	holdSays(t, "named", saysOf(func(tell teller) { named.TellUnread(tell, never) }),
		`column-not-read | state = "Lid" |  | the column "Lid" looks like a field of ours; it was carried and not read`)
}

// TestTwoValuesInWords: how often each of two values occurs, the first by letter first; yes and no in
// any words; by hand.
func TestTwoValuesInWords(t *testing.T) {
	c := New(trapFields, nil, Mapping{})
	read(c, []string{"seen?", "side"}, "yes|right", "no|left", "yes|right", "absent|right", "|")
	holdSays(t, "two values", saysOf(c.TellTwoValued),
		`column-two-valued | seen? |  | the column "seen?" says yes and no, in the words absent, no, yes; it was carried and not understood`,
		`column-two-valued | side |  | the column "side" has two values, left 1 times and right 3 times; it was carried and not understood`)
	c = New(trapFields, nil, Mapping{})
	read(c, []string{"side", "few"}, "right|a", "left|b", "left|a", "left|")
	holdSays(t, "the other way", saysOf(c.TellTwoValued), `column-two-valued | side |  | the column "side" has two values, left 3 times and right 1 times; it was carried and not understood`)
}

// TestTwoValuesOfLongFiles: after the first thousand features a column with at most two values is
// still counted; a third value in the last row ends it. By hand.
func TestTwoValuesOfLongFiles(t *testing.T) {
	for _, c := range []struct {
		last string
		want []string
	}{
		{"b", []string{`column-two-valued | side |  | the column "side" has two values, a 1200 times and b 301 times; it was carried and not understood`}},
		{"c", nil},
	} {
		columns := New(trapFields, nil, Mapping{})
		columns.Learn([]string{"side"})
		var rows []string
		for i := range 1500 {
			rows = append(rows, map[bool]string{true: "b", false: "a"}[i%5 == 4])
		}
		read(columns, []string{"side"}, append(rows, c.last)...)
		holdSays(t, "last is "+c.last, saysOf(columns.TellTwoValued), c.want...)
	}
}

// TestMixedUnitsInWords: where some cells name a unit and others do not, and neither the settings nor
// the column's name say which, how many of each; by hand.
func TestMixedUnitsInWords(t *testing.T) {
	for _, c := range []struct {
		name, unit string
		want       []string
	}{
		{"Size", "", []string{`unit-mixed | surface_m2 | Size | 2 of the 5 numbers in the column "Size" have a unit; the others were read in m2`}},
		{"Size", "ac", nil}, {"Size (ac)", "", []string{`unit-by-name | surface_m2 | Size (ac) | the settings name no unit of the column "Size (ac)"; its name says ac, and its numbers were read so`}},
	} {
		m := Mapping{Columns: map[string]Names{"surface_m2": {c.name}}}
		if c.unit != "" {
			m.Units = map[string]string{"surface_m2": c.unit}
		}
		columns := New(trapFields, nil, m)
		for _, f := range read(columns, []string{c.name}, "2 sq ft", "3", "4", "1 ha", "5") {
			columns.Number(f, trapArea, false)
		}
		holdSays(t, c.name+" in "+c.unit, saysOf(columns.Tell), c.want...)
	}
}

// TestFactors: from a unit to the field's, by NIST SP 811; the same unit is exactly 1, and what no
// factor can be is told with the units that may be.
func TestFactors(t *testing.T) {
	for _, c := range []struct {
		field int
		unit  string
		want  float64
		wrong string
	}{
		{trapArea, "m2", 1, ""}, {trapArea, " M2 ", 1, ""}, {trapArea, "ac", 4046.8564224, ""}, {trapArea, "Acres", 4046.8564224, ""}, {trapArea, "sq ft", 0.09290304, ""},
		{trapHeat, "C", 1, ""}, {trapHeat, "F", 5.0 / 9, ""}, {trapDay, "day first", 1, ""}, {trapDay, "Month First ", 1, ""}, {trapBait, "bucket", 1, ""},
		{trapArea, "ft", 0, `"ft" is no unit of surface_m2; it may be ac, acre`}, {trapHeat, "m", 0, `"m" is no unit of heat_c; it may be c, celsius`},
		{trapDay, "m2", 0, `"m2" is no order of dates`}, {trapState, "m", 0, "state has no unit"}, {trapID, "", 0, "trap_id has no unit"},
	} {
		got, err := trapFields[c.field].Factor(c.unit)
		if (err == nil) != (c.wrong == "") || err != nil && !strings.HasPrefix(err.Error(), c.wrong) || math.Abs(got-c.want) > 1e-12*c.want {
			t.Errorf("%s in %q: %v, %v, want %v, %s", trapFields[c.field].Name, c.unit, got, err, c.want, c.wrong)
		}
	}
	for in, want := range map[cell.Unit]string{
		cell.SquareMetre: "m2", cell.Metre: "m", cell.Percent: "%", cell.SquareKilometre: "km2", cell.Kilometre: "km", cell.Acres: "ac", cell.Share: "share",
		cell.MetrePerSecond: "m/s", cell.CubicMetrePerSecond: "m3/s", cell.Hour: "h", cell.Celsius: "c", {}: "", cell.Day: "",
	} {
		if got, measured := (Field{In: in}).Unit(); got != want || measured != (want != "") {
			t.Errorf("%+v is %q, %v, want %q", in, got, measured, want)
		}
	}
	freezing, _ := trapFields[trapHeat].scaleOf("F")
	if got := freezing.of(32); math.Abs(got) > 1e-12 {
		t.Errorf("32 °F are %v °C", got)
	}
	if got := freezing.of(-40); math.Abs(got+40) > 1e-12 {
		t.Errorf("-40 °F are %v °C", got)
	}
}

// TestWordsOfNames: the words of a column's name, at marks and at capitals; and the name with letters
// and digits alone. By hand.
func TestWordsOfNames(t *testing.T) {
	for name, want := range map[string][3]string{
		"Patch Area (m2)": {"patch,area,m2", "patch,area,m2", "patcharea m2"}, "PlantFound": {"plantfound", "plant,found", "plantfound"}, "areaM2": {"aream2", "area,m2", "aream2"},
		"GPS_time": {"gps,time", "gps,time", "gpstime"}, "Cover %": {"cover,%", "cover", "cover%"}, "Größe/m": {"größe/m", "größe,m", "grossem"}, "": {"", "", ""}, "a.b:c,d": {"a,b,c,d", "a,b,c,d", "abcd"},
		"Present?": {"present?", "present", "present"}, "m/s": {"m/s", "m,s", "ms"},
	} {
		if got := strings.Join(spacedWords(name), ","); got != want[0] {
			t.Errorf("%q: words %q, want %q", name, got, want[0])
		}
		if got := strings.Join(nameWords(name), ","); got != want[1] {
			t.Errorf("%q: words %q at capitals, want %q", name, got, want[1])
		}
		if got := plain(name); got != strings.ReplaceAll(want[2], " ", "") {
			t.Errorf("%q: plain %q, want %q", name, got, want[2])
		}
	}
}

// TestTheMostWords: of a column with more than a thousand different words no more are counted, and
// those that are go on being counted.
func TestTheMostWords(t *testing.T) {
	n := newWordCounts(trapFields)
	for i := range 1500 {
		n.Count(trapState, fmt.Append(nil, "w", i), "")
	}
	n.Count(trapState, []byte("w7"), "")
	n.Count(trapState, []byte("w7"), "")
	words := n.Words()
	if len(words) != 1000 || words[0].Word != "w7" || words[0].Count != 3 {
		t.Errorf("%d words, the first %+v", len(words), words[0])
	}
}
