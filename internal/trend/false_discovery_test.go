package trend

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// Printed: Benjamini and Hochberg 1995, section 3.2, fifteen p-values of a study of thrombolysis.
// At 0.05 the procedure finds the first four significant, Bonferroni three. The adjusted values by
// hand: p times 15 over its rank, the fourth 0.0095 x 15 / 4.
func TestAdjustedOfThePrintedExample(t *testing.T) {
	p := []float64{0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.3240, 0.4262, 0.5719, 0.6528, 0.7590, 1.0000}
	want := []float64{0.0015, 0.003, 0.0095, 0.035625, 0.0603, 0.0638571429, 0.0638571429, 0.0645, 0.0765, 0.486, 0.5811818182, 0.714875, 0.7532307692, 0.8132142857, 1}
	got := Adjusted(p)
	told := 0
	for i := range p {
		if !near(got[i], want[i], 1e-9) {
			t.Errorf("%g: %v, want %v", p[i], got[i], want[i])
		}
		if got[i] <= 0.05 {
			told++
		}
	}
	if told != 4 {
		t.Errorf("%d are told, printed: four", told)
	}
}

// In any order: adjusted values are at least p, at most 1, in the order of p, and the largest does
// not change.
func TestAdjustedOfAny(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		p := rapid.SliceOfN(rapid.Float64Range(0, 1), 1, 30).Draw(r, "p")
		got := Adjusted(p)
		for i := range p {
			if got[i] < p[i] || got[i] > 1 {
				r.Fatalf("%v of %v", got, p)
			}
			for k := range p {
				if p[i] < p[k] && got[i] > got[k] {
					r.Fatalf("%v of %v", got, p)
				}
			}
		}
		if most := slices.Max(p); !near(slices.Max(got), most, 1e-12) {
			r.Fatalf("%v of %v", got, p)
		}
	})
	if len(Adjusted(nil)) != 0 {
		t.Error("none")
	}
}

// Twenty streams without a trend and one with a p of 0.03: significant alone, not among them; the
// total is a separate test.
func TestManyStreamsAreJudgedTogether(t *testing.T) {
	acres := []float64{1, 2, 3, 4, 5, 6, 7, 8}
	batches := totals(t, "2024Q1", acres...)
	for k := range batches {
		for s := range 20 {
			row := Row{Scope: "waterBody", Name: string(rune('a' + s)), Figures: batches[k].Rows[0].Figures}
			if s > 0 { // up and down by about the same
				row.Figures[Infested] = int64((k*7 + s*3) % 5)
			}
			batches[k].Rows = append(batches[k].Rows, row)
		}
	}
	h, err := Assemble(batches, DefaultRules())
	if err != nil {
		t.Fatal(err)
	}
	total, stream := h.Trend(0, Infested), h.Trend(1, Infested)
	if total.Direction != Rising || total.Adjusted != total.Test.P || stream.Test.P != total.Test.P {
		t.Errorf("total: %s", total.Words())
	}
	if stream.Direction != NoTrend || stream.Words() != "no trend shown: +4.00 acres a year, p = 0.014, but 0.28 when corrected for 20 tests" {
		t.Errorf("stream: %s", stream.Words())
	}
}
