package disjoint

import (
	"testing"

	"pgregory.net/rapid"
)

// TestSets: after any unions, two numbers are in the same set exactly if a chain of unions connects
// them, and the smallest number represents the set.
func TestSets(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 20).Draw(t, "n")
		s := NewSets(n)
		beside := make([][]int32, n)
		number := rapid.Int32Range(0, int32(n-1))
		for range rapid.IntRange(0, 30).Draw(t, "unions") {
			a, b := number.Draw(t, "a"), number.Draw(t, "b")
			apart := s.Read(a) != s.Read(b)
			if s.Union(a, b) != apart {
				t.Fatalf("the union of %d and %d does not say whether they were apart", a, b)
			}
			beside[a], beside[b] = append(beside[a], b), append(beside[b], a)
		}
		for start := range int32(n) {
			smallest, seen, open := start, make([]bool, n), []int32{start}
			for len(open) > 0 {
				x := open[len(open)-1]
				if open = open[:len(open)-1]; seen[x] {
					continue
				}
				seen[x], smallest, open = true, min(smallest, x), append(open, beside[x]...)
			}
			if s.Read(start) != smallest || s.Find(start) != smallest {
				t.Fatalf("%d stands for the set of %d, want %d", s.Find(start), start, smallest)
			}
		}
	})
}
