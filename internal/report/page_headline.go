package report

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"driftreach/internal/field"
	"driftreach/internal/plan"
	"driftreach/internal/result"
	"driftreach/internal/trend"
)

// metersPerMile is exact: the international mile (1959).
const metersPerMile = 1609.344

// tiles are the headline figures.
func (c *composer) tiles() []Tile {
	s := c.summary
	stands, inZone := s.cell(total, field.Stands).Int, s.cell(total, field.AquaticZoneStands).Int
	return []Tile{
		{"Live area", s.number(total, field.LiveAcres), fmt.Sprintf("untreated and regrowth; %s; not counted: %s treated, %s dead",
			c.between(field.LiveAcres), s.number(total, field.TreatedStandsAcres).Shown, s.number(total, field.StandingDeadAcres).Shown)},
		{"Infested area", s.number(total, field.InfestedAcres), "live, treated and standing dead; " + c.between(field.InfestedAcres) + "; " + s.number(total, field.AssumedAcres).Shown + " on the default patch"},
		c.changeTile(),
		{"Gross area", s.number(total, field.GrossAcres), "gaps closed; " + c.between(field.GrossAcres)},
		{"Canopy area", s.number(total, field.CanopyAcres), "infested times cover; " + c.between(field.CanopyAcres)},
		{"Stands", s.number(total, field.Stands), fmt.Sprintf("%s of them isolated finds", s.number(total, field.Isolated).Shown)},
		{"Stands in the aquatic zone", s.number(total, field.AquaticZoneStands),
			fmt.Sprintf("%s acres within %s m of a bank; %s upland", s.number(total, field.ZoneAcres).Shown, trim(c.run.Setback), grouped(float64(stands-inZone), 0))},
		{"Stream at risk", s.number(total, field.ReachAtRiskKm), c.reachNote()},
	}
}

// between returns the range of an acreage in words.
func (c *composer) between(column string) string {
	return c.summary.number(total, column+"_p10").Shown + " to " + c.summary.number(total, column+"_p90").Shown + " (P10–P90)"
}

// reachNote gives the reach at risk in miles, and its range.
func (c *composer) reachNote() string {
	km := c.summary.cell(total, field.ReachAtRiskKm).Float()
	note := grouped(km*1000/metersPerMile, 1) + " miles"
	if p := c.run.Previous; p != nil && len(p.ReachApart) > 0 {
		note += "; cannot be compared with " + p.Quarter.String() + ", which used other streams or settings"
	}
	if c.run.Draws > 0 {
		note += fmt.Sprintf("; between %s and %s km in eight of ten draws (P10 to P90)",
			c.summary.number(total, field.ReachAtRiskKmP10).Shown, c.summary.number(total, field.ReachAtRiskKmP90).Shown)
	}
	return note
}

// headline says in plain words how much there is, how certain that is, in which direction it changes,
// how much nobody surveyed, how much depends on defaults, whether the goal is near, what was done, and
// what is planned and due.
func (c *composer) headline() []string {
	s := c.summary
	if len(c.run.Stands) == 0 {
		return c.withGoal("No plant was found this quarter"+c.direction()+".", "No stand is on the map. Plants that nobody found are in no figure.")
	}
	first := fmt.Sprintf("%s acres are live this quarter (%s to %s, allowing for error)%s.",
		s.number(total, field.LiveAcres).Shown, s.number(total, field.LiveAcresP10).Shown, s.number(total, field.LiveAcresP90).Shown, c.direction())
	rests := "All infested acres were looked at this quarter."
	if carried := s.cell(total, field.CarriedAcres); carried.Kind == result.Number && carried.Int > 0 {
		rests = fmt.Sprintf("Nobody looked at %s of the %s infested acres this quarter: they keep the acres last known.", s.number(total, field.CarriedAcres).Shown, s.number(total, field.InfestedAcres).Shown)
	}
	return c.withGoal(first, rests+" "+c.assumedWords())
}

// withGoal adds the goal, where there is one, and what was done and is due.
func (c *composer) withGoal(lines ...string) []string {
	if goal := c.goal(); goal != "" {
		lines = append(lines, goal)
	}
	return append(lines, c.work())
}

