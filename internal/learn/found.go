package learn

import (
	"math"
	"slices"
	"time"

	"driftreach/geo"
	"driftreach/internal/estimate"
	"driftreach/internal/field"
	"driftreach/internal/followup"
	"driftreach/internal/survey"
)

// Found is how often one look finds a plant that is there.
type Found struct {
	Groups []FindOf
	Used   int            // rows that count
	Aside  map[string]int // number of other rows, by reason
	Clear  []ClearStand   // stands with clear looks, sorted by id
	Looks  int            // number of clear looks needed for the required certainty, from the estimate; 0 if unknown
	Safe   int            // the same from its lower bound; 0 if no number is enough
}

// FindOf is the detection probability of a group of looks.
type FindOf struct {
	By, Of string
	Places int // places found by at least one look and visited by the group
	Find   estimate.Interval
}

// ClearStand is a stand that was looked for and not found.
type ClearStand struct {
	StandID string
	Looks   int // clear looks in a row, up to the last batch
	Years   int // number of them that count in follow-up
	Since   time.Time
	Absent  estimate.Interval // probability that nothing is left
}

// Why a second look does not count.
const (
	asideKnew   = "the second look knew of the first"
	asideSeason = "the two looks are not of one season"
	asideRandom = "outside the random sample of survey_next.csv"
	asideEarly  = "no batch before it has a random sample"
	asideWater  = "no stream near it"
)

// oneSeason is the largest number of days between two looks of one season. Our choice: a quarter.
const oneSeason = 92

// nearWater is the largest distance of a second look from a stretch, in metres. Our choice: the
// widest bank and zone.
const nearWater geo.Meters = 250

// leastPlaces is the fewest places for an estimate of the probability. Our choice: with ten, the
// interval is half as wide as the whole range from 0 to 1.
const leastPlaces, goodPlaces = 10, 60

// manyHours separates looks of low and high effort, in hours per km. Our choice: a slow walk along
// a bank.
const manyHours = 1.0

// found estimates detection from second looks, and from it the meaning of clear looks at stands.
func (c *Chain) found(second []SecondLook, o Options) Found {
	f := Found{Aside: map[string]int{}}
	var used []SecondLook
	drawn := make([][]bool, len(c.Batches))
	for i := range c.Batches {
		drawn[i] = c.Grid.Sampled(c.Batches[i].Rules.SurveyNext)
	}
	for _, one := range second {
		if why := c.aside(one, drawn); why != "" {
			f.Aside[why]++
			continue
		}
		used = append(used, one)
	}
	f.Used = len(used)
	f.group(used)
	f.clear(c, o)
	return f
}

// aside says why a second look does not count; blank for one that counts.
func (c *Chain) aside(one SecondLook, drawn [][]bool) string {
	apart := one.Days[1].Sub(one.Days[0]).Hours() / 24
	before := -1
	for i := range c.Batches {
		if c.Batches[i].Quarter.Begin().Before(quarterOf(one.Days[0]).Begin()) {
			before = i
		}
	}
	at, away, ok := c.Grid.Nearest(one.At)
	switch {
	case one.Knew:
		return asideKnew
	case math.Abs(apart) > oneSeason:
		return asideSeason
	case before < 0:
		return asideEarly
	case !ok || away > nearWater:
		return asideWater
	case !drawn[before][at]:
		return asideRandom
	}
	return ""
}

// quarterOf is the calendar quarter of a day.
func quarterOf(day time.Time) survey.Quarter {
	return survey.QuarterOf(survey.DayOf(day))
}

// group estimates the probability for all looks, by patch size and by effort.
func (f *Found) group(used []SecondLook) {
	var all estimate.Second
	bySize := map[string]*estimate.Second{}
	for _, one := range used {
		size := sizeClass(one.Size)
		if bySize[size] == nil {
			bySize[size] = &estimate.Second{}
		}
		for _, s := range []*estimate.Second{&all, bySize[size]} {
			switch one.Found {
			case [2]bool{true, true}:
				s.Both++
			case [2]bool{true, false}:
				s.First++
			default:
				s.Other++
			}
		}
	}
	f.Groups = append(f.Groups, FindOf{field.All, "", len(used), all.Find()})
	for _, size := range sizeClasses {
		if s := bySize[size]; s != nil {
			f.Groups = append(f.Groups, FindOf{"size", size, s.Both + s.First + s.Other, s.Find()})
		}
	}
	// each find of the other look is a trial of this one, whatever the effort of either
	for _, effort := range effortClasses {
		trials, hits, places := 0, 0, 0
		for _, one := range used {
			in := 0
			for k := range 2 {
				if one.Found[1-k] && effortClass(one.HoursPerKm[k]) == effort {
					in, trials = 1, trials+1
					if one.Found[k] {
						hits++
					}
				}
			}
			places += in
		}
		if trials > 0 {
			parts := estimate.WilsonShare(float64(hits)/float64(trials), float64(places))
			f.Groups = append(f.Groups, FindOf{"effort", effort, places, parts})
		}
	}
}

var (
	sizeClasses   = []string{"below 1 m2", "1 to 10 m2", "10 m2 or more", "size not known"}
	effortClasses = []string{"below 1 hour for each km", "1 hour or more for each km", "effort not known"}
)

func sizeClass(size geo.SquareMeters) string {
	switch {
	case math.IsNaN(float64(size)):
		return sizeClasses[3]
	case size < 1:
		return sizeClasses[0]
	case size < 10:
		return sizeClasses[1]
	}
	return sizeClasses[2]
}

func effortClass(hours float64) string {
	switch {
	case math.IsNaN(hours):
		return effortClasses[2]
	case hours < manyHours:
		return effortClasses[0]
	}
	return effortClasses[1]
}

// clear lists the stands with clear looks in the last batch, and computes the probability that
// nothing is left.
func (f *Found) clear(c *Chain, o Options) {
	find := f.Groups[0].Find
	told := f.Used >= leastPlaces
	if told {
		f.Looks, _ = estimate.ClearLooks(o.Before, find.Value, o.Certainty)
		f.Safe, _ = estimate.ClearLooks(o.Before, find.Low, o.Certainty)
	}
	looks := map[string]int{} // clear looks in a row
	for i := range c.Batches {
		for _, row := range c.Batches[i].Followup {
			switch row.Look {
			case followup.Found:
				delete(looks, row.StandID)
			case followup.NotFound:
				looks[row.StandID]++
			}
		}
	}
	for _, row := range c.Batches[len(c.Batches)-1].Followup {
		n := looks[row.StandID]
		if row.Present || n == 0 {
			continue
		}
		one := ClearStand{StandID: row.StandID, Looks: n, Years: row.Clear.Years, Since: row.Clear.Since, Absent: estimate.None()}
		if told {
			one.Absent = estimate.Interval{
				Value: estimate.Absent(o.Before, find.Value, n), Low: estimate.Absent(o.Before, find.Low, n), High: estimate.Absent(o.Before, find.High, n),
			}
		}
		f.Clear = append(f.Clear, one)
	}
	slices.SortFunc(f.Clear, func(a, b ClearStand) int {
		if a.StandID < b.StandID {
			return -1
		}
		return 1
	})
}
