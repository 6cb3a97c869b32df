package stretch

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/internal/drift"
	"driftreach/internal/survey"
)

// of is a stretch with a length in metres and an exposure per kilometre.
func of(id string, length geo.Meters, perKm drift.Amount) Stretch {
	return Stretch{ID: id, Length: length, Exposure: perKm.Over(length.Kilometers())}
}

// told lists the stretches' ids, the list first, then a bar and the others.
func told(all []Stretch) (out string) {
	for i := range all {
		if i > 0 && all[i-1].Listed && !all[i].Listed {
			out += "| "
		}
		out += all[i].ID + " "
	}
	return out
}

// Every list here is worked out by hand: ten stretches of 100 m, of which half is listed unless it says
// otherwise.
func TestListsByHand(t *testing.T) {
	ten := func(change func(all []Stretch)) []Stretch {
		var all []Stretch
		for i := range 10 {
			all = append(all, of(fmt.Sprint(i), 100, drift.Amount(9-i)))
		}
		if change != nil {
			change(all)
		}
		return all
	}
	settings := func(list, places geo.Share) Settings {
		s := DefaultSettings()
		s.ListShare, s.PlacesShare = list, places
		return s
	}
	for _, tt := range []struct {
		name string
		all  []Stretch
		s    Settings
		want string
	}{
		{"by exposure alone", ten(nil), settings(0.5, 0), "0 1 2 3 4 | 5 6 7 8 9 "},
		// 240 m come nearest to 200, 260 m to 300
		{"to the nearest stretch below", ten(nil), settings(0.24, 0), "0 1 | 2 3 4 5 6 7 8 9 "},
		{"to the nearest stretch above", ten(nil), settings(0.26, 0), "0 1 2 | 3 4 5 6 7 8 9 "},
		{"one at least", ten(nil), settings(0.001, 0), "0 | 1 2 3 4 5 6 7 8 9 "},
		{"all of it", ten(nil), settings(1, 0), "0 1 2 3 4 5 6 7 8 9 "},
		// 8 is drawn: one of five, so that it comes after two of the four others, whose share is met first
		{"drawn", ten(func(all []Stretch) { all[8].Draw = 1 }), settings(0.5, 0), "0 8 1 2 3 | 4 5 6 7 9 "},
		{"drawn, and of the highest ones anyway", ten(func(all []Stretch) { all[1].Draw = 1 }), settings(0.5, 0), "0 1 2 3 4 | 5 6 7 8 9 "},
		// two of five may be above a stand: 7 and 9 of the three, in their order of rank
		{"above stands", ten(func(all []Stretch) { all[7].Above, all[8].Works, all[9].Above = true, []int32{3}, true }), settings(0.5, 0.4),
			"0 7 1 8 2 | 3 9 4 5 6 "},
		// one above a stand, one at a head, one above a stand: three of five turns, and three of five of those behind
		{"every second one a head", ten(func(all []Stretch) { all[4].Above, all[5].Above, all[7].Head, all[9].Head = true, true, true, true }), settings(0.5, 0.6),
			"0 4 7 1 5 | 2 9 3 6 8 "},
		{"those unseen for longest first", ten(func(all []Stretch) {
			all[5].Above, all[5].Last = true, Look{Looked, q2}
			all[7].Above, all[7].Last = true, Look{Looked, q1}
			all[9].Above, all[9].Last = true, Look{Unknown, q4}
		}), settings(0.2, 0.5), "0 9 | 1 7 2 5 3 4 6 8 "},
	} {
		all := inOrder(tt.all, tt.s)
		if got := told(all); got != tt.want {
			t.Errorf("%s: %s, want %s", tt.name, got, tt.want)
		}
	}
	if got := inOrder(nil, DefaultSettings()); len(got) != 0 {
		t.Errorf("%d stretches of none", len(got))
	}
}

// The rules of the package comment, for any stretches: none is lost, the list comes first, all that
// were drawn are on it, and it is full to within a stretch. Of two that only their exposure puts
// there, the one with more per kilometre comes first, on the list and behind it.
func TestListsKeepTheRules(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		all := make([]Stretch, rapid.IntRange(1, 30).Draw(t, "stretches"))
		total, longest := 0.0, 0.0
		for i := range all {
			all[i] = of(fmt.Sprintf("s/%02d", i), geo.Meters(rapid.IntRange(100, 1000).Draw(t, "length")), drift.Amount(rapid.IntRange(0, 9).Draw(t, "exposure")))
			all[i].Above, all[i].Head = rapid.IntRange(0, 3).Draw(t, "above") == 0, rapid.IntRange(0, 3).Draw(t, "head") == 0
			all[i].Last = Look{Looked, survey.Quarter{Year: 2026, Number: int8(rapid.IntRange(1, 4).Draw(t, "quarter"))}}
			total, longest = total+float64(all[i].Length), max(longest, float64(all[i].Length))
		}
		s := DefaultSettings()
		s.ListShare = geo.Share(rapid.Float64Range(0.05, 1).Draw(t, "list"))
		s.PlacesShare = geo.Share(rapid.Float64Range(0, 0.5).Draw(t, "places"))
		s.RandomShare = geo.Share(rapid.Float64Range(0, 0.5).Draw(t, "random"))
		sample(all, s)
		out := inOrder(slices.Clone(all), s)
		var seen []string
		listed, random := 0.0, 0.0
		for i := range out {
			one := &out[i]
			seen = append(seen, one.ID)
			if one.Listed {
				listed += float64(one.Length)
			} else if one.Draw > 0 {
				t.Errorf("%s was drawn and is not on the list", one.ID)
			}
			if one.Draw > 0 {
				random += float64(one.Length)
			}
			if i > 0 && one.Listed && !out[i-1].Listed {
				t.Errorf("%s is on the list behind one that is not", one.ID)
			}
			for k := range i {
				first, plain := &out[k], func(s *Stretch) bool { return !s.Above && !s.Head && s.Draw == 0 }
				if plain(first) && plain(one) && first.PerKm() < one.PerKm() {
					t.Errorf("%s of %g comes before %s of %g", first.ID, first.PerKm(), one.ID, one.PerKm())
				}
			}
		}
		if want := max(float64(s.ListShare)*total, random); math.Abs(listed-want) > 2*longest {
			t.Errorf("%g m are listed, want %g", listed, want)
		}
		slices.Sort(seen)
		for i := range all {
			if seen[i] != all[i].ID {
				t.Errorf("%v are not all", seen)
				break
			}
		}
	})
}

