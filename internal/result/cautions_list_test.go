package result

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"driftreach/internal/drift"
	"driftreach/internal/lineage"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// heads are the first words of each caution.
func heads(cautions []string) []string {
	var out []string
	for _, c := range cautions {
		words := strings.Fields(c)
		out = append(out, strings.Join(words[:min(3, len(words))], " "))
	}
	return out
}

// TestWhichCautions: the cautions of a batch by their first words, by hand: each thing that a batch has
// adds its own caution at its place, and nothing else.
func TestWhichCautions(t *testing.T) {
	always := []string{"This is a", "The product label", "Herbicide work in", "The aquatic zone", "Stay out of", "Stream is at", "Fragment amounts are"}
	const last = "Each stand's list"
	for name, c := range map[string]struct {
		run  Run
		more []string // between those and the last
	}{
		"an empty batch": {Run{}, nil},
		"stands":         {Run{Stands: make([]Stand, 1)}, []string{"P10 to P90"}},
		"carried ground": {Run{Stands: []Stand{{Parts: StandParts{Carried: 1}}}}, []string{"1 of the", "P10 to P90"}},
		"reaches":        {Run{Reaches: make([]drift.Reach, 1)}, []string{"Hours afloat rest"}},
		"one draw":       {Run{Draws: 1}, []string{"P10 to P90"}},
		"assumed":        {Run{Assumed: []string{"a"}}, []string{"Assumed for this"}},
		"all": {Run{Stands: []Stand{{Parts: StandParts{Carried: 1}}}, Reaches: make([]drift.Reach, 1), Draws: 200, Assumed: []string{"a"}},
			[]string{"1 of the", "P10 to P90", "Hours afloat rest", "P10 to P90", "Assumed for this"}},
	} {
		want := append(slices.Concat(always, c.more), last)
		if d := cmp.Diff(want, heads(Cautions(&c.run))); d != "" {
			t.Errorf("%s: %s", name, d)
		}
	}
	if got := heads(Cautions(&Run{Coarse: 1000})); got[0] != "This is a" || got[1] != "Public edition: places" || len(got) != len(always)+2 {
		t.Errorf("a public edition: %q", got)
	}
}

// TestFiguresInCautions: setback, share and number of draws are printed as they were set, without
// rounding.
func TestFiguresInCautions(t *testing.T) {
	for _, c := range []struct {
		setback, share float64
		draws          int
		want           []string
	}{
		{30, 0.05, 200, []string{"is drawn 30 m from the bank", "at least 5 % of", "come from 200 draws"}},
		{7.5, 0.001, 1, []string{"is drawn 7.5 m from the bank", "at least 0.1 % of", "come from 1 draws"}},
		{0, 0.125, 1000, []string{"is drawn 0 m from the bank", "at least 12.5 % of", "come from 1000 draws"}},
	} {
		all := strings.Join(Cautions(&Run{Setback: c.setback, RiskShare: c.share, Draws: c.draws}), "\n")
		for _, words := range c.want {
			if !strings.Contains(all, words) {
				t.Errorf("%v m, %v, %d draws: %q is not said", c.setback, c.share, c.draws, words)
			}
		}
	}
}

// TestCautionsOfARow: every combination of what a reader of one row must know, in its order; the texts
// by hand. A stand that is not on the map has the two of all stands.
func TestCautionsOfARow(t *testing.T) {
	const common = "Planning aid: the product label, permits and local rules decide. Stay out of flood water, and off banks that floods have undercut."
	q1 := survey.Quarter{Year: 2026, Number: 1}
	texts := [4]string{
		" Nobody saw it this quarter: as last found in 2026Q1.", " Nobody saw all of it this quarter: 0.5 infested acres of it are as last known.",
		" Assumed, not measured: aquatic.bankfull_width_by_order_m, stands.default_cover_percent.",
		" It may lie in or out of the aquatic zone: its position is uncertain by more than the setback.",
	}
	run := &Run{Setback: 30, Records: survey.Records{Listed: []survey.Record{{Uncertainty: 30}, {Uncertainty: 30.01}}}}
	seen := 0
	for mask := range 16 {
		s := Stand{Stand: stand.Stand{Members: []int32{0}}}
		want := common
		if mask&1 != 0 {
			s.CarriedFrom = q1
			want += texts[0]
		}
		if mask&2 != 0 {
			s.Parts.Carried = 5e9
			if mask&1 == 0 { // of a stand that is carried whole, that is said already
				want += texts[1]
			}
		}
		if mask&4 != 0 {
			s.Assumed, s.Zone.WidthAssumed = []string{"stands.default_cover_percent"}, true
			want += texts[2]
		}
		if mask&8 != 0 {
			s.Members = append(s.Members, 1)
			want += texts[3]
		}
		run.Stands = append(run.Stands, s)
		f := cautionsField(func(_ *Run, i int) int32 { return int32(i) })
		if got := f.Value(run, mask).String(); got != want {
			t.Errorf("%04b: %q, want %q", mask, got, want)
		}
		seen++
	}
	f := cautionsField(func(*Run, int) int32 { return -1 })
	if got := f.Value(run, 0).String(); got != common || seen != 16 {
		t.Errorf("not on the map: %q", got)
	}
}

// TestAssumedOfAStand: the settings that stand in for measurements, sorted: the width of its stream
// first.
func TestAssumedOfAStand(t *testing.T) {
	for mask := range 4 {
		var s Stand
		var want []string
		if mask&1 != 0 {
			s.Zone.WidthAssumed = true
			want = append(want, "aquatic.bankfull_width_by_order_m")
		}
		if mask&2 != 0 {
			s.Assumed = []string{"stands.default_cover_percent", "stands.default_patch_acres"}
			want = append(want, s.Assumed...)
		}
		got := standAssumed(&s)
		if !slices.Equal(got, want) || !slices.IsSorted(got) {
			t.Errorf("%02b: %q, want %q", mask, got, want)
		}
	}
}

// TestNothingFound: a first batch in which somebody looked and found nothing has looked in its
// quarter, with no acres left. With a stand, or with a batch before, the rows say where somebody
// looked.
func TestNothingFound(t *testing.T) {
	looks := func(run *Run) string { return fmt.Sprint(Summarize(run)[0].Since.told(run)) }
	if got := looks(&Run{Quarter: q3}); got != "[2026Q3 0]" {
		t.Errorf("nothing found: %s", got)
	}
	one := &Run{Quarter: q3, Stands: []Stand{{Stand: stand.Stand{Infested: acresOf(2)}, Parts: StandParts{Own: 2e10}}}}
	if got := looks(one); got != "[2026Q3 2]" {
		t.Errorf("one stand of 2 acres: %s", got)
	}
	if got := looks(&Run{Quarter: q3, Previous: &Previous{Quarter: q2}}); got != "[]" {
		t.Errorf("a batch before without a stand, and none now: %s", got)
	}
	before := &Previous{
		Quarter: q2, Known: []lineage.Known{{Stand: stand.Stand{Infested: acresOf(2)}}}, Then: []Then{{Infested: 2e10}}, Fates: []lineage.Change{lineage.NotResurveyed},
		Home: []int32{0}, Restated: []int64{2e10},
	}
	carried := &Run{Quarter: q3, Previous: before, Stands: []Stand{{
		Stand: stand.Stand{Infested: acresOf(2)}, CarriedFrom: q1, Change: lineage.NotResurveyed, Parents: []int32{0}, Parts: StandParts{Carried: 2e10},
	}}}
	if got := looks(carried); got != "[2026Q1 2]" {
		t.Errorf("nobody looked: %s", got)
	}
}
