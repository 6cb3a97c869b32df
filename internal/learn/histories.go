package learn

import (
	"slices"
	"strings"
	"time"

	"driftreach/geo"
	"driftreach/internal/followup"
	"driftreach/internal/lineage"
	"driftreach/internal/result"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// history is one stand as seen in the batches, while it kept one identity and did not merge or
// split.
type history struct {
	id     string
	sights []sight // looks that covered all of it, sorted by day
	visits []visit // days of work on it, sorted
	zone   bool    // in the aquatic zone
}

// sight is one look at a stand.
type sight struct {
	day     time.Time
	found   bool      // something was found, dead or alive
	live    geo.Acres // untreated or growing again
	treated geo.Acres // treated and not yet seen dead
	other   geo.Acres // standing dead plants
	status  survey.Status
	size    geo.Acres // of measured patches
	counted int       // number of measured patches
	guessed int       // number of unmeasured patches
}

// visit is a day of work on a stand.
type visit struct {
	day           time.Time
	method, class string
	crew          string
	hours         geo.Hours // of work, divided among the stands of a job; NaN if not recorded
	acres         geo.Acres // treated, by all work of the day; NaN if not recorded
}

// cluster names the crew and the day: the results of one crew on one day are alike.
func (v *visit) cluster() string { return v.crew + " " + v.day.Format(time.DateOnly) }

// histories lists the stands of the chain, by identity. Where stands merge or split, before and
// after are not compared: the history ends there.
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

// entangled says whether a change mixes a stand's acres with those of other stands.
func entangled(change string) bool {
	return slices.Contains([]string{string(lineage.Merged), string(lineage.Split), string(lineage.MergedAndSplit), string(lineage.SameStand), string(lineage.NotSameStand), string(lineage.Misidentified)}, change)
}

// sight returns what a batch saw of a stand; whole is false if some of it is carried.
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
	sum := geo.Acres(0)
	for _, m := range known.Members {
		if b.From[m] != b.Quarter {
			return one, false
		}
		p := stand.PatchOf(b.Records[m], b.Rules.Stands)
		area := p.Area.Acres()
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
	if sum > 0 { // patches overlap, so acres are scaled to those of the stand's outline
		by := known.Infested.Acres() / sum
		one.live, one.treated, one.other = one.live*by, one.treated*by, one.other*by
	}
	return one, true
}

// work assigns the control work known to the last batch to the stands it was done on, with all work
// of one day as one visit.
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
			share, hours := geo.Acres(jobs[i].TreatedAcres/stands), geo.Hours(jobs[i].Hours/stands)
			if n := len(h.visits); n > 0 && h.visits[n-1].day.Equal(jobs[i].Date) {
				h.visits[n-1].acres += share
				h.visits[n-1].hours += hours
				continue
			}
			h.visits = append(h.visits, visit{jobs[i].Date, word(jobs[i].Method), word(jobs[i].FormulationClass), word(jobs[i].Applicator), hours, share})
		}
	}
}

// word returns a word in the form used for comparison.
func word(s string) string { return strings.ToLower(strings.Join(strings.Fields(s), " ")) }

// years returns the years between two days.
func years(from, to time.Time) float64 { return to.Sub(from).Hours() / 24 / 365.25 }
