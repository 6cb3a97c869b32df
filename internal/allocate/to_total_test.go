package allocate

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// Derived by hand.
func TestToTotalByHand(t *testing.T) {
	for _, c := range []struct {
		name          string
		total, step   int64
		amounts, most []int64
		want          []int64
	}{
		{"nothing to round", 60, 10, []int64{10, 20, 30}, nil, []int64{10, 20, 30}},
		{"the largest remainder gets the rest", 100, 10, []int64{14, 17, 66}, nil, []int64{10, 20, 70}},
		{"of equals the first", 20, 10, []int64{5, 5, 5, 5}, nil, []int64{10, 10, 0, 0}},
		{"nought stays nought", 10, 10, []int64{0, 4, 0, 6}, nil, []int64{0, 0, 0, 10}},
		{"below nought", 0, 10, []int64{-14, 17, -3}, nil, []int64{-20, 20, 0}},
		{"at most", 30, 10, []int64{19, 11}, []int64{10, 20}, []int64{10, 20}},
		{"one step under what needs no rounding", 20, 10, []int64{10, 20}, nil, []int64{10, 10}},
	} {
		if d := cmp.Diff(c.want, ToTotal(c.total, c.amounts, c.step, c.most)); d != "" {
			t.Errorf("%s: %s", c.name, d)
		}
	}
}

// Parts add up to the rounded sum and stay within a step of their amounts.
func TestToTotalAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		step := rapid.SampledFrom([]int64{1, 10, 1000, 100_000}).Draw(t, "step")
		amounts := rapid.SliceOfN(rapid.Int64Range(-1e12, 1e12), 1, 20).Draw(t, "amounts")
		exact := int64(0)
		for _, a := range amounts {
			exact += a
		}
		total, sum := Round(exact, step), int64(0)
		for k, part := range ToTotal(total, amounts, step, nil) {
			sum += part
			if d := part - amounts[k]; d <= -step || d >= step || part%step != 0 {
				t.Fatalf("part %d is %d of %d", k, part, amounts[k])
			}
		}
		if sum != total {
			t.Fatalf("%d of %d", sum, total)
		}
	})
}
