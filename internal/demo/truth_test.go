package demo

import (
	"slices"
	"testing"

	"github.com/paulmach/orb"
)

// groups returns how many stands a colony's plants form in a quarter if every position is exact:
// plants within the join distance belong together.
func (c colony) groups(quarter int, join float64) int {
	var at []orb.Point
	for _, p := range c.patches {
		if !slices.Contains([]state{unseen, gone}, p.past[quarter]) {
			at = append(at, p.at)
		}
	}
	n := 0
	for len(at) > 0 {
		n++
		reached := at[:1]
		at = at[1:]
		for i := 0; i < len(reached); i++ {
			at = slices.DeleteFunc(slices.Clone(at), func(p orb.Point) bool {
				near := span(p, reached[i]) < join
				if near {
					reached = append(slices.Clip(reached), p)
				}
				return near
			})
		}
	}
	return n
}

// The places of a colony agree with its description: one group, with some metres to spare for
// position errors; two groups, with more than that between them, if it has split.
func TestColoniesStandAsTheyAreTold(t *testing.T) {
	for _, seed := range seeds {
		colonies, _ := coloniesOf(seed)
		for i, c := range colonies {
			for q := range quarters {
				want := 1
				if c.parted > 0 && q >= c.parted {
					want = 2
				}
				if c.groups(q, 1) == 0 {
					continue
				}
				if tight, loose := c.groups(q, 27), c.groups(q, 40); tight != want || loose != want {
					t.Errorf("seed %d %s: %s stands in %d to %d, want %d", seed, calendar[q].name, c.name, loose, tight, want)
				}
			}
			for j, other := range colonies[:i] {
				d := distance(c.patches, other.patches)
				if joined := c.joined > 0 && c.joins == j; joined != (d < 30) || !joined && d < apart {
					t.Errorf("seed %d: %s and %s are %.0f m apart", seed, c.name, other.name, d)
				}
			}
		}
	}
}

// The demo that users run has every kind of event.
func TestEverythingHappens(t *testing.T) {
	type kind struct{ before, now Sight }
	seen := map[kind]int{}
	joined, parted := 0, 0
	for _, c := range made(1).Truths {
		if c.Joined > 0 {
			joined++
		}
		if c.Parted > 0 {
			parted++
		}
		for q := 1; q < quarters; q++ {
			seen[kind{c.Sights[q-1], c.Sights[q]}]++
		}
	}
	for _, k := range []kind{{Unknown, Found}, {Found, Missed}, {Missed, Missed}, {Missed, Found}, {Found, Searched}, {Searched, Found}} {
		if seen[k] == 0 {
			t.Errorf("from %d to %d never happens", k.before, k.now)
		}
	}
	if joined != len(pairs) || parted != len(partings) {
		t.Errorf("%d grow together and %d fall apart, want %d and %d", joined, parted, len(pairs), len(partings))
	}
}

func TestSightsOfOneColonyByHand(t *testing.T) {
	s := settlement{r: dice(1, 99)}
	s.add(colony{walk: "VES", patches: make([]patch, 1)}, pulledBy("..LLLXXX"))
	want := []Sight{Unknown, Unknown, Found, Found, Found, Missed, Missed, Searched}
	if got := truths(s.all)[0].Sights; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

// Each row lies where its colony is.
func TestRowsAreOfTheirColonies(t *testing.T) {
	colonies, _ := coloniesOf(1)
	at := map[string][]patch{}
	for _, c := range colonies {
		at[c.name] = c.patches
	}
	for _, q := range made(1).Quarters {
		points := seenPoints(t, q.Points)
		if len(points) != len(q.Colonies) {
			t.Fatalf("%s: %d rows, %d colonies", q.Quarter, len(points), len(q.Colonies))
		}
		for i, p := range points {
			place := ground.Forward(orb.Point{number(t, p.row["decimalLongitude"]), number(t, p.row["decimalLatitude"])})
			// five standard deviations of the receiver, in both directions
			if d := distance(at[q.Colonies[i]], []patch{{at: place}}); d > 20 {
				t.Errorf("%s: %s lies %.0f m from %s", q.Quarter, p.row["occurrenceID"], d, q.Colonies[i])
			}
		}
	}
}
