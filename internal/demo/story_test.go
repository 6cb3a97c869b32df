package demo

import (
	"bytes"
	"encoding/csv"
	"slices"
	"testing"
)

func TestHistoriesAreConsistent(t *testing.T) {
	// What may follow what from one quarter to the next, derived by hand.
	allowed := map[state][]state{
		unseen:   {unseen, live},
		live:     {live, treated, gone},
		treated:  {dead},
		dead:     {dead, sprouted},
		sprouted: {treated, gone},
		gone:     {gone, sprouted},
	}
	for _, seed := range seeds {
		land := settle(seed)
		for _, c := range colonise(dice(seed, 2), land) {
			for q := 1; q < len(c.story); q++ {
				if !slices.Contains(allowed[c.story[q-1]], c.story[q]) {
					t.Errorf("seed %d: %s goes from %d to %d", seed, c.place, c.story[q-1], c.story[q])
				}
			}
		}
	}
}

func TestOnlySomePatchesResprout(t *testing.T) {
	c := colony{code: "ORV", story: firstWork, patches: make([]patch, 6)}
	// Derived by hand from the rule of one in three.
	want := [4][6]state{
		{treated, treated, treated, treated, treated, treated},
		{dead, dead, dead, dead, dead, dead},
		{sprouted, dead, dead, sprouted, dead, dead},
		{treated, dead, dead, treated, dead, dead},
	}
	for q := range want {
		for k, s := range want[q] {
			if got := c.patchState(k, q); got != s {
				t.Errorf("quarter %d patch %d is %d, want %d", q, k, got, s)
			}
		}
	}
}

func TestUnvisitedStreamsHaveNoRecords(t *testing.T) {
	c := colony{code: "VES", story: leftAlone, patches: make([]patch, 3)}
	for q, want := range []state{live, live, unseen, live} {
		if got := c.patchState(1, q); got != want {
			t.Errorf("quarter %d is %d, want %d", q, got, want)
		}
	}
}

func TestYoungColoniesLieBelowLiveOnes(t *testing.T) {
	for _, seed := range seeds {
		land := settle(seed)
		all := colonise(dice(seed, 2), land)
		young := 0
		for _, c := range all {
			if c.story != foundAutumn && c.story != foundWinter {
				continue
			}
			young++
			below := slices.ContainsFunc(all, func(p colony) bool {
				return p.code == c.code && p.story == leftAlone && p.down < c.down
			})
			if !below {
				t.Errorf("seed %d: a young colony on %s has no live one above it", seed, c.code)
			}
		}
		if young < 3 {
			t.Errorf("seed %d: %d young colonies", seed, young)
		}
	}
}

func TestPulledPlantsAreSmallEnoughForHands(t *testing.T) {
	for _, seed := range seeds {
		for _, c := range colonise(dice(seed, 2), settle(seed)) {
			for _, p := range c.patches {
				// 10 square metres: the program's own limit for pulling by hand.
				if (c.story == pulled || c.story == pulledAgain) && p.area > 10 {
					t.Errorf("seed %d: %.0f square metres on %s were pulled", seed, p.area, c.place)
				}
			}
		}
	}
}

func TestDryLandIsDry(t *testing.T) {
	for _, seed := range seeds {
		land := settle(seed)
		for _, c := range dryLand(dice(seed, 99), land) {
			for _, p := range c.patches {
				for _, course := range land.courses {
					if crowded(course.path, p.at, 150) {
						t.Errorf("seed %d: %s stands within 150 m of %s", seed, c.place, course.name)
					}
				}
			}
		}
	}
}

func TestMostPlantsStandByTheWater(t *testing.T) {
	land := settle(1)
	near, all := 0, 0
	for _, c := range colonise(dice(1, 2), land) {
		for _, p := range c.patches {
			all++
			for _, course := range land.courses {
				// Half the widest river, 28 m of bank, half a vertex step.
				if crowded(course.path, p.at, 55) {
					near++
					break
				}
			}
		}
	}
	if share := float64(near) / float64(all); share < 0.85 || share > 0.97 {
		t.Errorf("%.2f of the plants stand by the water", share)
	}
}

func TestTreatmentsMatchTheStories(t *testing.T) {
	land := settle(1)
	colonies := colonise(dice(1, 2), land)
	table, err := csv.NewReader(bytes.NewReader(writeTreatments(land, colonies))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	want := 0
	for _, c := range colonies {
		for q, s := range c.story {
			pulledNow := q < 3 && c.story[q+1] == gone && s != gone && c.story != washedAway
			if (s == treated || pulledNow) && (c.code == "" || visited(c.code, q)) {
				want++
			}
		}
	}
	if got := len(table) - 1; got != want || got == 0 {
		t.Errorf("%d treatments, the stories tell of %d", got, want)
	}
	for _, cells := range table[1:] {
		if acres := number(t, cells[6]); acres <= 0 || acres > 3 {
			t.Errorf("treated %g acres on %s", acres, cells[0])
		}
	}
}

func TestWorksLieNearAndFar(t *testing.T) {
	s := Make(1)
	features := readMap(t, s.Works)
	if len(features) != len(jobs) {
		t.Fatalf("%d works, want %d", len(features), len(jobs))
	}
	for _, f := range features {
		start, end := f.Properties["start_date"].(string), f.Properties["end_date"].(string)
		if start > end || start <= "2026-09-30" {
			t.Errorf("%v runs from %s to %s", f.Properties["work_id"], start, end)
		}
	}
}
