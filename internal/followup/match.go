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
	"driftreach/geo/shape"
	"driftreach/internal/check"
	"driftreach/internal/control"
)

// matcher finds the stands that work was done on.
type matcher struct {
	site  *Site
	names map[string][]int32 // by id, one it has or had: the stands
	log   check.Log
}

// match returns, by stand, the work that counts for it, in the order of the
// actions, and by action the stands whose ground it was done on, by id. Work that names a stand counts for every stand that has or had that
// id; other work for the stand whose footprint is nearest within the join
// distance, 0 within it, the first of equals. In a chain of batches a stand that
// is new takes no work of earlier quarters by its place: it is not what was
// treated there.
func match(site *Site) (of [][]int32, done [][]string, findings []check.Finding) {
	m := matcher{site: site, names: map[string][]int32{}}
	for i := range site.Subjects {
		m.name(int32(i))
	}
	of, done = make([][]int32, len(site.Subjects)), make([][]string, len(site.Actions))
	var placed []int32 // actions that must be matched by their place
	for k := range site.Actions {
		a := &site.Actions[k]
		named := m.names[a.StandID]
		for _, i := range named {
			of[i] = append(of[i], int32(k))
		}
		for _, i := range m.where(a, named) {
			done[k] = append(done[k], site.Subjects[i].ID)
		}
		switch {
		case a.StandID != "" && len(named) == 0:
			m.unknown(a)
			fallthrough
		case a.StandID == "":
			placed = append(placed, int32(k))
		}
	}
	for k, i := range m.nearest(placed) {
		if i >= 0 {
			of[i] = append(of[i], placed[k])
			done[placed[k]] = []string{site.Subjects[i].ID}
			continue
		}
		if a := &site.Actions[placed[k]]; a.Placed {
			m.report(a, ruleNoStand, "", "", fmt.Sprintf("no stand's footprint is within %g m of the work; it counts for none", float64(site.Settings.JoinDistance)))
		}
	}
	return of, done, m.log.Findings()
}

// where returns which of the stands that have or had the id work names its ground is
// of: the nearest to its position, the first of equals, and all of them where it has
// none.
func (m *matcher) where(a *control.Action, named []int32) []int32 {
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

// name enters the ids that a stand has and had.
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

// nearest returns, by placed action, the nearest stand within the join distance,
// -1 for none. Distances are made in a frame centred on the stand: within 1e-6 up
// to 18 km across.
func (m *matcher) nearest(placed []int32) []int32 {
	best := make([]int32, len(placed))
	away := make([]geo.Meters, len(placed))
	spots := make([]orb.LineString, len(placed))
	for k, action := range placed {
		best[k], away[k] = -1, geo.Meters(math.Inf(1))
		if a := &m.site.Actions[action]; a.Placed {
			spots[k] = orb.LineString{a.Position}
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
		for _, run := range index.Near(sub.Place.Position, f.radius+m.site.Settings.JoinDistance) {
			k := run.Line
			a := &m.site.Actions[placed[k]]
			if len(sub.Earlier) == 0 && !a.Date.After(m.site.Since) {
				continue
			}
			if d := f.distance(a.Position); d <= m.site.Settings.JoinDistance && d < away[k] {
				best[k], away[k] = int32(i), d
			}
		}
	}
	return best
}

// footprint is a stand's in the metres of a frame centred on it.
type footprint struct {
	frame  earth.Frame
	area   orb.MultiPolygon
	radius geo.Meters
}

func footprintOf(sub *Subject) *footprint {
	if sub.Footprint == nil {
		return nil
	}
	f := &footprint{frame: earth.NewFrame(sub.Place.Position)}
	f.area = f.frame.Project(sub.Footprint.Polygons())
	for _, polygon := range f.area {
		for _, xy := range polygon[0] {
			f.radius = max(f.radius, geo.Meters(math.Hypot(xy[0], xy[1])))
		}
	}
	return f
}

func (f *footprint) distance(p orb.Point) geo.Meters {
	return shape.DistanceToLine(f.area, orb.LineString{f.frame.Forward(p)})
}

func (m *matcher) unknown(a *control.Action) {
	message := "no stand has or had this id; the work counts for none"
	if a.Placed {
		message = "no stand has or had this id; the work was matched by its position"
	}
	m.report(a, ruleStandUnknown, "stand_id", a.StandID, message)
}

func (m *matcher) report(a *control.Action, rule check.Rule, field, value, message string) {
	f := check.Finding{Rule: rule, File: a.File, Record: "row " + strconv.Itoa(a.Row), Field: field, Value: value, Message: message + " (" + a.Date.Format(time.DateOnly) + ")"}
	if a.Placed {
		f.Position = &a.Position
	}
	m.log.Add(f)
}
