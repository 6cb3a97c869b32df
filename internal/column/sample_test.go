package column

import (
	"fmt"
	"strings"
	"testing"

	"driftreach/internal/cell"
	"driftreach/internal/survey"
)

// sampleOf is a sample of these texts, each once.
func sampleOf(texts ...string) *sample { return &sample{filled: len(texts), texts: texts} }

// Whether a text is a number for a field, and with which unit; by hand. For an area a length is none;
// for a field that keeps its units any unit will do.
func TestNumberForAField(t *testing.T) {
	for _, c := range []struct {
		field      int
		text, unit string
		ok         bool
	}{
		{trapArea, "12", "", true}, {trapArea, "12.5 ac", "ac", true}, {trapArea, "12 sq ft", "sq ft", true}, {trapArea, "12 ft", "ft", false},
		{trapArea, "12 furlongs", "furlongs", false}, {trapArea, "much", "", false}, {trapArea, "NaN", "", false}, {trapArea, "", "", true}, {trapArea, "n/a", "", true},
		{trapArea, "2,723", "", false}, {trapArea, "1 1/2", "", true}, {trapHeat, "50 F", "f", true}, {trapHeat, "50 ft", "ft", false},
		{trapBait, "2 lb", "lb", true}, {trapBait, "2 furlongs", "furlongs", true}, {trapBait, "2", "", true}, {trapBait, "some", "", false},
	} {
		if c.text == "2,723" {
			c.ok = true // here a comma may be either mark
		}
		unit, ok := trapFields[c.field].numberIn(c.text, false)
		if ok != c.ok || unit != c.unit {
			t.Errorf("%q for %s: %q, %v, want %q, %v", c.text, trapFields[c.field].Name, unit, ok, c.unit, c.ok)
		}
	}
	if _, ok := trapFields[trapArea].numberIn("2,5", true); !ok {
		t.Error("a decimal comma is no number")
	}
}

// A column holds numbers if nine in ten of its texts are some, by hand: nine of ten and eighteen of
// twenty are enough, eight of nine and none are not.
func TestNineInTen(t *testing.T) {
	many := func(good, bad int) *sample {
		var texts []string
		for i := range good {
			texts = append(texts, fmt.Sprint(i))
		}
		for i := range bad {
			texts = append(texts, "word"+strings.Repeat("x", i))
		}
		return sampleOf(texts...)
	}
	for _, c := range []struct {
		good, bad int
		want      bool
	}{{9, 1, true}, {18, 2, true}, {10, 0, true}, {1, 0, true}, {8, 1, false}, {17, 2, false}, {0, 0, false}, {0, 1, false}} {
		if got := many(c.good, c.bad).fitsNumbers(trapFields[trapArea], false); got != c.want {
			t.Errorf("%d numbers and %d others: %v", c.good, c.bad, got)
		}
	}
}

// The unit that some cells have is proposed where other cells have none, is the same in all that have
// one, and is not our own; by hand.
func TestUnitOfSomeCells(t *testing.T) {
	for _, c := range []struct {
		texts []string
		want  string
	}{
		{[]string{"1 ac", "2", "3 ac"}, "ac"}, {[]string{"1", "2 ac"}, "ac"}, {[]string{"1 ac", "2 ac"}, ""}, {[]string{"1", "2"}, ""}, {[]string{"1 ac", "2 ha", "3"}, ""},
		{[]string{"1 m2", "2"}, ""}, {[]string{"1 ac", "2", "big", "3 ft"}, "ac"}, {nil, ""}, {[]string{"1 sq ft", "2"}, "sq ft"},
	} {
		if got := sampleOf(c.texts...).unit(trapFields[trapArea]); got != c.want {
			t.Errorf("%q: %q, want %q", c.texts, got, c.want)
		}
	}
}

