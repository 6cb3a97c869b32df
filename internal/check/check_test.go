package check

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

var (
	mild  = Rule{Code: "mild", Severity: Note, Remedy: "nothing to do"}
	grave = Rule{Code: "grave", Severity: Error, Remedy: "repair it"}
)

// TestCompareNatural: the order of record names; by hand.
func TestCompareNatural(t *testing.T) {
	want := []string{"", "#", "1", "01", "2", "10", "99999999999999999999998", "99999999999999999999999", "A", "a", "a1", "a1b", "a2", "a10", "a10b2", "a10b10", "row 9", "row 10"}
	// "01" has the value of "1" and is told apart from it by byte: 0 before 1.
	want[2], want[3] = "01", "1"
	got := slices.Clone(want)
	rand.New(rand.NewPCG(1, 1)).Shuffle(len(got), func(i, k int) { got[i], got[k] = got[k], got[i] })
	slices.SortFunc(got, CompareNatural)
	if !slices.Equal(got, want) {
		t.Errorf("order %q, want %q", got, want)
	}
}

// TestCompareNaturalOrder: the comparison is a total order.
func TestCompareNaturalOrder(t *testing.T) {
	name := rapid.StringMatching(`[a0-2]{0,5}`)
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := name.Draw(t, "a"), name.Draw(t, "b"), name.Draw(t, "c")
		if CompareNatural(a, b) != -CompareNatural(b, a) || (CompareNatural(a, b) == 0) != (a == b) {
			t.Fatalf("%q and %q", a, b)
		}
		if CompareNatural(a, b) <= 0 && CompareNatural(b, c) <= 0 && CompareNatural(a, c) > 0 {
			t.Fatalf("%q, %q, %q go in a circle", a, b, c)
		}
	})
}

func TestSort(t *testing.T) {
	want := []Finding{
		{File: "a", Record: "row 9"}, {File: "a", Record: "row 10", Field: "x"}, {File: "a", Record: "row 10", Field: "y", Rule: grave},
		{File: "a", Record: "row 10", Field: "y", Rule: mild}, {File: "a", Record: "row 10", Field: "y", Rule: mild, Message: "m"},
		{File: "a", Record: "row 10", Field: "y", Rule: mild, Message: "m", Value: "v"},
		{File: "a", Record: "row 10", Field: "y", Rule: mild, Message: "m", Value: "v", Position: &orb.Point{1, 2}}, {File: "b"},
	}
	got := slices.Clone(want)
	for seed := range uint64(20) {
		rand.New(rand.NewPCG(seed, 1)).Shuffle(len(got), func(i, k int) { got[i], got[k] = got[k], got[i] })
		Sort(got)
		if fmt.Sprint(got) != fmt.Sprint(want) {
			t.Fatalf("seed %d: %v", seed, got)
		}
	}
	if Count(got, Error) != 1 || Count(got, Note) != 7 || Count(got, Warning) != 0 {
		t.Errorf("counts %d, %d, %d", Count(got, Error), Count(got, Note), Count(got, Warning))
	}
}

// TestLog: all errors are kept; milder findings are kept up to the limit, and then joined into one.
func TestLog(t *testing.T) {
	log := Log{Limit: 3}
	for i := range 10 {
		log.Add(Finding{Rule: grave, File: "f", Record: fmt.Sprint("r", i)})
		log.Add(Finding{Rule: mild, File: "f", Field: "many", Record: fmt.Sprint("r", 20-i), Message: "m", Position: &orb.Point{}})
	}
	for i := range 3 {
		log.Add(Finding{Rule: mild, File: "f", Field: "few", Record: fmt.Sprint("r", i)})
	}
	got := log.Findings()
	if Count(got, Error) != 10 || Count(got, Note) != 4 {
		t.Fatalf("%v", got)
	}
	first := got[0]
	if first.Record != "" || first.Field != "many" || !strings.HasPrefix(first.Message, "10 records") || !strings.Contains(first.Message, "r11") || first.Position != nil {
		t.Errorf("the summary is %+v", first)
	}
}

// TestLogOrder: a log's findings do not depend on the order in which they were added.
func TestLogOrder(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		findings := rapid.SliceOf(rapid.Custom(func(t *rapid.T) Finding {
			return Finding{
				Rule: rapid.SampledFrom([]Rule{mild, grave}).Draw(t, "rule"), File: rapid.SampledFrom([]string{"a", "b"}).Draw(t, "file"),
				Record: rapid.StringMatching(`r[0-9]{1,2}`).Draw(t, "record"), Field: rapid.SampledFrom([]string{"x", "y"}).Draw(t, "field"),
			}
		})).Draw(r, "findings")
		one, two := Log{Limit: 2}, Log{Limit: 2}
		for _, f := range findings {
			one.Add(f)
		}
		for _, f := range rapid.Permutation(findings).Draw(r, "again") {
			two.Add(f)
		}
		if a, b := fmt.Sprint(one.Findings()), fmt.Sprint(two.Findings()); a != b {
			r.Fatalf("%s\n%s", a, b)
		}
	})
}

func TestFindingString(t *testing.T) {
	f := Finding{Rule: grave, File: "p.csv", Record: "a", Field: "x", Message: "it is wrong"}
	if got, want := f.String(), "error: p.csv, a, x: it is wrong; repair it [grave]"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got, want := (Finding{Rule: mild, File: "p.csv", Message: "m"}).String(), "note: p.csv: m; nothing to do [mild]"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if Warning.String() != "warning" {
		t.Error(Warning.String())
	}
}
