package check

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
)

// TestLogDefaultLimit: the zero log keeps a thousand notes of one kind and makes
// one of a thousand and one; errors have no limit.
func TestLogDefaultLimit(t *testing.T) {
	for _, c := range []struct{ notes, want int }{{0, 0}, {1, 1}, {1000, 1000}, {1001, 1}, {5000, 1}} {
		var log Log
		for i := range c.notes {
			log.Add(Finding{Rule: mild, File: "f", Record: fmt.Sprint("row ", i)})
			log.Add(Finding{Rule: grave, File: "f", Record: fmt.Sprint("row ", i)})
		}
		got := log.Findings()
		if Count(got, Note) != c.want || Count(got, Error) != c.notes {
			t.Errorf("%d notes became %d, errors %d", c.notes, Count(got, Note), Count(got, Error))
		}
	}
}

// TestLogGroups: file, rule and field each make a group of their own; only the
// one over the limit is put into one finding.
func TestLogGroups(t *testing.T) {
	other := Rule{Code: "other", Severity: Warning}
	log := Log{Limit: 2}
	for i := range 3 {
		log.Add(Finding{Rule: mild, File: "a", Field: "x", Record: fmt.Sprint("row ", i), Message: "m"})
	}
	for i := range 2 {
		record := fmt.Sprint("row ", i)
		log.Add(Finding{Rule: mild, File: "b", Field: "x", Record: record})
		log.Add(Finding{Rule: mild, File: "a", Field: "y", Record: record})
		log.Add(Finding{Rule: other, File: "a", Field: "x", Record: record})
	}
	got := log.Findings()
	if len(got) != 7 || Count(got, Warning) != 2 {
		t.Fatalf("%v", got)
	}
	if f := got[0]; f.Record != "" || f.Message != "3 records have this trouble, for example row 0: m" || f.File != "a" || f.Field != "x" {
		t.Errorf("%+v", f)
	}
}

// TestLogTake: what was found by several tells the same as what was found by one, whatever goes to which:
// all of a kind up to the limit, the number of them with the first above it.
func TestLogTake(t *testing.T) {
	for total := range 8 {
		for split := range 1 << total {
			one, a, b := Log{Limit: 4}, Log{Limit: 4}, Log{Limit: 4}
			for i := range total {
				of := &a
				if split>>i&1 > 0 {
					of = &b
				}
				for _, f := range []Finding{
					{Rule: mild, File: "f", Record: fmt.Sprint("row ", (i*5+3)%8), Message: "m"},
					{Rule: mild, File: fmt.Sprint("g", i%2), Record: "r", Message: fmt.Sprint(-i)},
					{Rule: grave, File: "f", Record: fmt.Sprint("row ", i)},
				} {
					one.Add(f)
					of.Add(f)
				}
			}
			a.Take(&b)
			if got, want := a.Findings(), one.Findings(); !slices.Equal(got, want) {
				t.Fatalf("%d findings, %b of them elsewhere: %v, want %v", total, split, got, want)
			}
		}
	}
	quiet := Log{Quiet: true}
	quiet.Take(&Log{last: []Finding{{Rule: grave}}})
	if got := quiet.Findings(); len(got) > 0 {
		t.Errorf("a quiet log has %v", got)
	}
}

// TestLogAskedTwice: asking twice gives the same findings, and changing the answer does not change
// the log.
func TestLogAskedTwice(t *testing.T) {
	var log Log
	log.Add(Finding{Rule: grave, File: "b"})
	log.Add(Finding{Rule: grave, File: "a"})
	first := log.Findings()
	first[0].File = "changed"
	if second := log.Findings(); len(second) != 2 || second[0].File != "a" || second[1].File != "b" {
		t.Errorf("%v", second)
	}
	if got := (&Log{}).Findings(); len(got) != 0 {
		t.Errorf("an empty log has %v", got)
	}
}

// TestSortPlaces: findings alike but for their place: none first, then by
// longitude, then latitude.
func TestSortPlaces(t *testing.T) {
	at := func(x, y float64) Finding { return Finding{Position: &orb.Point{x, y}} }
	got := []Finding{at(2, 1), at(1, 2), at(-3, 9), {}, at(1, -2), {}}
	Sort(got)
	var places []string
	for _, f := range got {
		if f.Position == nil {
			places = append(places, "none")
		} else {
			places = append(places, fmt.Sprint(*f.Position))
		}
	}
	if s := strings.Join(places, " "); s != "none none [-3 9] [1 -2] [1 2] [2 1]" {
		t.Errorf("order %s", s)
	}
}

// TestSortNothing: nothing to sort is no trouble.
func TestSortNothing(t *testing.T) {
	Sort(nil)
	one := []Finding{{File: "a"}}
	if Sort(one); one[0].File != "a" || Count(nil, Error) != 0 {
		t.Errorf("%v", one)
	}
}

// TestSeverityWords: mild to grave, with the words of the outputs.
func TestSeverityWords(t *testing.T) {
	all := []Severity{Note, Warning, Error}
	var words []string
	for _, s := range all {
		words = append(words, s.String())
	}
	if !slices.IsSorted(all) || strings.Join(words, " ") != "note warning error" {
		t.Errorf("%v %v", all, words)
	}
}

// TestFindingStringParts: what is blank leaves no trace in the line.
func TestFindingStringParts(t *testing.T) {
	for want, f := range map[string]Finding{
		"error: f: m; repair it [grave]":        {Rule: grave, File: "f", Message: "m"},
		"error: f, row 2: m; repair it [grave]": {Rule: grave, File: "f", Record: "row 2", Message: "m"},
		"error: f, x: m; repair it [grave]":     {Rule: grave, File: "f", Field: "x", Message: "m", Value: "v"},
		"warning: f, row 2, x: m [bare]":        {Rule: Rule{Code: "bare", Severity: Warning}, File: "f", Record: "row 2", Field: "x", Message: "m"},
		"note: f: m with \"quotes\" [bare]":     {Rule: Rule{Code: "bare"}, File: "f", Message: `m with "quotes"`},
	} {
		if got := f.String(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// TestJoin: lists in any order and of any number come out as one sorted list.
func TestJoin(t *testing.T) {
	named := func(names ...string) []Finding {
		var log Log
		for _, name := range names {
			log.Add(Finding{Rule: grave, File: "f", Record: name})
		}
		return log.Findings()
	}
	for want, lists := range map[string][][]Finding{
		"":             {},
		"a":            {named("a")},
		"a b c d":      {nil, named("d"), named("c", "a", "b"), nil},
		"a b c d e f":  {named("a", "c", "f"), named("b", "d", "e")},
		"row 9 row 10": {named("row 10"), named("row 9")},
	} {
		var got []string
		for _, f := range Join(lists...) {
			got = append(got, f.Record)
		}
		if strings.Join(got, " ") != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
