package correction

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"driftreach/internal/check"
)

func day(n int) time.Time { return time.Date(2026, 8, n, 0, 0, 0, 0, time.UTC) }

func codes(findings []check.Finding) string {
	var out []string
	for _, f := range findings {
		out = append(out, f.Record+" "+f.Rule.Code)
	}
	slices.Sort(out)
	return strings.Join(out, "; ")
}

// TestBadRows checks that every faulty row gives its finding; by hand.
func TestBadRows(t *testing.T) {
	for _, c := range []struct {
		name string
		row  Correction
		kept int
		want string
	}{
		{"a look-alike", Correction{Date: day(1), Kind: Misidentified, RecordID: "r"}, 1, ""},
		{"no kind", Correction{Date: day(1), RecordID: "r"}, 0, "row 1 correction-unknown-kind"},
		{"another kind", Correction{Date: day(1), Kind: "eaten", RecordID: "r"}, 0, "row 1 correction-unknown-kind"},
		{"no day", Correction{Kind: Misidentified, RecordID: "r"}, 0, "row 1 correction-date-missing"},
		{"nothing named", Correction{Date: day(1), Kind: AbsenceWrong}, 0, "row 1 correction-without-subject"},
		{"one stand of two", Correction{Date: day(1), Kind: SameStand, StandID: "s"}, 0, "row 1 correction-without-subject"},
		{"a stand and itself", Correction{Date: day(1), Kind: NotSameStand, StandID: "s", OtherID: "s"}, 0, "row 1 correction-without-subject"},
		{"a find and a stand", Correction{Date: day(1), Kind: SameStand, RecordID: "r", StandID: "s"}, 1, ""},
		{"a find and the other stand", Correction{Date: day(1), Kind: SameStand, RecordID: "r", OtherID: "s"}, 1, ""},
		{"after the quarter", Correction{Date: day(31), Kind: Misidentified, RecordID: "r"}, 1, "row 1 correction-after-quarter"},
	} {
		c.row.Row = 1
		kept, findings := Check([]Correction{c.row}, Options{End: day(30)})
		if got := codes(findings); len(kept) != c.kept || got != c.want {
			t.Errorf("%s: %d kept, want %d; findings %q, want %q", c.name, len(kept), c.kept, got, c.want)
		}
	}
}

// TestKindsAreReadAsTheyAreWritten reads each kind of correction in several ways of writing; by
// hand.
func TestKindsAreReadAsTheyAreWritten(t *testing.T) {
	for text, want := range map[string]Kind{
		"Misidentified": Misidentified, "look-alike": Misidentified, "same_stand_as": SameStand, "Not the same stand": NotSameStand,
		"NOT SAME STAND": NotSameStand, "absence_was_wrong": AbsenceWrong,
	} {
		if got, known := ParseKind(text); !known || Kind(got) != want {
			t.Errorf("%q is read as %q", text, got)
		}
	}
	for _, k := range Kinds() {
		if got, known := ParseKind(string(k)); !known || Kind(got) != k {
			t.Errorf("%q is not read as itself", k)
		}
	}
	if got, known := ParseKind("goats"); known || got != "goats" {
		t.Errorf("goats are read as %q", got)
	}
}

// TestContradictions: of two contradicting rows of different days the later counts; of the same day
// neither; a row that the chain already accepted stays. By hand.
func TestContradictions(t *testing.T) {
	same := func(n int, taken string) Correction {
		return Correction{Row: n, Date: day(n), Kind: SameStand, StandID: "a", OtherID: "b", Taken: taken}
	}
	not := func(n int, taken string) Correction {
		return Correction{Row: n, Date: day(n), Kind: NotSameStand, StandID: "b", OtherID: "a", Taken: taken}
	}
	on := func(c Correction, n int) Correction { c.Date = day(n); return c }
	alike := Correction{Row: 9, Date: day(9), Kind: Misidentified, StandID: "a"}
	for _, c := range []struct {
		name         string
		taken, fresh []Correction
		kept         string
		want         string
	}{
		{"two days", nil, []Correction{same(1, ""), not(2, "")}, "2", "row 1 correction-superseded"},
		{"one day", nil, []Correction{same(1, ""), on(not(2, ""), 1)}, "", "row 1 correction-contradicts; row 2 correction-contradicts"},
		{"taken up, same day", []Correction{same(1, "2026Q2")}, []Correction{on(not(2, ""), 1)}, "1", "row 2 correction-contradicts"},
		{"taken up, later", []Correction{same(1, "2026Q2")}, []Correction{not(2, "")}, "2", "row 2 correction-superseded"},
		{"given again", []Correction{same(1, "2026Q2")}, []Correction{same(1, "")}, "1", ""},
		{"a look-alike is no other stand", nil, []Correction{same(1, ""), alike}, "9", "row 1 correction-superseded"},
		{"nothing in common", nil, []Correction{same(1, ""), {Row: 2, Date: day(2), Kind: Misidentified, RecordID: "a"}}, "1 2", ""},
	} {
		kept, findings := Join(c.taken, c.fresh)
		var rows []string
		for _, k := range kept {
			rows = append(rows, fmt.Sprint(k.Row))
		}
		if got := codes(findings); strings.Join(rows, " ") != c.kept || got != c.want {
			t.Errorf("%s: rows %v and %q, want %s and %q", c.name, rows, got, c.kept, c.want)
		}
	}
}

