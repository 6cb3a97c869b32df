package followup

import (
	"fmt"
	"math"
	"strconv"
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/linear"
	"driftreach/internal/check"
	"driftreach/internal/treatment"
)

// matcher finds the stands on which work was done.
type matcher struct {
	site  *Site
	names map[string][]int32 // by id, present or former: the stands
	log   check.Log
}

func newMatcher(site *Site) *matcher {
	m := &matcher{site: site, names: map[string][]int32{}}
	for i := range site.Subjects {
		m.name(int32(i))
	}
	return m
}

// match returns, by stand, the work that counts for it, in the order of the actions. It also
// returns, by action, the ids of the stands on whose ground the work was done. Work that names a
// stand counts for every stand that has or had that id. Other work counts for every stand with
// ground in the drawn area. Without such a stand it counts for the stand with the nearest footprint
// within the join distance, a tie to the first. A new stand in a chain of batches takes no work of
// earlier quarters by position: it cannot be what was treated then.
func (m *matcher) match() (of [][]int32, done [][]string) {
	site := m.site
	of, done = make([][]int32, len(site.Subjects)), make([][]string, len(site.Actions))
	var placed []int32 // actions to be matched by position
	for k := range site.Actions {
		a := &site.Actions[k]
		named := m.names[a.StandID]
		for _, i := range named {
			of[i] = append(of[i], int32(k))
		}
		for _, i := range m.where(a, named) {
			done[k] = append(done[k], site.Subjects[i].ID)
		}
		m.elsewhere(a, named)
		switch {
		case a.StandID != "" && len(named) == 0:
			m.unknown(a)
			fallthrough
		case a.StandID == "":
			placed = append(placed, int32(k))
		}
	}
	for k, near := range m.nearest(placed) {
		for _, i := range near {
			of[i] = append(of[i], placed[k])
			done[placed[k]] = append(done[placed[k]], site.Subjects[i].ID)
		}
		if len(near) > 0 {
			continue
		}
		if a := &site.Actions[placed[k]]; a.Placed {
			m.report(a, ruleNoStand, "", "", fmt.Sprintf("no stand's footprint is within %g m of the work; it counts for none", float64(site.Settings.JoinDistance)))
		}
	}
	return of, done
}

// told returns, by stand, the work on it that earlier batches knew.
func (m *matcher) told() [][]treatment.Treatment {
	out := make([][]treatment.Treatment, len(m.site.Subjects))
	for k := range m.site.Told {
		t := &m.site.Told[k]
		taken := map[int32]bool{}
		for _, id := range t.Stands {
			for _, i := range m.names[id] {
				if !taken[i] {
					taken[i] = true
					out[i] = append(out[i], t.Treatment)
				}
			}
		}
	}
	return out
}

// elsewhere reports work whose area contains no ground of the stands it names.
func (m *matcher) elsewhere(a *treatment.Treatment, named []int32) {
	if len(a.Ground) == 0 || len(named) == 0 {
		return
	}
	known := false
	for _, i := range named {
		f := footprintOf(&m.site.Subjects[i])
		if f.within(a.Ground) != nil {
			return
		}
		known = known || f != nil
	}
	if known {
		m.report(a, treatment.RuleElsewhere(), "geometry", a.StandID, "the area drawn holds no ground of the stand that the work names; the work counts for the stand by its acres")
	}
}

// where returns, of the stands that have or had the id named by the work, the one on whose ground
// it was done: the nearest to the work's position, a tie to the first. It returns all of them for
// work without a position.
func (m *matcher) where(a *treatment.Treatment, named []int32) []int32 {
	if !a.Placed || len(named) < 2 {
		return named
	}
	best, away := named[:1], geo.Meters(math.Inf(1))
	for k, i := range named {
		f := footprintOf(&m.site.Subjects[i])
		if f == nil {
			continue
		}
		if d := f.distance(a.Position); d < away {
			best, away = named[k:k+1], d
		}
	}
	return best
}

// name indexes a stand under its present and former ids.
func (m *matcher) name(i int32) {
	sub := &m.site.Subjects[i]
	add := func(id string) {
		if all := m.names[id]; len(all) == 0 || all[len(all)-1] != i {
			m.names[id] = append(all, i)
		}
	}
	add(sub.ID)
	for _, id := range sub.Earlier {
		add(id)
		for _, old := range m.site.before(id).Earlier {
			add(old)
		}
	}
}

// nearest returns, for each placed action, the stands with ground in its area, or else the nearest
// stand within the join distance, or none. Distances are measured in a frame centred on the stand:
// within 1e-6 up to 18 km across.
func (m *matcher) nearest(placed []int32) [][]int32 {
	best, under := make([][]int32, len(placed)), make([]bool, len(placed))
	away := make([]geo.Meters, len(placed))
	spots := make([]orb.LineString, len(placed))
	widest := m.site.Settings.JoinDistance
	for k, action := range placed {
		away[k] = geo.Meters(math.Inf(1))
		if a := &m.site.Actions[action]; a.Placed {
			spots[k] = orb.LineString{a.Position}
			widest = max(widest, reachOf(a))
		}
	}
	if len(placed) == 0 {
		return best
	}
	index := linear.NewIndex(spots)
	for i := range m.site.Subjects {
		sub := &m.site.Subjects[i]
		f := footprintOf(sub)
		if f == nil {
			continue
		}
		for _, run := range index.Near(sub.Place.Position, f.radius+widest) {
			k := run.Line
			a := &m.site.Actions[placed[k]]
			if len(sub.Earlier) == 0 && !a.Date.After(m.site.Since) {
				continue
			}
			if len(a.Ground) > 0 && f.within(a.Ground) != nil {
				if !under[k] {
					under[k], best[k] = true, nil
				}
				best[k] = append(best[k], int32(i))
			} else if d := f.distance(a.Position); !under[k] && d <= m.site.Settings.JoinDistance && d < away[k] {
				best[k], away[k] = []int32{int32(i)}, d
			}
		}
	}
	return best
}

// reachOf returns how far the area of a piece of work reaches from its position.
func reachOf(a *treatment.Treatment) (farthest geo.Meters) {
	frame := earth.NewFrame(a.Position)
	for _, polygon := range a.Ground {
		for _, p := range polygon[0] {
			xy := frame.Forward(p)
			farthest = max(farthest, geo.Meters(math.Hypot(xy[0], xy[1])))
		}
	}
	return farthest
}

func (m *matcher) unknown(a *treatment.Treatment) {
	message := "no stand has or had this id; the work counts for none"
	if a.Placed {
		message = "no stand has or had this id; the work was matched by its position"
	}
	m.report(a, ruleStandUnknown, "stand_id", a.StandID, message)
}

func (m *matcher) report(a *treatment.Treatment, rule check.Rule, field, value, message string) {
	f := check.Finding{Rule: rule, File: a.File, Record: "row " + strconv.Itoa(a.Row), Field: field, Value: value, Message: message + " (" + a.Date.Format(time.DateOnly) + ")"}
	if a.Placed {
		f.Position = &a.Position
	}
	m.log.Add(f)
}
