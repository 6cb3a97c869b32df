package column

import "testing"

// TestUnmarked: letters with marks as Unicode takes them apart (Unicode Standard Annex 15, figures 3, 5
// and 6: Å is A with a ring, ﬁ is f and i, 2⁵ is 25), and as dictionaries write letters that it does not.
func TestUnmarked(t *testing.T) {
	for text, want := range map[string]string{
		"Å": "a", "A\u030a": "a", "\u212b": "a", "ô": "o", "ﬁ": "fi", "2⁵": "25",
		"Área (m²)": "area (m2)", "Größe": "grosse", "GRÖSSE": "grosse", "fécha": "fecha", "Observação": "observacao", "Bæk å": "baek a",
		"Nº": "no", "N°": "n", "plain_2": "plain_2", "": "", "水": "水",
	} {
		if got := unmarked(text); got != want {
			t.Errorf("%q is %q, want %q", text, got, want)
		}
	}
}

// TestKeysOfNames: é in one character and in two is one name (Unicode Standard Annex 15, canonical
// equivalence); é and e are two.
func TestKeysOfNames(t *testing.T) {
	composed, apart := "F\u00e9cha", "  fe\u0301cha "
	m := Mapping{Columns: map[string]Names{"light_percent": {composed}}}
	for _, c := range []struct {
		name string
		has  bool
	}{{composed, true}, {apart, true}, {"FÉCHA", true}, {"fecha", false}} {
		columns := New(lightFields, nil, m)
		read(columns, []string{c.name}, "5")
		if columns.Has(0) != c.has {
			t.Errorf("%q is the column %q: %v, want %v", c.name, composed, columns.Has(0), c.has)
		}
	}
}
