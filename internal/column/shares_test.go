package column

import (
	"slices"
	"testing"

	"driftreach/internal/cell"
)

// The one field of another invented table, in percent.
var lightFields = []Field{{Name: "light_percent", In: cell.Percent}, {Name: occurrence, Words: Theirs{"detected": {"yes"}, "notDetected": {"no"}}}}

// TestSharesInWords: percentages that look like shares of 1 are told, unless the settings or a cell
// name the unit, or one of them is above 1; by hand.
func TestSharesInWords(t *testing.T) {
	told := `percent-like-shares | light_percent | Light | no number of the column "Light" is above 1, and 2 lie between 0 and 1; they were read as percent, so 0.35 is 0.35 %`
	mixed := `percent-and-shares | light_percent | Light | 3 of the 4 numbers in the column "Light" lie between 0 and 1, the others do not; all were read as percent, so 0.35 is 0.35 %`
	for _, c := range []struct {
		name, unit string
		texts      []string
		want       []string
	}{
		{"shares", "", []string{"0.35", "0", "1", "0,9"}, []string{told}},
		{"none and all", "", []string{"0", "1", "1"}, nil},
		{"one above", "", []string{"0.35", "0.9", "1.5"}, nil}, // two may be slips
		{"three of four", "", []string{"0.35", "0.9", "1.5", "0,1"}, []string{mixed}},
		{"three of 30", "", append(slices.Repeat([]string{"60"}, 27), "0.35", "0.9", "0.1"), []string{`percent-and-shares | light_percent | Light | 3 of the 30 numbers in the column "Light" lie between 0 and 1, the others do not; all were read as percent, so 0.35 is 0.35 %`}},
		{"three of 31", "", append(slices.Repeat([]string{"60"}, 28), "0.35", "0.9", "0.1"), nil},
		{"three, and percent named", "%", []string{"0.35", "0.9", "60", "0.1"}, nil},
		{"a unit in a cell", "", []string{"0.35", "0.9", "0.5 %"}, []string{`unit-mixed | light_percent | Light | 1 of the 3 numbers in the column "Light" has a unit; the others were read in %`}},
		{"named as shares", "share", []string{"0.35", "0.9"}, nil},
		{"named as percent", "%", []string{"0.35", "0.9"}, nil},
		{"below nothing", "", []string{"0.35", "0.9", "-3"}, []string{told}},
	} {
		m := Mapping{Columns: map[string]Names{"light_percent": {"Light"}}}
		if c.unit != "" {
			m.Units = map[string]string{"light_percent": c.unit}
		}
		columns := New(lightFields, nil, m)
		for _, f := range read(columns, []string{"Light"}, c.texts...) {
			columns.Number(f, 0, true)
		}
		holdSays(t, c.name, saysOf(columns.Tell), c.want...)
	}
}

// TestSharesProposed: the unit share is proposed with the column where every number lies from 0 to 1
// and one between; by hand.
func TestSharesProposed(t *testing.T) {
	for _, c := range []struct {
		texts []string
		want  string
	}{
		{[]string{"0.35", "0.9", "1"}, "share"}, {[]string{"0,35", "0"}, "share"}, {[]string{"0", "1"}, ""}, {[]string{"0.35", "60"}, ""}, {[]string{"0.35", "-0.1"}, ""}, {[]string{"0.35 %", "0.4"}, ""},
	} {
		columns := New(lightFields, []Recognised{Elsewhere("light_percent", Numbers, "light")}, Mapping{})
		read(columns, []string{"Light"}, c.texts...)
		columns.Propose(true)
		if got := columns.Proposals(); len(got) != 1 || got[0] != (Proposal{"light_percent", "Light", c.want}) {
			t.Errorf("%q: %v, want %q", c.texts, got, c.want)
		}
	}
}

// TestTinyAreas: areas that look like acres are told, unless the settings or the cells name the unit;
// by hand. 0.2 acres are 809 m2 (NIST Special Publication 811: 4046.856 m2 an acre).
func TestTinyAreas(t *testing.T) {
	fields := []Field{{Name: "bed_m2", In: cell.SquareMetre}, {Name: "depth_m", In: cell.Metre}}
	told := `area-like-acres | bed_m2 | bed_m2 | 3 of the 4 numbers in the column "bed_m2" are below 0.25 m2, the least 0.05 m2; acres and hectares look like this`
	for _, c := range []struct {
		name, unit string
		texts      []string
		want       []string
	}{
		{"acres of one crew", "", []string{"0.2", "400", "0.05", "0.24"}, []string{told}},
		{"at the limit", "", []string{"0.2", "400", "0.05", "0.25"}, nil},
		{"named", "m2", []string{"0.2", "400", "0.05", "0.24"}, nil},
		{"in acres", "ac", []string{"0.2", "400", "0.05", "0.24"}, nil},
		{"units in the cells", "", []string{"0.2 ac", "0.05 ac", "0.24 ac"}, nil},
		{"none", "", []string{"0", "0", "-1"}, nil},
	} {
		m := Mapping{}
		if c.unit != "" {
			m.Units = map[string]string{"bed_m2": c.unit}
		}
		columns := New(fields, nil, m)
		for _, f := range read(columns, []string{"bed_m2"}, c.texts...) {
			columns.Number(f, 0, true)
		}
		holdSays(t, c.name, saysOf(columns.Tell), c.want...)
	}
	columns := New(fields, nil, Mapping{})
	for _, f := range read(columns, []string{"depth_m"}, "0.1", "0.1", "0.1") {
		columns.Number(f, 1, true)
	}
	holdSays(t, "depths", saysOf(columns.Tell))
}
