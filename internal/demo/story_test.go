package demo

import (
	"bytes"
	"encoding/csv"
	"slices"
	"strings"
	"testing"
)

// coloniesOf returns the colonies of a seed.
func coloniesOf(seed uint64) ([]colony, country) {
	land := settle(seed)
	return colonise(dice(seed, 2), land), land
}

func TestHistoriesAreConsistent(t *testing.T) {
	// The states that may follow each state in the next quarter, derived by hand.
	allowed := map[state][]state{
		unseen:   {unseen, live},
		live:     {live, treated, gone},
		treated:  {dead, sprouted},
		dead:     {dead, sprouted, gone},
		sprouted: {sprouted, treated, gone},
		gone:     {gone, sprouted},
	}
	for _, seed := range seeds {
		colonies, _ := coloniesOf(seed)
		for _, c := range colonies {
			for _, p := range c.patches {
				for q := 1; q < quarters; q++ {
					if !slices.Contains(allowed[p.past[q-1]], p.past[q]) {
						t.Errorf("seed %d: %s goes from %c to %c", seed, c.name, p.past[q-1], p.past[q])
					}
				}
			}
		}
	}
}

func TestOnlySomePatchesResprout(t *testing.T) {
	s := settlement{r: dice(1, 99)}
	s.add(colony{walk: "ORV", patches: make([]patch, 9)}, firstWork)
	// Derived by hand: three of nine resprout, and are looked for at the places
	// numbered by threes once they are long gone.
	want := [quarters]string{
		"LLLLLLLLL", "LLLLLLLLL", "TTTTTTTTT", "DDDDDDDDD", "SSSDDDDDD", "TTTXXXXXX", "DDDX..X..", "XXXX..X..",
	}
	for q := range want {
		for k, s2 := range want[q] {
			if got := s.all[0].stateOf(k, q); got != state(s2) {
				t.Errorf("quarter %d patch %d is %c, want %c", q, k, got, s2)
			}
		}
	}
}

func TestMissedWalksHaveNoRecords(t *testing.T) {
	s := settlement{r: dice(1, 99)}
	s.add(colony{walk: "VES", patches: make([]patch, 3)}, leftAlone)
	for q, want := range "LLLLL..L" {
		if got := s.all[0].stateOf(1, q); got != state(want) {
			t.Errorf("quarter %d is %c, want %c", q, got, want)
		}
	}
}

// Nobody does control work where nobody went.
func TestNoWorkOnMissedWalks(t *testing.T) {
	for _, seed := range seeds {
		colonies, _ := coloniesOf(seed)
		for _, c := range colonies {
			for _, p := range c.patches {
				for q := range quarters {
					if c.story.works(p.past, q) && !visited(c.walk, q) {
						t.Errorf("seed %d: work on %s in %s", seed, c.name, calendar[q].name)
					}
				}
			}
		}
	}
}

func TestYoungColoniesLieBelowLiveOnes(t *testing.T) {
	for _, seed := range seeds {
		all, _ := coloniesOf(seed)
		young := 0
		for _, c := range all {
			if c.patches[0].past[0] != unseen || c.story == foundSummer {
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
		colonies, _ := coloniesOf(seed)
		for _, c := range colonies {
			for _, p := range c.patches {
				// 10 square metres: the program's own limit for pulling by hand.
				if c.story.hand && p.areaIn(quarters-1) > 10 {
					t.Errorf("seed %d: %.0f square metres on %s were pulled", seed, p.area, c.place)
				}
			}
		}
	}
}

func TestPatchesGrowWhileTheyLive(t *testing.T) {
	p := patch{area: 100, past: past("LLLLTDSX")}
	// Derived by hand: a third more in a year, then constant; a third of it resprouts.
	for q, want := range map[int]float64{0: 100, 4: 133, 5: 133, 6: 0.33 * 133} {
		if got := p.areaIn(q); got < want-1e-9 || got > want+1e-9 {
			t.Errorf("quarter %d: %g, want %g", q, got, want)
		}
	}
}

func TestDryLandIsDry(t *testing.T) {
	for _, seed := range seeds {
		colonies, land := coloniesOf(seed)
		for _, c := range colonies {
			if c.code != "" {
				continue
			}
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
	colonies, land := coloniesOf(1)
	near, all := 0, 0
	for _, c := range colonies {
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
	for _, seed := range seeds {
		colonies, land := coloniesOf(seed)
		for q := range quarters {
			table, err := csv.NewReader(bytes.NewReader(writeTreatments(land, colonies, q))).ReadAll()
			if err != nil {
				t.Fatal(err)
			}
			want := 0
			for _, c := range colonies {
				if slices.ContainsFunc(c.patches, func(p patch) bool { return c.story.works(p.past, q) }) {
					want++
				}
			}
			if got := len(table) - 1; got != want || got == 0 {
				t.Errorf("seed %d %s: %d treatments, the stories tell of %d", seed, calendar[q].name, got, want)
			}
			for _, cells := range table[1:] {
				if acres := number(t, cells[6]); acres <= 0 || acres > 3 {
					t.Errorf("treated %g acres on %s", acres, cells[0])
				}
				row := strings.Join(cells, ",")
				if sprayed := cells[5] != "none"; sprayed != strings.HasPrefix(cells[7], "Invented ") || sprayed != strings.Contains(cells[8], "INVENTED") || sprayed != (cells[9] != "") {
					t.Errorf("a product that is not invented, or none, or one too many: %s", row)
				}
				if hours := number(t, cells[17]); cells[13] >= cells[14] || hours <= 0 || hours > 8 {
					t.Errorf("hours that cannot be: %s", row)
				}
			}
		}
	}
}

func TestWorksLieAhead(t *testing.T) {
	all := 0
	for q, files := range made(1).Quarters {
		features := readMap(t, files.Works)
		all += len(features)
		for _, f := range features {
			begin, end := f.Properties["start_date"].(string), f.Properties["end_date"].(string)
			next := calendar[q].first.AddDate(0, 3, 0).Format("2006-01-02")
			if begin > end || begin < next || strings.Compare(end[:4], "2027") > 0 {
				t.Errorf("%v runs from %s to %s", f.Properties["work_id"], begin, end)
			}
		}
	}
	if all != len(jobs) {
		t.Errorf("%d works, want %d", all, len(jobs))
	}
}
