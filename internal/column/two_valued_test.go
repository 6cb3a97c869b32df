package column

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// What is said of a carried column with two values, from four cells on, with how often each occurs; of
// one with words for yes and no, with fewer cells or more words too; and of none that is a field, proposed or read another way. By hand.
func TestTwoValuedInWords(t *testing.T) {
	const tail = "; it was carried and not understood"
	two := func(name, a string, n int, b string, m int) string {
		return fmt.Sprintf("column-two-valued | %s |  | the column %q has two values, %s %d times and %s %d times%s", name, name, a, n, b, m, tail)
	}
	words := func(name, words string) string {
		return fmt.Sprintf("column-two-valued | %s |  | the column %q says yes and no, in the words %s%s", name, name, words, tail)
	}
	for _, c := range []struct {
		name, column string
		cells        []string
		want         []string
	}{
		{"two values", "colour", []string{"red", "blue", "red", "red"}, []string{two("colour", "blue", 1, "red", 3)}}, {"in any case of letters", "colour", []string{"Red", "blue", "RED", "", "red", "blue"}, []string{two("colour", "Red", 3, "blue", 2)}},
		{"three cells", "colour", []string{"red", "blue", "red"}, nil}, {"three values", "colour", []string{"red", "blue", "green", "red"}, nil}, {"one value", "colour", []string{"red", "red", "red", "red"}, nil},
		{"yes and no", "x", []string{"yes", "no", "yes", "yes"}, []string{two("x", "no", 1, "yes", 3)}}, {"yes and no, three cells", "x", []string{"yes", "no", "yes"}, []string{words("x", "no, yes")}}, {"more words for them", "x", []string{"yes", "no", "absent"}, []string{words("x", "absent, no, yes")}},
		{"only yes", "x", []string{"yes", "present", "yes", "yes"}, []string{two("x", "present", 1, "yes", 3)}}, {"a field", "bait", []string{"red", "blue", "red", "red"}, nil}, {"proposed", "Lid", []string{"ajar", "closed", "ajar", "ajar"}, nil},
	} {
		columns := New(trapFields, trapsElsewhere, Mapping{})
		read(columns, []string{c.column}, c.cells...)
		columns.Propose(false)
		holdSays(t, c.name, saysOf(columns.TellTwoValued), c.want...)
	}
	columns := New(trapFields, nil, Mapping{})
	read(columns, []string{"colour"}, "red", "blue", "red", "red")
	columns.Adopt("state", "colour")
	holdSays(t, "read another way", saysOf(columns.TellTwoValued))
}

// After a thousand features only columns with at most two values are looked at, and their counts go on.
func TestTwoValuedFarOn(t *testing.T) {
	cells := func(n int, cell func(i int) string) (rows []string) {
		for i := range n {
			rows = append(rows, cell(i))
		}
		return rows
	}
	late := func(i int) string { return "red" + map[bool]string{true: "|", false: "|big"}[i < sampled] }
	for _, c := range []struct {
		name, columns string
		rows          []string
		want          string
	}{
		{"a second value far on", "colour size", append(cells(sampled, late), "blue|small", "BLUE|small", "red|big"), "colour blue 2 times and red 1001 times"}, {"a third far on", "colour size", append(cells(sampled, late), "blue|", "green|"), ""},
		{"both far on", "colour size", append(cells(sampled, func(int) string { return "|" }), "red|", "blue|", "red|", "red|"), "colour blue 1 times and red 3 times"},
	} {
		columns := New(trapFields, nil, Mapping{})
		read(columns, strings.Fields(c.columns), c.rows...)
		got := saysOf(columns.TellTwoValued)
		name, counts, _ := strings.Cut(c.want, " ")
		if c.want == "" && len(got) > 0 || c.want != "" && (len(got) != 1 || !strings.Contains(got[0], "| "+name+" |") || !strings.Contains(got[0], counts)) {
			t.Errorf("%s: %q, want %s", c.name, got, c.want)
		}
	}
	// of a column two hundred different texts are kept, and the rest passed over
	columns := New(trapFields, nil, Mapping{})
	read(columns, []string{"note"}, cells(300, func(i int) string { return fmt.Sprint("n", i) })...)
	if texts := columns.Texts(0); len(texts) != sampledTexts || texts[199] != "n199" || columns.samples[0].filled != 300 {
		t.Errorf("%d texts, %d filled", len(texts), columns.samples[0].filled)
	}
}