// assumedWords says how many acres depend on an assumed patch.
func (c *composer) assumedWords() string {
	if c.summary.cell(total, field.AssumedAcres).Int == 0 {
		return "No acres rest on an assumed patch."
	}
	return fmt.Sprintf("%s acres are assumed: nobody measured those patches.", c.summary.number(total, field.AssumedAcres).Shown)
}

// goal says whether the programme's goal is near; blank without a goal.
func (c *composer) goal() string {
	i := c.wholeSection()
	if i < 0 {
		return ""
	}
	h := c.from.History
	last := len(h.Quarters) - 1
	return c.from.Programme.goalWords(h.Quarters[last], h.Sections[i].Figures[last], c.from.History.Trend(i, trend.Live))
}

// work says what was treated this quarter, what is planned for the next, and what is due.
func (c *composer) work() string {
	var parts []string
	if c.run.WorkGiven {
		parts = append(parts, c.summary.number(total, field.WorkDoneAcres).Shown+" acres were treated this quarter.")
	}
	if p := c.run.Plan; p != nil && len(p.Quarters) > 0 {
		parts = append(parts, c.plannedWords(&p.Quarters[0]))
	}
	return strings.Join(append(parts, c.visitsDue()), " ")
}

// plannedWords says what is planned for a quarter, and how much of the budget it takes. A follow-up
// visit costs a share of the first treatment, so its cost in acres is not the ground that is visited.
func (c *composer) plannedWords(q *plan.Quarter) string {
	visits, treatments := 0, 0
	for i := range c.run.Plan.Rows {
		switch r := &c.run.Plan.Rows[i]; {
		case r.Quarter != q.Quarter:
		case r.Kind == plan.FollowUp:
			visits++
		default:
			treatments++
		}
	}
	var what []string
	unit := " " + clean(c.run.Plan.Unit, longestWord)
	add := func(n int, thing string, cost plan.Cost) {
		if n > 0 {
			what = append(what, plural(n, thing)+" for "+c.sum(cost)+unit)
		}
	}
	add(visits, "follow-up visit", q.FollowUp)
	add(treatments, "first treatment", q.First)
	if what == nil {
		return "Nothing is planned for " + q.Quarter.String() + "."
	}
	return "Planned for " + q.Quarter.String() + " within the budget: " + strings.Join(what, ", ") + "."
}

// direction says in which direction live acreage changes, on ground surveyed both times, as the end of
// a sentence; blank if there is nothing to compare.
func (c *composer) direction() string {
	t, ok := c.trendOf(trend.Live)
	if !ok || t.Quarters < 2 {
		return ""
	}
	switch t.Direction {
	case trend.Rising, trend.Falling:
		return fmt.Sprintf("; on ground seen both times they are %s by %s acres a year", t.Direction, onPaper(t.Measure.Unsigned(t.Slope)))
	case trend.TooFew:
		return "; it is too early to see a trend"
	}
	return "; on ground seen both times no trend shows"
}

// isOrAre writes a count with its noun and "is" or "are".
func isOrAre(n int, thing string) string {
	if n == 1 {
		return plural(n, thing) + " is"
	}
	return plural(n, thing) + " are"
}

// verdict states the trend of live acreage in plain words, with its p, and then that of all infested
// acreage.
func (c *composer) verdict() []string {
	t, ok := c.trendOf(trend.Live)
	if !ok || t.Quarters < 2 {
		return []string{"The trend begins with this quarter: there is nothing earlier to compare it with."}
	}
	span := fmt.Sprintf("over %s from %s to %s", plural(t.Quarters, "quarter"), t.First, t.Last)
	if t.Missing > 0 {
		span += fmt.Sprintf(" (in %s between them nobody looked)", plural(t.Missing, "quarter"))
	}
	switch t.Direction {
	case trend.TooFew:
		return []string{"It is too early to see a trend in live acreage " + span + ": " + told(t) + "."}
	case trend.NoTrend:
		why := fmt.Sprintf("%s, p %s", t.Method(), equals(t.Test.P))
		if t.Test.P <= trend.Alpha {
			why += fmt.Sprintf(", but the change of %s acres is within its error of %s",
				onPaper(t.Measure.Signed(float64(t.End-t.Begin)/trend.PerUnit)), onPaper(t.Measure.Unsigned(t.Doubt)))
		}
		return []string{fmt.Sprintf("No trend shows in live acreage %s (%s).", span, why), c.bothSeries(t), basis(t), trendCaution}
	}
	return []string{
		fmt.Sprintf("Live acreage is %s %s: %s acres a year (%s, p %s).", t.Direction, span, onPaper(t.Measure.Signed(t.Slope)), t.Method(), equals(t.Test.P)), c.bothSeries(t),
		"p is how often chance alone makes quarters without a trend line up this well. " + basis(t), trendCaution,
	}
}

