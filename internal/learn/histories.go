package learn

import (
	"slices"
	"strings"
	"time"

	"driftreach/internal/followup"
	"driftreach/internal/lineage"
	"driftreach/internal/result"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// history is one stand as the batches saw it, under one identity and while it was one.
type history struct {
	id     string
	sights []sight // looks that took in all of it, by day
	visits []visit // days on which it was worked on, by day
	zone   bool    // by the water
}

// sight is a look at a stand.
type sight struct {
	day     time.Time
	found   bool    // something, dead or alive
	live    float64 // acres that are untreated or grow again
	treated float64 // acres that were treated and not yet seen to be dead
	other   float64 // acres that stand dead
	status  survey.Status
	size    float64 // acres of patches that were measured
	counted int     // how many they are
	guessed int     // patches that were not
}

// visit is a day of work on a stand.
type visit struct {
	day           time.Time
	method, class string
	crew          string
	hours         float64 // of work, shared among the stands of a job; NaN where not told
	acres         float64 // treated, of all work of the day; NaN where not told
}

// cluster names who worked, and when: what one crew does on one day is alike.
func (v *visit) cluster() string { return v.crew + " " + v.day.Format(time.DateOnly) }

// histories lists the stands of the chain, by identity. Where stands merge or part, what
// was before and after are not compared: the history ends there.
func (c *Chain) histories() []history {
	all := map[string]*history{}
	ended := map[string]bool{}
	for i := range c.Batches {
		b := &c.Batches[i]
		for _, row := range b.Became {
			if entangled(row.Change) {
				ended[row.StandID], ended[row.Previous] = true, true
			}
		}
		for _, row := range b.Followup {
			k := b.find(row.StandID)
			if k < 0 || ended[row.StandID] || row.Look == followup.Nobody {
				continue
			}
			one, whole := b.sight(k, row)
			if !whole {
				continue
			}
			h := all[row.StandID]
			if h == nil {
				h = &history{id: row.StandID}
				all[row.StandID] = h
			}
			h.zone = h.zone || b.members[k].InZone
			if n := len(h.sights); n == 0 || h.sights[n-1].day.Before(one.day) {
				h.sights = append(h.sights, one)
			}
		}
	}
	c.work(all)
	out := make([]history, 0, len(all))
	for _, h := range all {
		out = append(out, *h)
	}
	slices.SortFunc(out, func(a, b history) int { return strings.Compare(a.id, b.id) })
	return out
}

// entangled says whether a change makes a stand's acres those of several.
func entangled(change string) bool {
	return slices.Contains([]string{string(lineage.Merged), string(lineage.Split), string(lineage.MergedAndSplit), string(lineage.SameStand), string(lineage.NotSameStand), string(lineage.Misidentified)}, change)
}

// sight returns what a batch saw of a stand; whole is false where some of it is carried.
func (b *Batch) sight(k int, row followup.Row) (one sight, whole bool) {
	known := &b.Known[k]
	one = sight{day: row.LastLook, found: row.Look == followup.Found, status: known.Status}
	if one.day.IsZero() {
		return one, false
	}
	if known.Absent || !one.found {
		one.found = false
		return one, known.Absent
	}
	sum := 0.0
	for _, m := range known.Members {
		if b.From[m] != b.Quarter {
			return one, false
		}
		p := stand.PatchOf(b.Records[m], b.Rules.Stands)
		area := float64(p.Area.Acres())
		if sum += area; p.AreaAssumed {
			one.guessed++
		} else {
			one.size += area
			one.counted++
		}
		switch b.Records[m].Status {
		case survey.Treated:
			one.treated += area
		case survey.StandingDead:
			one.other += area
		default:
			one.live += area
		}
	}
	if sum > 0 { // patches overlap; the stand's acres are those of its outline
		by := float64(known.Infested.Acres()) / sum
		one.live, one.treated, one.other = one.live*by, one.treated*by, one.other*by
	}
	return one, true
}

// work puts the control work that the last batch knows of to the stands it was done on,
// a day of it once.
func (c *Chain) work(all map[string]*history) {
	jobs := slices.Clone(c.Batches[len(c.Batches)-1].Treatments)
	result.SortTreatments(jobs)
	for i := range jobs {
		for _, id := range jobs[i].Told.Stands {
			h := all[id]
			if h == nil {
				continue
			}
			stands := float64(len(jobs[i].Told.Stands))
			share, hours := jobs[i].TreatedAcres/stands, jobs[i].Hours/stands
			if n := len(h.visits); n > 0 && h.visits[n-1].day.Equal(jobs[i].Date) {
				h.visits[n-1].acres += share
				h.visits[n-1].hours += hours
				continue
			}
			h.visits = append(h.visits, visit{jobs[i].Date, word(jobs[i].Method), word(jobs[i].FormulationClass), word(jobs[i].Applicator), hours, share})
		}
	}
}

// word is how a word compares with others.
func word(s string) string { return strings.ToLower(strings.Join(strings.Fields(s), " ")) }

// years between two days.
func years(from, to time.Time) float64 { return to.Sub(from).Hours() / 24 / 365.25 }
