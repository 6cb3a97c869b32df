package batch

import (
	"fmt"
	"slices"
	"strings"

	"driftreach/geo/flow"
	"driftreach/internal/check"
	"driftreach/internal/lineage"
	"driftreach/internal/notice"
	"driftreach/internal/stretch"
)

// leaveOut reports tables that are not made because there are too many stands.
func (c *computation) leaveOut() error {
	if c.wanted.LeftOut(c.count) {
		c.findings = append(c.findings, check.Finding{
			Rule: stretch.RuleLeftOut(), Message: fmt.Sprintf("there are %d stands, and where to look next was not asked for: survey_next.csv and survey_next.geojson are not written", c.count),
		})
	}
	if c.atWater.LeftOut(c.count) {
		c.findings = append(c.findings, check.Finding{
			Rule: ruleWaterWorkLeftOut, Message: fmt.Sprintf("there are %d stands, and work at the water was not asked for: water_work.csv is not written", c.count),
		})
	}
	return nil
}

// lookNext finds where to survey next, using the batch's first water stage.
func (c *computation) lookNext() error {
	if !c.wanted.Written(c.count) {
		return nil
	}
	known := stretch.Known{
		Quarter: c.in.Quarter, Net: c.net, Half: c.water.HalfWidths(), Drift: &c.drift,
		Now: lineage.NewSurveyed(c.looked.All()), Stands: c.standsOnWater(), Sites: c.sitesBelow(),
		Workers: c.host.Goroutines(), Shelf: c.shelf(),
	}
	if c.in.Previous != nil {
		known.Before, known.Memory = c.in.Previous.Looked, c.in.Previous.Stretches
	}
	c.water, c.touches, c.divided, c.bands, c.worksAt = nil, nil, divided{}, nil, nil // no longer needed
	c.stands, c.members, c.margins, c.ready = nil, nil, nil, nil
	c.drift.KeepAfloat()
	c.run.Stretches = stretch.Find(known, c.rules.SurveyNext)
	for i := range c.run.Stretches {
		if one := &c.run.Stretches[i]; one.NearestStand >= 0 {
			one.NearestStand = c.place[one.NearestStand]
		}
	}
	return nil
}

// accessColumn is the column of the survey points that says how to reach a place. Its name may have any
// case.
const accessColumn = "access"

// standsOnWater lists the stands with what matters for choosing where to survey.
func (c *computation) standsOnWater() []stretch.Stand {
	column := slices.IndexFunc(c.in.ExtraColumns, func(name string) bool { return strings.EqualFold(name, accessColumn) })
	all := make([]stretch.Stand, len(c.stands))
	for i := range c.stands {
		one := &c.stands[i]
		all[i] = stretch.Stand{Live: notice.Live(one), At: one.Center, On: flow.Place{Edge: -1}}
		if c.members[i].InZone {
			all[i].On = c.members[i].Place
		}
		for _, r := range c.terms.rules[c.place[i]] {
			if r.Access != "" && !slices.Contains(all[i].Access, r.Access) {
				all[i].Access = append(all[i].Access, r.Access)
			}
		}
		if column < 0 {
			continue
		}
		for _, m := range one.Members {
			text, _ := c.in.Records.At(int(m)).Carried(column)
			if text = strings.TrimSpace(text); text != "" {
				all[i].Access = append(all[i].Access, text)
			}
		}
	}
	return all
}

// sitesBelow lists where planned works touch the water on a reach at risk from a live stand.
func (c *computation) sitesBelow() []stretch.Site {
	var out []stretch.Site
	live := func(i int32) bool { return notice.Live(&c.stands[i]) }
	for i, places := range c.worksAt {
		site := stretch.Site{Work: int32(i)}
		for _, at := range places {
			if c.drift.Passed(at, live) {
				site.Places = append(site.Places, at)
			}
		}
		if site.Places != nil {
			out = append(out, site)
		}
	}
	return out
}
