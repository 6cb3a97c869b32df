package lineage

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/internal/survey"
)

// history is a constructed story: the records of each quarter from 2026Q1, and what the last step
// must report, derived by hand. Blocks of plants are far apart unless they are meant to meet.
type history struct {
	name  string
	steps []quarterOf
	want  string
}

func TestConstructedHistories(t *testing.T) {
	for _, test := range append(linkedHistories(), visitedHistories()...) {
		t.Run(test.name, func(t *testing.T) {
			c := newChain(t)
			var got string
			for _, e := range test.steps {
				l, _ := c.step(e)
				got = c.told(l)
			}
			if got != test.want {
				t.Errorf("got  %s\nwant %s", got, test.want)
			}
		})
	}
}

// linkedHistories are stories about the identity of stands.
func linkedHistories() []history {
	return []history{
		{"a first quarter", []quarterOf{{Records: records(append(patch(0, 0, 3, 3), patch(500, 0, 3, 3)...)...)}},
			"2026Q1-0001 first looked at; 2026Q1-0002 first looked at"},
		{"the same again", []quarterOf{{Records: records(patch(0, 0, 3, 3)...)}, {Records: records(patch(0, 0, 3, 3)...)}},
			"2026Q1-0001 kept 2026Q1-0001"},
		{"growth", []quarterOf{{Records: records(patch(0, 0, 3, 3)...)}, {Records: records(patch(0, 0, 6, 3)...)}},
			"2026Q1-0001 grown 2026Q1-0001"},
		{"shrinking after treatment", []quarterOf{{Records: records(patch(0, 0, 6, 3)...)}, {Records: records(patch(20, 0, 3, 3)...)}},
			"2026Q1-0001 shrunk 2026Q1-0001"},
		{"a new one beside", []quarterOf{{Records: records(patch(0, 0, 3, 3)...)}, {Records: records(append(patch(0, 0, 3, 3), patch(300, 0, 3, 3)...)...)}},
			"2026Q1-0001 kept 2026Q1-0001; 2026Q2-0001 first looked at"},
		{"two grown together", []quarterOf{
			{Records: records(append(patch(0, 0, 3, 3), patch(100, 0, 6, 3)...)...)},
			{Records: records(patch(0, 0, 16, 3)...)},
		}, "2026Q1-0002 merged 2026Q1-0001+2026Q1-0002"},
		{"three grown together", []quarterOf{
			{Records: records(slices.Concat(patch(0, 0, 3, 3), patch(100, 0, 6, 3), patch(0, 100, 4, 3))...)},
			{Records: records(append(patch(0, 0, 16, 3), patch(0, 30, 3, 10)...)...)},
		}, "2026Q1-0002 merged 2026Q1-0001+2026Q1-0002+2026Q1-0003"},
		{"fallen in two", []quarterOf{
			{Records: records(patch(0, 0, 16, 3)...)},
			{Records: records(append(patch(0, 0, 3, 3), patch(100, 0, 6, 3)...)...)},
		}, "2026Q1-0001 split 2026Q1-0001; 2026Q2-0001 split 2026Q1-0001"},
		{"fallen in three", []quarterOf{
			{Records: records(patch(0, 0, 30, 3)...)},
			{Records: records(slices.Concat(patch(0, 0, 3, 3), patch(100, 0, 6, 3), patch(250, 0, 4, 3))...)},
		}, "2026Q1-0001 split 2026Q1-0001; 2026Q2-0001 split 2026Q1-0001; 2026Q2-0002 split 2026Q1-0001"},
		// A (columns 0 to 8) and B (columns 16 to 30); the left of A stays, its right has grown
		// together with B, which is larger
		{"one split and one merged at once", []quarterOf{
			{Records: records(append(patch(0, 0, 9, 3), patch(160, 0, 15, 3)...)...)},
			{Records: records(append(patch(0, 0, 3, 3), patch(60, 0, 25, 3)...)...)},
		}, "2026Q1-0001 split 2026Q1-0001; 2026Q1-0002 merged and split 2026Q1-0001+2026Q1-0002"},
	}
}

