package learn

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"driftreach/geo"
	"driftreach/internal/estimate"
	"driftreach/internal/field"
)

// Treated is the result of treatment.
type Treated struct {
	Groups   []Effect
	Clear    []ClearBy
	Hard     []HardStand // treated three times or more, and live at the last look
	Stands   int         // number with work that counts
	Jobs     int         // days of work on a stand, with a look before and after
	Unjudged int         // days of work without both looks
}

// Effect is the effect of a group of days of work on stands.
type Effect struct {
	By, Of   string // the grouping (method, formulation class, season or status) and the group
	Jobs     int
	Stands   int
	Clusters int // number of pairs of crew and day
	Before   geo.Acres
	After    geo.Acres         // at the first look that shows the effect
	Last     geo.Acres         // at the last look before the next work
	Control  estimate.Interval // share of the acres gone at the first look; below 0 if there are more
	Held     estimate.Interval // the same at the last look
	Regrown  estimate.Interval // of the stands with nothing live at the first look, the share live again at a later one
	Watched  int               // number of those that were looked at again
}

// ClearBy is the share of stands with nothing live after a number of days of work.
type ClearBy struct {
	Visits int
	Share  estimate.Interval
	Stands int // with that many days of work, or clear before
}

// HardStand is a stand that work did not clear.
type HardStand struct {
	StandID string
	Visits  int
	Last    time.Time // day of the last work
	Seen    time.Time // day it was last seen live
	Acres   geo.Acres
}

// judged is one day of work on a stand, with the looks before and after it.
type judged struct {
	stand               string
	visit               visit
	status              string // at the last look that found more live than treated acres
	before, after, last geo.Acres
	watched, regrown    bool
}

// leastJobs and leastClusters are the fewest days of work, and pairs of crew and day, for an
// estimate. Our choice.
const leastJobs, leastClusters = 10, 5

// treated compares the acres before work with those after it.
func treated(all []history, o Options) Treated {
	var t Treated
	var jobs []judged
	var times []estimate.Between
	var clusters []string
	for i := range all {
		h := &all[i]
		if len(h.visits) == 0 {
			continue
		}
		t.Stands++
		for v := range h.visits {
			if j, ok := h.judge(v, o.Later); ok {
				jobs = append(jobs, j)
			} else {
				t.Unjudged++
			}
		}
		if b, ok := h.cleared(o.Later); ok {
			times, clusters = append(times, b), append(clusters, h.visits[0].cluster())
		}
		if hard, ok := h.hard(o.Later); ok {
			t.Hard = append(t.Hard, hard)
		}
	}
	t.Jobs = len(jobs)
	slices.SortStableFunc(t.Hard, func(a, b HardStand) int {
		return cmp.Or(-cmp.Compare(a.Visits, b.Visits), strings.Compare(a.StandID, b.StandID))
	})
	t.Groups = groups(jobs)
	for _, visits := range []int{1, 2, 4} {
		one := ClearBy{Visits: visits, Share: estimate.ShareCome(times, clusters, float64(visits), drawsOfClear, o.Seed)}
		for _, b := range times {
			if b.After >= float64(visits) || b.By <= float64(visits) {
				one.Stands++
			}
		}
		t.Clear = append(t.Clear, one)
	}
	return t
}

// drawsOfClear is the number of bootstrap draws of clusters for the bounds of the share clear. Our
// choice: 200 are enough for a variance, according to Efron.
const drawsOfClear = 200

// later says whether a look shows the effect of work on a day.
func later(look, work time.Time, days int) bool { return !look.Before(work.AddDate(0, 0, days)) }

// sameDays is the largest number of days between a look and work that belong to the same visit:
// plants treated then count as live before the work. Our choice: a week.
const sameDays = 7

// leastTreated is the treated share of a stand's live acres from which the work counts as done on
// all of it. Our choice: both acreages are estimates.
const leastTreated = 0.75

// judge finds the last look up to a day of work, and the looks from then to the next work.
func (h *history) judge(v, days int) (j judged, ok bool) {
	work := h.visits[v]
	j = judged{stand: h.id, visit: work, status: "not known"}
	for _, s := range h.sights {
		if s.day.After(work.day) {
			break
		}
		j.before, ok = s.live, true
		if s.day.AddDate(0, 0, sameDays).After(work.day) {
			j.before += s.treated
		}
		if s.live > s.treated {
			j.status = s.status.String()
		}
	}
	if !ok || !(j.before > 0) || work.acres < leastTreated*j.before {
		return j, false
	}
	looks := 0
	for _, s := range h.sights {
		next := v+1 < len(h.visits)
		if !later(s.day, work.day, days) || next && s.day.After(h.visits[v+1].day) {
			continue
		}
		if next && s.treated > 0 && s.day.AddDate(0, 0, sameDays).After(h.visits[v+1].day) {
			j.regrown, j.watched = j.regrown || looks > 0 && j.after == 0, j.watched || looks > 0 && j.after == 0
			continue // the next work came first, so it is unknown how much was live
		}
		if looks++; looks == 1 {
			j.after = s.live
		} else if j.after == 0 {
			j.watched, j.regrown = true, j.regrown || s.live > 0
		}
		j.last = s.live
	}
	return j, looks > 0
}

