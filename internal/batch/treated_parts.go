package batch

import (
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/shape"
	"driftreach/internal/aquatic"
	"driftreach/internal/drift"
	"driftreach/internal/priority"
	"driftreach/internal/stand"
)

// setApart finds the part of each stand treated since its survey, and follows the fragments of the
// treated and the untreated part separately.
func (c *computation) setApart() error {
	c.done = c.worked()
	c.divided = divided{c.drift, c.flood}
	c.treatedAt = make([]int32, len(c.stands))
	c.left = map[int32]geo.Share{}
	behind := int32(len(c.stands))
	for i := range c.stands {
		c.treatedAt[i] = -1
		if c.done[i].Cut == nil {
			continue
		}
		c.treatedAt[i] = behind
		behind++
		c.leftToTreat(i)
	}
	if int(behind) == len(c.stands) {
		return nil
	}
	follow := func(s drift.Settings, beyond geo.Meters) drift.Drift {
		return drift.Follow(c.net, drift.Released{Stands: int(behind), Sources: c.inTwo(s, beyond), Given: true}, s, c.host.Goroutines())
	}
	c.divided.Drift = follow(c.rules.Drift, c.rules.Beyond)
	if c.flood != nil {
		flood := follow(*c.rules.Flood, c.rules.FloodBeyond)
		c.divided.flood = &flood
	}
	return nil
}

// leftToTreat sets, for each record of a stand, the share of its patch outside the treated area.
func (c *computation) leftToTreat(i int) {
	st := &c.stands[i]
	frame := earth.NewFrame(st.Center)
	treated, _ := shape.MakeValid(frame.Project(c.done[i].Cut.Ground))
	for _, m := range st.Members {
		r := c.in.Records.At(int(m))
		patch := orb.MultiPolygon{shape.DiscOfArea(frame.Forward(r.Position), stand.PatchOf(*r, c.rules.Stands).Area).Polygon()}
		if r.Outline != nil {
			patch, _ = shape.MakeValid(frame.Project(r.Outline))
		}
		if area := geo.PolygonArea(patch); area > 0 {
			c.left[m] = allOrNone(1 - geo.Share(shape.IntersectionArea(patch, treated)/area))
		}
	}
}

// patchWhole is the share from which a patch counts as whole. Our choice: it allows for circles drawn
// as chords and for rounded outlines.
const patchWhole = 0.995

// allOrNone returns a share of a patch, rounded to 0 or 1 if it is close.
func allOrNone(share geo.Share) geo.Share {
	switch {
	case share >= patchWhole:
		return 1
	case share <= 1-patchWhole:
		return 0
	}
	return share
}

// inTwo lists the sources of a stage, with two sources for each record of a partly treated stand.
func (c *computation) inTwo(s drift.Settings, beyond geo.Meters) []drift.Source {
	var out []drift.Source
	c.eachSource(s, beyond, func(record int32, source drift.Source) {
		behind := c.treatedAt[source.Stand]
		if behind < 0 {
			out = append(out, source)
			return
		}
		rest, treated := source, source
		rest.Amount, treated.Amount, treated.Stand = drift.Amount(c.left[record])*source.Amount, drift.Amount(1-c.left[record])*source.Amount, behind
		out = append(out, rest, treated)
	})
	return out
}

// toTreat returns the part of stand i to treat: its acres, its exposure and the stands it can reach.
func (c *computation) toTreat(i int32) priority.Job {
	job := priority.Job{Reaches: linked(&c.divided.Drift, c.divided.flood, i)}
	for n := len(job.Reaches); n > 0 && int(job.Reaches[n-1]) >= len(c.stands); n-- {
		job.Reaches = job.Reaches[:n-1] // treated parts are not in the order
	}
	if c.asked(i) {
		job.Exposure = drift.AmountKm(c.done[i].Waits()) * c.divided.Outcomes[i].Exposure
		job.Acres = geo.Acres(1-c.done[i].Share) * c.stands[i].Infested.Acres()
	}
	return job
}

// steps returns what treating the stands in the given order removes. Parts treated already are not
// counted as removed.
func (c *computation) steps(sorted []int32) []drift.Step {
	order := slices.Clone(sorted)
	for behind := len(c.stands); behind < len(c.divided.Outcomes); behind++ {
		order = append(order, int32(behind))
	}
	return c.divided.Curve(order, func(stand int32) geo.Share {
		if int(stand) >= len(c.stands) || !c.asked(stand) {
			return 0
		}
		return geo.Share(c.done[stand].Waits())
	})[:len(sorted)]
}

// wetRest says whether any of a stand's untreated part touches the zone.
func (c *computation) wetRest(i int32) bool {
	if c.treatedAt[i] < 0 {
		return c.members[i].InZone
	}
	return slices.ContainsFunc(c.touches[i], func(t aquatic.Touch) bool { return t.InZone && c.left[t.Record] > 0 })
}