// visitedHistories are stories about stands that were surveyed, or were not.
func visitedHistories() []history {
	block := records(patch(0, 0, 3, 3)...) // its middle at 10, 10
	gone := searched(orb.Point{10, 10}, 40)
	return []history{
		{"looked for and not found", []quarterOf{{Records: block}, {Records: gone}}, "2026Q1-0001 not detected"},
		{"looked for at one corner", []quarterOf{{Records: block}, {Records: blank(orb.Point{20, 20})}}, "2026Q1-0001 partly not detected"},
		{"looked for at one corner and then the other", []quarterOf{
			{Records: block}, {Records: blank(orb.Point{20, 20}, orb.Point{20, 5})}, {Records: blank(orb.Point{0, 5}, orb.Point{0, 20})},
		}, "2026Q1-0001 not detected"},
		{"nobody went there", []quarterOf{
			{Records: records(append(patch(0, 0, 3, 3), patch(900, 0, 3, 3)...)...)}, {Records: records(patch(900, 0, 3, 3)...)},
		}, "2026Q1-0001 not resurveyed; 2026Q1-0002 kept 2026Q1-0002"},
		{"nobody went anywhere", []quarterOf{{Records: block}, {}}, "2026Q1-0001 not resurveyed"},
		{"a quarter missed, then seen", []quarterOf{{Records: block}, {}, {}, {Records: records(patch(0, 0, 3, 3)...)}}, "2026Q1-0001 kept 2026Q1-0001"},
		{"found again", []quarterOf{{Records: block}, {Records: gone}, {}, {Records: records(patch(10, 10, 2, 2)...)}}, "2026Q1-0001 found again 2026Q1-0001"},
		{"not found a second time", []quarterOf{{Records: block}, {Records: gone}, {Records: gone}}, "2026Q1-0001 not detected"},
		{"new where somebody looked before", []quarterOf{
			{Records: append(records(patch(0, 0, 3, 3)...), searched(orb.Point{300, 10}, 40)...)},
			{Records: records(append(patch(0, 0, 3, 3), patch(290, 0, 3, 3)...)...)},
		}, "2026Q1-0001 kept 2026Q1-0001; 2026Q2-0001 new"},
		// a small patch whose position moved by 12 m: no common ground
		{"moved by less than the join distance", []quarterOf{{Records: records(plant{0, 0, 9})}, {Records: records(plant{12, 0, 9})}},
			"2026Q1-0001 kept 2026Q1-0001"},
		{"moved by more", []quarterOf{{Records: records(plant{0, 0, 9})}, {Records: records(plant{40, 0, 9})}},
			"2026Q1-0001 not resurveyed; 2026Q2-0001 first looked at"},
		// two lone plants 20 m apart of which one was pulled
		{"one of two neighbours gone", []quarterOf{
			{Records: records(plant{0, 0, 100}, plant{20, 0, 100})}, {Records: records(plant{1, 0, 100})},
		}, "2026Q1-0001 kept 2026Q1-0001; 2026Q1-0002 not resurveyed"},
		{"an absent one in the ground of a growing one", []quarterOf{
			{Records: records(append(patch(0, 0, 3, 3), patch(100, 0, 3, 3)...)...)},
			{Records: append(records(patch(0, 0, 3, 3)...), searched(orb.Point{110, 10}, 40)...)},
			{Records: records(patch(0, 0, 13, 3)...)},
		}, "2026Q1-0001 merged 2026Q1-0001+2026Q1-0002"},
	}
}

// The identity of a stand merged into another is not used again, whatever happens there later.
func TestMergedIdentityStaysRetired(t *testing.T) {
	c := newChain(t)
	c.step(quarterOf{Records: records(append(patch(0, 0, 3, 3), patch(100, 0, 6, 3)...)...)})
	c.step(quarterOf{Records: records(patch(0, 0, 16, 3)...)})
	l, _ := c.step(quarterOf{Records: records(append(patch(0, 0, 3, 3), patch(100, 0, 6, 3)...)...)})
	if got, want := c.told(l), "2026Q1-0002 split 2026Q1-0002; 2026Q3-0001 split 2026Q1-0002"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

// The result depends on the stands, not on the order of records or the number of workers.
func TestTheSameInAnyOrder(t *testing.T) {
	dice := rand.New(rand.NewPCG(1, 2))
	var plants []plant
	for range 300 {
		plants = append(plants, plant{3000 * dice.Float64(), 3000 * dice.Float64(), 20 + 200*dice.Float64()})
	}
	run := func(workers int, shuffled bool) string {
		c := newChain(t)
		c.workers = workers
		var all string
		own := rand.New(rand.NewPCG(3, 4))
		for q := range 4 {
			rec := records(scatter(own, plants[:250+10*q], 3)...)
			if shuffled {
				dice.Shuffle(len(rec), func(i, j int) { rec[i], rec[j] = rec[j], rec[i] })
			}
			l, _ := c.step(quarterOf{Records: rec})
			all += c.told(l) + "\n"
		}
		return all
	}
	want := run(1, false)
	if run(8, false) != want || run(2, true) != want {
		t.Error("the answer depends on the order of records or on the workers")
	}
}

// Stands astride the antimeridian are followed like others.
func TestAcrossTheAntimeridian(t *testing.T) {
	c := newChain(t)
	at := func(lon float64) survey.Record {
		return survey.Record{ID: "a", Detected: true, PatchArea: 2000, Cover: 50, Position: orb.Point{lon, 10}}
	}
	c.step(quarterOf{Records: []survey.Record{at(179.99999)}})
	l, _ := c.step(quarterOf{Records: []survey.Record{at(-179.99995)}})
	if got, want := c.told(l), "2026Q1-0001 kept 2026Q1-0001"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}