// cleared returns the interval of the number of days of work that cleared the stand for good, as
// far as it was looked at: more than those before the last look that found it live, at most those
// before the first clear look after that.
func (h *history) cleared(days int) (b estimate.Between, ok bool) {
	b = estimate.Between{By: math.Inf(1), Weight: 1}
	for _, s := range h.sights {
		done, fresh := 0, false
		for _, v := range h.visits {
			if v.day.Before(s.day) {
				done++
				fresh = !later(s.day, v.day, days)
			} else if s.day.AddDate(0, 0, sameDays).After(v.day) {
				fresh = fresh || s.treated > 0
			}
		}
		switch {
		case s.live > 0:
			b.After, b.By, ok = float64(done), math.Inf(1), ok || done > 0
		case done > 0 && !fresh && math.IsInf(b.By, 1):
			b.By, ok = float64(done), true
		}
	}
	return b, ok && b.By > b.After
}

// hard says whether three or more days of work left the stand live.
func (h *history) hard(days int) (HardStand, bool) {
	if len(h.sights) == 0 {
		return HardStand{}, false
	}
	last := h.sights[len(h.sights)-1]
	done := 0
	for _, v := range h.visits {
		if later(last.day, v.day, days) {
			done++
		}
	}
	work := h.visits[len(h.visits)-1].day
	return HardStand{h.id, done, work, last.day, last.live}, done >= 3 && last.live > 0
}

// groups sums up days of work: all, then by method, class, season and status.
func groups(jobs []judged) []Effect {
	out := []Effect{effect(field.All, "", jobs)}
	for _, by := range []struct {
		name string
		of   func(*judged) string
	}{
		{"method", func(j *judged) string { return j.visit.method }},
		{"formulation class", func(j *judged) string { return j.visit.class }},
		{"season", func(j *judged) string { return season(j.visit.day) }},
		{"status before", func(j *judged) string { return j.status }},
	} {
		parts := map[string][]judged{}
		var names []string
		for i := range jobs {
			name := by.of(&jobs[i])
			if name == "" {
				name = "not known"
			}
			if parts[name] == nil {
				names = append(names, name)
			}
			parts[name] = append(parts[name], jobs[i])
		}
		slices.Sort(names)
		for _, name := range names {
			out = append(out, effect(by.name, name, parts[name]))
		}
	}
	return out
}

// season is the calendar quarter, whose name is valid in both hemispheres.
func season(day time.Time) string {
	return [...]string{"January to March", "April to June", "July to September", "October to December"}[(int(day.Month())-1)/3]
}

// effect sums up one group.
func effect(by, of string, jobs []judged) Effect {
	e := Effect{By: by, Of: of, Jobs: len(jobs)}
	var first, last, grown []estimate.Part
	stands, clusters := map[string]bool{}, map[string]bool{}
	for i := range jobs {
		j, cluster := &jobs[i], jobs[i].visit.cluster()
		stands[j.stand], clusters[cluster] = true, true
		e.Before, e.After, e.Last = e.Before+j.before, e.After+j.after, e.Last+j.last
		first = append(first, estimate.Part{Cluster: cluster, Upper: float64(j.before - j.after), At: float64(j.before)})
		last = append(last, estimate.Part{Cluster: cluster, Upper: float64(j.before - j.last), At: float64(j.before)})
		if j.watched {
			part := estimate.Part{Cluster: cluster, At: 1}
			if j.regrown {
				part.Upper = 1
			}
			grown = append(grown, part)
		}
	}
	e.Stands, e.Clusters, e.Watched = len(stands), len(clusters), len(grown)
	e.Control, e.Held, e.Regrown = controlled(first), controlled(last), estimate.Share(grown)
	return e
}

// controlled is the share of acres gone. Its bounds are those of a ratio. Where nearly everything
// is gone in nearly all stands, clusters do not vary, and the bounds are those of a share.
func controlled(parts []estimate.Part) estimate.Interval {
	left, more := map[string]bool{}, false
	for _, p := range parts {
		if p.Upper < p.At {
			left[p.Cluster] = true
		}
		more = more || p.Upper < 0
	}
	linear := estimate.Ratio(parts)
	if more || len(left) >= leastClusters {
		return upTo(linear, 1)
	}
	share := estimate.Share(weighed(parts))
	return estimate.Interval{Value: linear.Value, Low: share.Low, High: share.High}
}

// weighed scales the parts so that their weights sum to the effective sample size (L. Kish, Survey
// Sampling, 1965, section 11.7), on which the bounds of a share depend.
func weighed(parts []estimate.Part) []estimate.Part {
	sum, squares := 0.0, 0.0
	for _, p := range parts {
		sum, squares = sum+p.At, squares+p.At*p.At
	}
	out := slices.Clone(parts)
	for i := range out {
		by := sum / squares
		out[i].Upper, out[i].At = out[i].Upper*by, out[i].At*by
	}
	return out
}

// upTo limits an interval to values of at most most.
func upTo(i estimate.Interval, most float64) estimate.Interval {
	i.High = min(i.High, most)
	return i
}

// Told says whether there is enough data for an answer.
func (e *Effect) Told() bool { return e.Jobs >= leastJobs && e.Clusters >= leastClusters }

// lacking says how much more data is needed.
func (e *Effect) lacking() string {
	return fmt.Sprintf("it takes %d days of work on a stand, by crews on %d days, each with a look before and one after", leastJobs, leastClusters)
}
