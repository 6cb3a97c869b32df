package disjoint

import (
	"math/rand/v2"
	"sync"
	"testing"
)

// TestSharedIsSets: unions made by several goroutines at once give the same sets as the same unions
// made one after another, in any order.
func TestSharedIsSets(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for range 40 {
		n := 1 + random.IntN(2000)
		unions := make([][2]int32, random.IntN(2*n))
		want := NewSets(n)
		for i := range unions {
			unions[i] = [2]int32{random.Int32N(int32(n)), random.Int32N(int32(n))}
			want.Union(unions[i][0], unions[i][1])
		}
		got := NewShared(n)
		var all sync.WaitGroup
		for worker := range 4 {
			all.Go(func() {
				for i := worker; i < len(unions); i += 4 {
					got.Union(unions[i][0], unions[i][1])
				}
			})
		}
		all.Wait()
		for i := range int32(n) {
			if got.Find(i) != want.Find(i) {
				t.Fatalf("%d of %d: set of %d, want %d", i, n, got.Find(i), want.Find(i))
			}
		}
	}
}