// By hand: of one rank and another the first difference counts, from the exposure per kilometre to
// the id.
func TestRankByHand(t *testing.T) {
	base := func(change func(s *Stretch)) *Stretch {
		s := Stretch{ID: "b", Length: 500, Exposure: 2, Now: 1, Last: Look{Looked, q2}}
		change(&s)
		return &s
	}
	ranked := []*Stretch{
		base(func(s *Stretch) { s.Length, s.Last = 400, Look{Looked, q4} }), // 5 per km
		base(func(s *Stretch) { s.Last, s.Now = Look{Never, q4}, 0 }),
		base(func(s *Stretch) { s.Last, s.Now = Look{Unknown, q1}, 0 }),
		base(func(s *Stretch) { s.Last, s.Now = Look{Unknown, q4}, 0 }),
		base(func(s *Stretch) { s.Last, s.Now = Look{Looked, q1}, 0 }),
		base(func(s *Stretch) { s.Length, s.Exposure, s.Now = 250, 1, 0.6 }), // 2.4 now per km
		base(func(s *Stretch) { s.ID = "a" }),
		base(func(s *Stretch) {}),
		base(func(s *Stretch) { s.Exposure, s.Last = 1.9, Look{Never, q1} }),
	}
	for i, a := range ranked {
		for k, b := range ranked {
			if got, want := byExposure(a, b), cmp3(i, k); sign(got) != want {
				t.Errorf("%d and %d: %d, want %d", i, k, got, want)
			}
		}
	}
}

func cmp3(a, b int) int { return sign(a - b) }

func sign(v int) int { return min(1, max(-1, v)) }

// Queues take turns by their share of the metres: by hand, two of three turns for the one with twice
// the weight, a tie to the first.
func TestTurns(t *testing.T) {
	l := &list{all: []Stretch{{Length: 100}, {Length: 100}, {Length: 100}, {Length: 100}, {Length: 200}, {Length: 100}}}
	var got []int
	l.turns(func(i int) { got = append(got, i) }, &queue{rows: []int{0, 1, 2, 3}, weight: 2}, &queue{rows: []int{4, 5}, weight: 1})
	// after 0 the second has had nothing; its 200 m are worth four of the first's turns
	if diff := cmp.Diff([]int{0, 4, 1, 2, 3, 5}, got); diff != "" {
		t.Errorf("turns (-want +got):\n%s", diff)
	}
	if q := l.queue([]int{3, 4}); q.weight != 300 || q.done != 0 {
		t.Errorf("a queue of 300 m weighs %g", q.weight)
	}
}

// The sample is of a share of the list's share of all, rounded; one at least unless none is wanted. It
// depends on ids and seed alone, and not on the order.
func TestSampleByHand(t *testing.T) {
	for _, tt := range []struct {
		stretches    int
		list, random geo.Share
		drawn        int
	}{{100, 0.1, 0.2, 2}, {124, 0.1, 0.2, 2}, {126, 0.1, 0.2, 3}, {3, 0.1, 0.2, 1}, {1, 1, 1, 1}, {7, 1, 1, 7}, {50, 0.5, 0, 0}, {0, 0.5, 0.5, 0}} {
		all := make([]Stretch, tt.stretches)
		for i := range all {
			all[i].ID = fmt.Sprintf("s/%03d", i)
		}
		s := DefaultSettings()
		s.ListShare, s.RandomShare = tt.list, tt.random
		turned := slices.Clone(all)
		slices.Reverse(turned)
		sample(all, s)
		sample(turned, s)
		var numbers []int
		for i := range all {
			if all[i].Draw != turned[len(all)-1-i].Draw {
				t.Errorf("%s has number %d, and %d in another order", all[i].ID, all[i].Draw, turned[len(all)-1-i].Draw)
			}
			if all[i].Draw > 0 {
				numbers = append(numbers, int(all[i].Draw))
			}
			if want := float64(tt.drawn) / float64(tt.stretches); all[i].Chance != want {
				t.Errorf("chance %g, want %g", all[i].Chance, want)
			}
		}
		slices.Sort(numbers)
		for i, n := range numbers {
			if n != i+1 {
				t.Errorf("%+v: numbers %v", tt, numbers)
				break
			}
		}
		if len(numbers) != tt.drawn {
			t.Errorf("%+v: %d drawn", tt, len(numbers))
		}
	}
}