// What a column's texts look like, by hand: an empty column fits nothing but anything.
func TestContentOfColumns(t *testing.T) {
	some := make([]string, 31)
	for i := range some {
		some[i] = "w" + strings.Repeat("x", i)
	}
	full := make([]string, sampledTexts)
	for i := range full {
		full[i] = fmt.Sprint("id", i)
	}
	for name, c := range map[string]struct {
		s    *sample
		want string // of: anything, dates, different, few words
	}{
		"empty":                        {&sample{}, "anything"},
		"each once":                    {sampleOf("a1", "b2", "c3"), "anything different"},
		"words, each once":             {sampleOf("a", "b", "c"), "anything different few"},
		"one comes twice":              {&sample{filled: 4, texts: []string{"a", "b", "c"}}, "anything few"},
		"numbers that repeat":          {&sample{filled: 4, texts: []string{"1", "2", "3"}}, "anything"},
		"thirty words":                 {&sample{filled: 90, texts: some[:30]}, "anything few"},
		"thirty-one":                   {&sample{filled: 90, texts: some}, "anything"},
		"more than are kept":           {&sample{filled: 900, texts: full}, "anything different"},
		"days":                         {sampleOf("2026-07-01", "2026-07-02"), "anything dates different"},
		"days and one that is none":    {sampleOf("2026-07-01", "later"), "anything different"},
		"days that either order reads": {sampleOf("1/2/2026", "3/4/2026"), "anything different"},
	} {
		said := []string{}
		for _, of := range []struct {
			c    Content
			name string
		}{{Anything, "anything"}, {Dates, "dates"}, {Different, "different"}, {FewWords, "few"}} {
			if c.s.fits(of.c) {
				said = append(said, of.name)
			}
		}
		if got := strings.Join(said, " "); got != c.want {
			t.Errorf("%s: %s, want %s", name, got, c.want)
		}
		if c.s.fits(Numbers) {
			t.Errorf("%s: whether it holds numbers is a question of the field", name)
		}
	}
}

// In which order day and month come, by hand: a day above 12 tells, in nine of ten texts; where none
// does, or both orders would do, nothing is said.
func TestOrderOfDays(t *testing.T) {
	for _, c := range []struct {
		texts []string
		want  string
	}{
		{[]string{"7/13/2026", "7/14/2026"}, "month first"}, {[]string{"13/7/2026", "14/7/2026"}, "day first"}, {[]string{"1/2/2026", "3/4/2026"}, ""},
		{[]string{"2026-07-01"}, ""}, {[]string{"7/13/2026", "13/7/2026"}, ""}, {[]string{"soon"}, ""}, {nil, ""},
	} {
		if got := sampleOf(c.texts...).dateOrder(); got != c.want {
			t.Errorf("%q: %q, want %q", c.texts, got, c.want)
		}
	}
	for _, c := range []struct {
		texts []string
		order string
		ok    bool
	}{
		{[]string{"2026-07-01", "2026-07-02"}, "", true}, {[]string{"7/13/2026"}, "month first", true}, {[]string{"2026"}, "", false}, {[]string{"46204"}, "", false},
		{[]string{"2026-07-01/2026-07-03"}, "", false}, {[]string{"2026-07"}, "", false}, {nil, "", false},
	} {
		if order, ok := sampleOf(c.texts...).days(); order != c.order || ok != c.ok {
			t.Errorf("%q: %q, %v, want %q, %v", c.texts, order, ok, c.order, c.ok)
		}
	}
	if dateOrders[""] != survey.NoOrder || len(dateOrders) != 2 {
		t.Errorf("orders %v", dateOrders)
	}
}

// Every word for the unit of an amount is found in a column's name, before or after other words; a
// word of two words as a whole.
func TestEveryAmountWord(t *testing.T) {
	for _, word := range amountWords {
		for _, name := range []string{word, "used " + word, word + " used", "Amount (" + strings.ToUpper(word) + ")", "amount_" + strings.ReplaceAll(word, " ", "_")} {
			if got := amountUnitOf(name); got != word {
				t.Errorf("%q: %q, want %q", name, got, word)
			}
		}
		if _, ours := cell.FindUnit(word); ours {
			t.Errorf("%q is a unit of ours too", word)
		}
	}
	for _, name := range []string{"", "amount", "gallery", "used gal2", "litter"} {
		if got := amountUnitOf(name); got != "" {
			t.Errorf("%q: %q", name, got)
		}
	}
	for _, c := range []struct {
		m    Mapping
		want string
	}{
		{Mapping{}, ""}, {Mapping{Units: map[string]string{"bait": " gal "}}, "gal"}, {Mapping{Columns: map[string]Names{"bait": {"x", "Pounds used"}}}, "pounds"},
		{Mapping{Units: map[string]string{"bait": "oz"}, Columns: map[string]Names{"bait": {"Pounds used"}}}, "oz"}, {Mapping{Columns: map[string]Names{"bait": {"used"}}}, ""},
	} {
		if got := c.m.AmountUnit("bait"); got != c.want {
			t.Errorf("%+v: %q, want %q", c.m, got, c.want)
		}
	}
}
