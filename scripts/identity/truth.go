package main

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"driftreach/geo"
	"driftreach/internal/lineage"
	"driftreach/internal/result"
)

// tally compares chains with the truth. In acres, except for counts.
type tally struct {
	right, pairs float64 // pairs of a known and a mapped stand, or of one with none: reported correctly, and reported or true
	acres        float64 // mapped, summed over all quarters but the first

	notDetected float64 // reported not detected, of stands that were there and surveyed
	isNew       float64 // reported new or first surveyed, of stands that were known
	carried     float64 // carried, of places that somebody visited
	told, gone  float64 // reported not detected of stands that were gone, and gone
	observed    float64 // absolute difference of observed and true change

	within, intervals float64 // true observed changes within P10 to P90, and number of intervals
}

func (t *tally) add(o tally) {
	t.right, t.pairs, t.acres = t.right+o.right, t.pairs+o.pairs, t.acres+o.acres
	t.notDetected, t.isNew, t.carried = t.notDetected+o.notDetected, t.isNew+o.isNew, t.carried+o.carried
	t.told, t.gone, t.observed = t.told+o.told, t.gone+o.gone, t.observed+o.observed
	t.within, t.intervals = t.within+o.within, t.intervals+o.intervals
}

// judge compares a quarter with the truth and stores the true owners of its stands' records.
func (c *chain) judge(now *result.Run, k int, folder string) (tally, error) {
	var t tally
	owners := map[string]string{}
	for i := range now.Stands {
		s := &now.Stands[i]
		owners[s.ID] = c.ownersOf(now, s)
	}
	if now.Previous != nil {
		c.judgeKnown(&t, now, owners, k)
		c.judgeStands(&t, now, owners, k)
		if err := c.judgeSummary(&t, folder, k); err != nil {
			return t, err
		}
	}
	for id, parts := range owners {
		c.stands[id] = parts
	}
	return t, nil
}

// ownersOf returns the places and parts to which the records of a stand belong, each as
// place.letters: those of this quarter's records if there are any.
func (c *chain) ownersOf(now *result.Run, s *result.Stand) string {
	own, carried := map[string]bool{}, map[string]bool{}
	for _, m := range s.Members {
		owner := now.Records.Listed[m].ID[:strings.LastIndexByte(now.Records.Listed[m].ID, '.')]
		if now.CarriedFrom != nil && !now.CarriedFrom[m].IsZero() {
			carried[owner] = true
		} else {
			own[owner] = true
		}
	}
	if len(own) == 0 {
		own = carried
	}
	var names []string
	for name := range own {
		names = append(names, name)
	}
	slices.Sort(names)
	return strings.Join(names, " ")
}

// related says whether two lists of owners share a true stand.
func related(a, b string) bool {
	for _, x := range strings.Fields(a) {
		for _, y := range strings.Fields(b) {
			if x[:3] == y[:3] && shares(x[4:], y[4:]) {
				return true
			}
		}
	}
	return false
}

// there says whether any of the owners' stands exists in a quarter, and whether somebody visited
// it.
func (c *chain) there(owners string, k int) (stands, visited bool) {
	for _, owner := range strings.Fields(owners) {
		place, _ := strconv.Atoi(owner[:3])
		visited = visited || c.family.goes(place, k)
		for _, p := range c.family.parts(c.shapes[place], place, k) {
			stands = stands || shares(p.name, owner[4:])
		}
	}
	return stands, visited
}

// judgeKnown compares what became of known stands with the truth.
func (c *chain) judgeKnown(t *tally, now *result.Run, owners map[string]string, k int) {
	linked := map[[2]int32]bool{}
	for _, link := range now.Previous.Links {
		linked[[2]int32{link.Known, link.Stand}] = true
	}
	for i := range now.Previous.Known {
		known := &now.Previous.Known[i]
		stands, visited := c.there(c.stands[known.ID], k)
		any := false
		for s := range now.Stands {
			if now.Stands[s].Carried() {
				continue
			}
			is, told := related(c.stands[known.ID], owners[now.Stands[s].ID]), linked[[2]int32{int32(i), int32(s)}]
			if is || told {
				t.pairs++
				any = true
			}
			if is && told {
				t.right++
			}
		}
		fate := now.Previous.Fates[i]
		if !any { // without any: it is gone, or nobody went there
			t.pairs++
			if fate == lineage.NotDetected && !stands || fate == lineage.NotResurveyed && !visited {
				t.right++
			}
		}
		if known.Absent {
			continue
		}
		acres := float64(known.Infested.Acres())
		left := 0.0
		if home := now.Previous.Home[i]; fate.Stays() {
			left = float64(now.Stands[home].Infested.Acres())
		}
		if !stands && visited {
			t.gone += acres
		}
		switch {
		case fate == "":
		case !stands && visited:
			t.told += acres - left
		default:
			t.notDetected += acres - left
		}
	}
}

// judgeStands compares the records that stands are made of with the truth.
func (c *chain) judgeStands(t *tally, now *result.Run, owners map[string]string, k int) {
	for i := range now.Stands {
		s := &now.Stands[i]
		t.acres += float64(s.Infested.Acres())
		was := false
		for _, before := range c.stands {
			was = was || related(before, owners[s.ID])
		}
		if was && len(s.Parents) == 0 {
			t.isNew += acresOf(s.Parts.Own)
		} else if was && c.family.given {
			t.isNew += acresOf(s.Parts.FirstLooked)
		}
		if _, visited := c.there(owners[s.ID], k); visited {
			t.carried += acresOf(s.Parts.Carried)
		}
	}
}

func acresOf(grains int64) float64 { return float64(grains) / math.Pow10(geo.GrainDecimals) }

// judgeSummary compares the observed change printed in the summary with the true one.
func (c *chain) judgeSummary(t *tally, folder string, k int) error {
	file, err := os.Open(filepath.Join(folder, "summary.csv"))
	if err != nil {
		return err
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		return err
	}
	figure := func(name string) (float64, bool) {
		at := slices.Index(rows[0], name)
		if at < 0 || rows[1][at] == "" {
			return 0, false
		}
		v, err := strconv.ParseFloat(rows[1][at], 64)
		return v, err == nil
	}
	observed, ok := figure("observed_change_acres")
	if !ok {
		return fmt.Errorf("%s: summary.csv tells no observed change", folder)
	}
	truth := c.change(k)
	t.observed += math.Abs(observed - truth)
	low, is := figure("observed_change_acres_p10")
	high, also := figure("observed_change_acres_p90")
	if is && also {
		t.intervals++
		if low <= truth && truth <= high {
			t.within++
		}
	}
	return nil
}

// change is the true change, in acres, of stands that exist both at the last look and at this one.
func (c *chain) change(k int) float64 {
	sum := 0.0
	for place := range c.shapes {
		last := k - 1
		for last > 0 && !c.family.goes(place, last) {
			last--
		}
		then, now := c.area(place, last), c.area(place, k)
		if c.family.goes(place, k) && then > 0 && now > 0 {
			sum += now - then
		}
	}
	return float64(geo.SquareMeters(sum).Acres())
}

func (c *chain) area(place, k int) float64 {
	sum := 0.0
	for _, p := range c.family.plants(c.shapes[place], place, k) {
		sum += p.area
	}
	return sum
}