// TestJoinDoesNotDependOnOrder: the result is the same for any order of the rows.
func TestJoinDoesNotDependOnOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		names := rapid.SampledFrom([]string{"", "a", "b", "c"})
		rows := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Correction {
			return Correction{
				Date: day(rapid.IntRange(1, 4).Draw(t, "day")), Kind: rapid.SampledFrom(Kinds()).Draw(t, "kind"),
				RecordID: names.Draw(t, "record"), StandID: names.Draw(t, "stand"), OtherID: names.Draw(t, "other"),
			}
		}), 0, 12).Draw(t, "rows")
		for i := range rows {
			rows[i].Row = i + 1
		}
		turned := rapid.Permutation(rows).Draw(t, "turned")
		answer := func(rows []Correction) string {
			checked, one := Check(slices.Clone(rows), Options{})
			kept, two := Join(nil, checked)
			return fmt.Sprint(kept, codes(one), codes(two))
		}
		if a, b := answer(rows), answer(turned); a != b {
			t.Fatalf("%s\n%s", a, b)
		}
	})
}

// cannotBoth says whether two rows contradict each other by the rules in README.
func cannotBoth(c, o *Correction) bool {
	pairs := func(k Kind) bool { return k == SameStand || k == NotSameStand }
	switch {
	case c.Kind == o.Kind:
		return false
	case pairs(c.Kind) && pairs(o.Kind):
		a, b := c.pair()
		x, y := o.pair()
		return a == x && b == y || a == y && b == x
	case o.Kind == Misidentified:
		c, o = o, c
	}
	switch {
	case c.Kind != Misidentified || o.Kind == NotSameStand:
		return false
	case c.RecordID != "":
		return c.RecordID == o.RecordID
	}
	return o.RecordID == "" && c.StandID == o.StandID || o.OtherID == c.StandID
}

// TestJoinIsPairByPair: a row stays if no row of a later day contradicts it and, unless it was
// accepted before, none of its own day does. Every removed row, and every row for which another is
// removed, is reported.
func TestJoinIsPairByPair(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		names := rapid.SampledFrom([]string{"", "a", "b"})
		draw := func(name, taken string) []Correction {
			rows := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Correction {
				return Correction{
					Date: day(rapid.IntRange(1, 3).Draw(t, "day")), Kind: rapid.SampledFrom(Kinds()).Draw(t, "kind"), Taken: taken,
					RecordID: names.Draw(t, "record"), StandID: names.Draw(t, "stand"), OtherID: names.Draw(t, "other"),
				}
			}), 0, 8).Draw(t, name)
			checked, _ := Check(rows, Options{})
			return checked
		}
		taken, fresh := draw("taken", "2026Q2"), draw("fresh", "")
		all := slices.Clone(taken)
		for i := range fresh {
			if !slices.ContainsFunc(taken, func(c Correction) bool { return c.Same(&fresh[i]) }) {
				all = append(all, fresh[i])
			}
		}
		slices.SortStableFunc(all, func(a, b Correction) int { return compareContent(&a, &b) })
		var want []string
		for i := range all {
			stays := true
			for k := range all {
				later := all[k].Date.After(all[i].Date)
				if cannotBoth(&all[i], &all[k]) && (later || all[i].Taken == "" && all[k].Date.Equal(all[i].Date)) {
					stays = false
				}
			}
			if stays {
				want = append(want, fmt.Sprint(all[i].Content(), all[i].Taken))
			}
		}
		kept, findings := Join(taken, fresh)
		var got []string
		for i := range kept {
			got = append(got, fmt.Sprint(kept[i].Content(), kept[i].Taken))
		}
		if !slices.Equal(got, want) || len(kept) < len(all) && len(findings) == 0 {
			t.Fatalf("kept %v of %v, want %v; %d findings", got, all, want, len(findings))
		}
	})
}

// A hundred thousand rows about one stand take no longer than sorting them; comparing every pair
// took minutes.
func TestManyRowsAboutOneStand(t *testing.T) {
	var rows []Correction
	for i := range 100_000 {
		rows = append(rows, Correction{Date: day(1 + i%9), Kind: Kinds()[i%len(Kinds())], RecordID: fmt.Sprint("r", i%5003), StandID: "s", OtherID: "s"[:i%2]})
	}
	checked, _ := Check(rows, Options{})
	kept, findings := Join(nil, checked)
	if len(kept) == 0 || len(kept) >= len(checked) || len(findings) == 0 {
		t.Errorf("%d of %d kept, %d findings", len(kept), len(checked), len(findings))
	}
}