// basis says on what a verdict is based, one sentence for each item.
func basis(t trend.Trend) string {
	parts := t.GroundsEach()
	parts[0] = "the verdict " + parts[0]
	for i := range parts {
		parts[i] = capital(parts[i])
	}
	return strings.Join(parts, ". ") + "."
}

// bothSeries gives live acres on the same ground and as mapped, and the trend of all infested acres.
func (c *composer) bothSeries(t trend.Trend) string {
	text := fmt.Sprintf("On the ground known now live acres went from %s to %s", eye(t.Begin), eye(t.End))
	if eye(t.Mapped[0]) != eye(t.Begin) || eye(t.Mapped[1]) != eye(t.End) {
		text += fmt.Sprintf("; as mapped, on whatever ground was known then, from %s to %s", eye(t.Mapped[0]), eye(t.Mapped[1]))
	}
	all, _ := c.trendOf(trend.Infested)
	return text + ". For all infested acres, with treated and dead ones: " + strings.Replace(minus(all.Words()), ": ", ", ", 1) + "."
}

// minus replaces a hyphen before a digit by a minus sign.
func minus(words string) string { return strings.ReplaceAll(words, " -", " −") }

// trendOf returns the trend of a measure of the whole batch; ok is false without a history.
func (c *composer) trendOf(m trend.Measure) (t trend.Trend, ok bool) {
	if i := c.wholeSection(); i >= 0 {
		return c.from.History.Trend(i, m), true
	}
	return trend.Trend{}, false
}

// wholeSection returns the index of the history's section for whole batches; -1 without one.
func (c *composer) wholeSection() int {
	if c.from.History == nil {
		return -1
	}
	return slices.IndexFunc(c.from.History.Sections, func(s trend.Section) bool { return s.Scope == result.Total })
}

const trendCaution = "Acreage also moves with survey effort: ground that nobody looks at keeps its last acres, and a closer look finds more."

// told says why it is too early for a verdict.
func told(t trend.Trend) string {
	if t.Quarters < trend.Fewest {
		return strconv.Itoa(trend.Fewest) + " are the fewest that can show one"
	}
	return "with so few, even a steady change gives p = " + trend.PText(t.Test.LeastP)
}

// equals formats p with an equals sign, or with < if p is too small.
func equals(p float64) string {
	if text := trend.PText(p); text[0] == 'b' {
		return text
	}
	return "= " + trend.PText(p)
}

// trim formats x without rounding errors of binary fractions.
func trim(x float64) string { return strconv.FormatFloat(x, 'g', 6, 64) }

// water says how much water live canopy in the aquatic zone uses: always a range with the sources of
// both ends, never a single figure.
func (c *composer) water() []string {
	const low, high = field.WaterUseLowAcreFeet, field.WaterUseHighAcreFeet
	from, to := c.sumOf(low), c.sumOf(high)
	if to.Int == 0 {
		return []string{"There is no live canopy in the aquatic zone, so no water use is counted."}
	}
	return []string{
		fmt.Sprintf("Live canopy in the aquatic zone uses between %s and %s acre-feet of water a year.",
			figure(from, result.AcreFeetYearly).Shown, figure(to, result.AcreFeetYearly).Shown),
		fmt.Sprintf("Low end: %s. High end: an upper bound for dense growth in a streambed, common practice without a published source %s. The truth lies between them and depends on site and season, so no single figure is given.",
			c.stands.origin(low), c.stands.origin(high)),
	}
}

// sumOf adds up a column of the stands as printed.
func (c *composer) sumOf(name string) result.Value {
	sum := result.Value{Kind: result.Number, Decimals: result.AcreFeetYearly.Decimals()}
	for i := range c.stands.table.Rows {
		if v := c.stands.cell(i, name); v.Kind == result.Number {
			sum.Int += v.Int
		}
	}
	return sum
}

func (s sheet) origin(name string) string { return s.table.Fields[s.at[name]].Origin }