// Words that say whether the plant was found, ours and those of the sheets; and a column of words for
// yes and no, of which up to eight different ones may be.
func TestFoundOrNot(t *testing.T) {
	f := trapFields[trapFound]
	for word, want := range map[string][2]bool{"detected": {true, true}, "notDetected": {false, true}, "yes": {true, true}, "No": {false, true}, "maybe": {false, false}, "": {false, false}} {
		if detected, known := f.Occurrence(word); detected != want[0] || known != want[1] {
			t.Errorf("%q: %v, %v, want %v", word, detected, known, want)
		}
	}
	many := []string{"yes", "no", "present", "absent", "detected", "not detected", "Present", "Absent", "Detected"}
	for n, want := range map[int]bool{1: false, 2: true, 8: true, 9: false} {
		s := sampleOf(many[:n]...)
		if got := s.yesAndNo(f); (got != nil) != want || want && (!slices.IsSorted(got) || len(got) != n) {
			t.Errorf("%d words: %q", n, got)
		}
	}
	for _, texts := range [][]string{{"yes", "present"}, {"no"}, {"yes", "no", "maybe"}, nil} {
		if got := sampleOf(texts...).yesAndNo(f); got != nil {
			t.Errorf("%q: %q", texts, got)
		}
	}
	for texts, want := range map[string]bool{"yes no": true, "detected": true, "yes maybe": false, "": false} {
		if got := sampleOf(strings.Fields(texts)...).tellsOccurrence(f); got != want {
			t.Errorf("%q tells: %v", texts, got)
		}
	}
}

// What a column's name claims of the plant: every word for found, not found and seen, alone and with
// words for what was looked for; any other word and it claims nothing.
func TestPresenceOfNames(t *testing.T) {
	with := func(word string) []string {
		return []string{word, strings.ToUpper(word), "Plant " + word, word + "?", "is_the_reed_" + word, "weed " + word + " y n"}
	}
	for kind, words := range map[Claimed]string{
		SaysPresence: "presence present pres detected detection found plantfound plantpresent weedfound presabs presenceabsence fund gefunden vorhanden presencia presente encontrado trouve",
		SaysAbsence:  "absence absent abs notfound notdetected", MaySay: "seen observed sighted sighting",
	} {
		for _, word := range strings.Fields(words) {
			for _, name := range with(word) {
				if strings.Contains(name, "the") { // no word of such names
					if got := PresenceOf(name); got != SaysNothing {
						t.Errorf("%s claims %d", name, got)
					}
					continue
				}
				if got := PresenceOf(name); got != kind {
					t.Errorf("%s claims %d, want %d", name, got, kind)
				}
			}
		}
	}
	for name, want := range map[string]Claimed{
		"": SaysNothing, "plant": SaysNothing, "Status": SaysNothing, "occurrence": SaysNothing, "occurrence present": SaysPresence, "colour present": SaysNothing, "present since": SaysNothing, "PlantFound": SaysPresence, "seen or absent": SaysAbsence, "absent present": SaysPresence, "seen present": SaysPresence,
		"0/1 found": SaysPresence, "any canes seen here": MaySay, "infestation status flag detected": SaysPresence, "giant knotweed stand patch target species site found": SaysPresence, "plants weeds cane yn was it no yes there found": SaysPresence, "invasive": SaysNothing,
	} {
		if got := PresenceOf(name); got != want {
			t.Errorf("%q claims %d, want %d", name, got, want)
		}
	}
	for _, word := range strings.Fields("present absent detected notdetected notpresent notfound nonefound notseen undetected") {
		if !FindsPlainly(word) || !FindsPlainly(strings.ToUpper(word)+"!") {
			t.Errorf("%s does not tell plainly", word)
		}
	}
	for _, word := range []string{"Not Detected", "not_found", "None found"} {
		if !FindsPlainly(word) {
			t.Errorf("%s does not tell plainly", word)
		}
	}
	for _, word := range []string{"yes", "no", "found", "seen", ""} {
		if FindsPlainly(word) {
			t.Errorf("%s tells plainly", word)
		}
	}
}
