package trend

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// chapter is a quarter of one stream: infested acres mapped, the change since the last look, and
// the looks in the batch ("" for a row left out).
type chapter struct {
	mapped, step int64 // units of 1e-4
	looks        string
}

func told(t *testing.T, chapters ...chapter) *History {
	t.Helper()
	var batches []Batch
	q := quarter(t, "2025Q1")
	for k, c := range chapters {
		looks, err := parseLooks(c.looks)
		if err != nil {
			t.Fatal(err)
		}
		row := NewRow("waterBody")
		row.Name, row.Looks = "Long Water", looks
		if row.Figures[Infested] = c.mapped; k > 0 {
			row.Figures[Infested.Step()] = c.step
		}
		all := row
		all.Scope, all.Name = "total", ""
		b := Batch{Quarter: q, Rows: []Row{all}}
		if c.looks != "" {
			b.Rows = append(b.Rows, row)
		}
		batches, q = append(batches, b), q.Next()
	}
	h, err := Assemble(batches, DefaultRules())
	if err != nil {
		t.Fatal(err)
	}
	return h
}

// Derived by hand: values of the stream on the ground known at the end, and the quarters with a
// survey.
func TestChain(t *testing.T) {
	const b = Blank
	for _, c := range []struct {
		name     string
		chapters []chapter
		want     []int64
		looked   []bool
	}{
		{"all looked at", []chapter{{50, 0, "2025Q1 0.005"}, {40, -10, "2025Q2 0.004"}, {45, 5, "2025Q3 0.0045"}}, []int64{50, 40, 45}, []bool{true, true, true}},
		// 30 more on new ground, and known ground fell by 10.
		{"more ground each quarter is no rise", []chapter{{50, 0, "2025Q1 0.005"}, {70, -10, "2025Q2 0.007"}, {95, -5, "2025Q3 0.0095"}}, []int64{110, 100, 95}, []bool{true, true, true}},
		{"cleared and looked at is 0, not looked at is open", []chapter{{50, 0, "2025Q1 0.005"}, {0, -50, "2025Q2 0.005"}, {0, 0, "2025Q3 0"}, {0, 0, ""}, {0, 0, "2026Q1 0"}},
			[]int64{50, 0, 0, b, 0}, []bool{true, true, true, false, true}},
		{"carried is no value", []chapter{{50, 0, "2025Q1 0.005"}, {50, 0, "2025Q1 0.005"}, {60, 10, "2025Q3 0.006"}}, []int64{50, 50, 60}, []bool{true, false, true}},
	} {
		h := told(t, c.chapters...)
		at := slices.IndexFunc(h.Sections, func(s Section) bool { return s.Scope == "waterBody" })
		if d := cmp.Diff(c.want, h.Chain(at, Infested)); d != "" {
			t.Errorf("%s: %s", c.name, d)
		}
		for k, ages := range h.Sections[at].Ages {
			if (ages != nil) != c.looked[k] {
				t.Errorf("%s: quarter %d looked %v", c.name, k+1, ages)
			}
		}
	}
}

// A batch that does not continue the one before it is compared by its level; one of an earlier
// version by its parts of change.
func TestChainWithoutSteps(t *testing.T) {
	row := func(infested, observed, fresh, gone int64) Row {
		r := NewRow("total")
		r.LooksTold = false
		r.Figures[Infested], r.Figures[Observed], r.Figures[New], r.Figures[NotDetected] = infested, observed, fresh, gone
		return r
	}
	h, err := Assemble([]Batch{
		{Quarter: quarter(t, "2025Q1"), Rows: []Row{row(50, Blank, Blank, Blank)}},
		{Quarter: quarter(t, "2025Q2"), Rows: []Row{row(70, 3, 20, 3)}},
		{Quarter: quarter(t, "2025Q3"), Rows: []Row{row(40, 100, 0, 0)}, Apart: true},
	}, DefaultRules())
	if err != nil {
		t.Fatal(err)
	}
	// 40 now; 30 less than the 70 before it; 20 more than the 50 before that.
	if d := cmp.Diff([]int64{50, 70, 40}, h.Chain(0, Infested)); d != "" {
		t.Error(d)
	}
}

// By hand: 50 acres, then 70: 5 restated, 5 observed, 4 new, 3 found again, 7 on ground first
// surveyed, 4 not detected. On the same ground that is 8 more, so 62 before it. An earlier version
// has no column for found again, which then counts as 0.
func TestChainOfPartsCountsFoundAgain(t *testing.T) {
	parts := func(again int64) Row {
		r := NewRow("total")
		r.Figures[Infested], r.Figures[Previous], r.Figures[Restated], r.Figures[Observed] = 70, 50, 5, 5
		r.Figures[New], r.Figures[FoundAgain], r.Figures[FirstLookedAt], r.Figures[NotDetected] = 4, again, 7, 4
		return r
	}
	first := NewRow("total")
	first.Figures[Infested] = 50
	for again, want := range map[int64]int64{3: 62, Blank: 65} {
		h, err := Assemble([]Batch{
			{Quarter: quarter(t, "2025Q1"), Rows: []Row{first}},
			{Quarter: quarter(t, "2025Q2"), Rows: []Row{parts(again)}},
		}, DefaultRules())
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff([]int64{want, 70}, h.Chain(0, Infested)); d != "" {
			t.Errorf("found again %d: %s", again, d)
		}
	}
}

// By hand: a tenth of an acre that does not change was a tenth before too; a millionth left over
// from the rounding of two changes is 0.
func TestChainOfRoundedChanges(t *testing.T) {
	const tenth, millionth = PerUnit / 10, PerUnit / 1_000_000
	for _, c := range []struct{ first, change, last, want int64 }{
		{tenth, 0, tenth, tenth},
		{3 * tenth, -tenth, 2 * tenth, 3 * tenth},
		{0, tenth - millionth, tenth, 0},
		{0, tenth - 2*millionth, tenth, 2 * millionth},
	} {
		h := told(t, chapter{c.first, 0, "2025Q1 1"}, chapter{c.last, c.change, "2025Q2 1"})
		at := slices.IndexFunc(h.Sections, func(s Section) bool { return s.Scope == "waterBody" })
		if d := cmp.Diff([]int64{c.want, c.last}, h.Chain(at, Infested)); d != "" {
			t.Errorf("%+v: %s", c, d)
		}
	}
}

// By hand: quarters printed with seven decimals and with five. 0.0432819 and 0.0296700, the changes, come
// to 0.0000019 more than the last value, which five decimals may do: the first value is 0, not below 0.
// Above 0 a millionth a change is the most that counts as rounding.
func TestChainOfQuartersWithOtherDigits(t *testing.T) {
	const unit = PerUnit / 10_000_000 // the seventh decimal
	for _, c := range []struct{ second, last, want int64 }{
		{432819, 729500, 0}, {432791, 729500, 0}, {432819, 729600, 81}, {432819, 729400, -119},
	} {
		h := told(t, chapter{0, 0, "2025Q1 1"}, chapter{432819 * unit, c.second * unit, "2025Q2 1"}, chapter{c.last * unit, 296700 * unit, "2025Q3 1"})
		at := slices.IndexFunc(h.Sections, func(s Section) bool { return s.Scope == "waterBody" })
		if got := h.Chain(at, Infested)[0]; got != c.want*unit {
			t.Errorf("%+v: first %d, want %d", c, got/unit, c.want)
		}
	}
}
