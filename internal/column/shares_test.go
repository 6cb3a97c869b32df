package column

import (
	"testing"

	"driftreach/internal/cell"
)

// The one field of another invented table, in percent.
var lightFields = []Field{{Name: "light_percent", In: cell.Percent}, {Name: occurrence, Words: Theirs{"detected": {"yes"}, "notDetected": {"no"}}}}

// TestSharesInWords: percentages that look like shares of 1 are told, unless the settings or a cell
// name the unit, or one of them is above 1; by hand.
func TestSharesInWords(t *testing.T) {
	told := `percent-like-shares | light_percent | Light | no number of the column "Light" is above 1, and 2 lie between 0 and 1; they were read as percent, so 0.35 is 0.35 %`
	for _, c := range []struct {
		name, unit string
		texts      []string
		want       []string
	}{
		{"shares", "", []string{"0.35", "0", "1", "0,9"}, []string{told}},
		{"none and all", "", []string{"0", "1", "1"}, nil},
		{"one above", "", []string{"0.35", "0.9", "1.5"}, nil},
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
