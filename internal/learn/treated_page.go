package learn

import (
	"fmt"
	"strconv"
	"time"

	"driftreach/internal/estimate"
	"driftreach/internal/field"
	"driftreach/internal/report"
	"driftreach/internal/result"
)

func (a *Answer) treatedPart() report.AnswerPart {
	t := &a.Treated
	part := report.AnswerPart{ID: "treatment", Title: "Does treatment work?"}
	all := t.all()
	if !all.Told() {
		part.Verdict = fmt.Sprintf("Too little data: %d days of work on a stand have a look before and a look after; %s.", t.Jobs, all.lacking())
	} else {
		part.Verdict = fmt.Sprintf("Observed, not caused: of the live acres before work %s were gone at the first look %d days or more after it, and %s at the last look before the next work.", percents(all.Control), a.Options.Later, percents(all.Held))
	}
	part.Text = append(part.Text, "These figures show what was observed after work, not what work caused: no stands, drawn at random, were left untreated to compare with, and hard stands get more visits.")
	if all.Watched > 0 {
		part.Text = append(part.Text, fmt.Sprintf("After %d days of work the first look found nothing live and somebody looked once more later; %s of these were live again.", all.Watched, percents(all.Regrown)))
	}
	if t.Unjudged > 0 {
		part.Text = append(part.Text, fmt.Sprintf("%s of work on a stand not counted: there was no look before, no look after that counts, or nothing live at the look before.", plural(t.Unjudged, "day")))
	}
	var rows [][]string
	for _, e := range t.Groups {
		name := e.Of
		if name == "" {
			name = e.By
		} else {
			name = e.By + ": " + name
		}
		row := []string{name, strconv.Itoa(e.Jobs), strconv.Itoa(e.Stands), strconv.Itoa(e.Clusters), acres(e.Before), acres(e.After), "too few to tell", "too few to tell"}
		if e.Told() {
			row[6], row[7] = percents(e.Control), percents(e.Held)
		}
		if len(rows) < mostRows {
			rows = append(rows, row)
		}
	}
	if t.Jobs > 0 {
		part.Tables = append(part.Tables, report.AnswerGrid("effect", "Live acres before work and after it",
			[]string{"work", "#days on a stand", "#stands", "#crews on days", "#acres before", "#acres after", "#gone at the first look", "#gone at the last"}, rows))
	}
	rows = nil
	for _, c := range t.Clear {
		share := "too few to tell"
		if c.Stands >= leastStands {
			share = percents(c.Share)
		}
		rows = append(rows, []string{strconv.Itoa(c.Visits), strconv.Itoa(c.Stands), share})
	}
	if t.Stands > 0 {
		part.Tables = append(part.Tables, report.AnswerGrid("clear", "Stands with nothing live, by how many days of work they had; cleared between two looks",
			[]string{"days of work", "#stands that tell", "#share clear"}, rows))
	}
	rows = nil
	for _, h := range t.Hard {
		if len(rows) < mostRows {
			rows = append(rows, []string{h.StandID, strconv.Itoa(h.Visits), h.Last.Format(time.DateOnly), h.Seen.Format(time.DateOnly), acres(h.Acres)})
		}
	}
	if len(rows) > 0 {
		part.Tables = append(part.Tables, report.AnswerGrid("hard", "Stands treated three times or more and still live",
			[]string{"stand", "#days of work", "last work", "live on", "#live acres"}, rows))
	}
	rows = nil
	for _, l := range a.Labour {
		share := "too few to tell"
		if l.Stands >= leastStands {
			share = percents(l.Share)
		}
		rows = append(rows, []string{strconv.Itoa(l.Year), strconv.Itoa(l.Stands), share})
	}
	if len(rows) > 0 {
		part.Tables = append(part.Tables, report.AnswerGrid("labour", "Hours of work in the years after a stand's first, as a share of the first year's",
			[]string{"year after the first", "#stands", "#share of the first year's hours"}, rows))
	}
	part.Assumed = []string{fmt.Sprintf("Assumed: a look shows what work did from %d days after it on; patches treated within %d days of the look before were live at that look. Standing dead plants count as gone. Stands are left out once they merge or split, and so are looks that saw only a part of a stand. Method: intervals take all work of one crew on one day as one cluster; times of clearing are by Turnbull's method.", a.Options.Later, sameDays)}
	return part
}

// all is the group of all work.
func (t *Treated) all() *Effect {
	if len(t.Groups) == 0 {
		return &Effect{Control: estimate.None(), Held: estimate.None(), Regrown: estimate.None()}
	}
	return &t.Groups[0]
}

func (a *Answer) growthPart() report.AnswerPart {
	g := &a.Growth
	part := report.AnswerPart{ID: "growth", Title: "How fast does it grow?"}
	all := GrowthOf{Yearly: estimate.None()}
	if len(g.Groups) > 0 {
		all = g.Groups[0]
	}
	if all.Stands < leastStands {
		part.Verdict = fmt.Sprintf("Too little data: %s measured over half a year or more and not treated. It takes about %d.", wereStands(all.Stands), leastStands)
	} else {
		part.Verdict = fmt.Sprintf("Untreated stands grew by %s a year in acres.", more(all.Yearly))
	}
	var rows [][]string
	for _, one := range g.Groups {
		name := one.Of
		if name == "" {
			name = one.By
		}
		row := []string{name, strconv.Itoa(one.Stands), figure(one.Years, 3), "too few to tell"}
		if one.Stands >= leastStands {
			row[3] = more(one.Yearly)
		}
		rows = append(rows, row)
	}
	if len(rows) > 0 {
		part.Tables = append(part.Tables, report.AnswerGrid("growth-table", "Growth of untreated stands, by their size at first and by water",
			[]string{"stands", "#stands that tell", "#years in all", "#growth a year"}, rows))
	}
	if g.Short > 0 {
		part.Text = append(part.Text, fmt.Sprintf("%s not counted: all looks lie within half a year, or nobody measured the patches.", plural(g.Short, "stand")))
	}
	part.Assumed = []string{"Counted: measured patches at every look that saw the whole stand, until somebody worked on it. A stand that is treated early has few looks here: if crews treat fast-growing stands first, true growth is more than this. Method: the slope of the logarithm of acres within stands, weighted by patches, each stand one cluster; the interval is Student's."}
	return part
}

func wereStands(n int) string {
	if n == 1 {
		return "1 stand was"
	}
	return strconv.Itoa(n) + " stands were"
}

// more prints a yearly factor as an increase.
func more(i estimate.Interval) string {
	return spanned(estimate.Interval{Value: i.Value - 1, Low: i.Low - 1, High: i.High - 1}, percent, "unknown")
}

func effectTable(a *Answer) result.Table {
	columns := []column[Effect]{
		{field.GroupedBy, "Grouped by", result.NoUnit, result.Text, "all, method, formulation class, season (calendar quarter of the work) or status before.", func(e *Effect) result.Value { return result.OfText(e.By) }},
		{"group", "Group", result.NoUnit, result.Text, "Which of them, as it was written; blank for all.", func(e *Effect) result.Value { return result.OfText(e.Of) }},
		{field.WorkDays, "Days of work", result.NoUnit, result.Count, "Days of work on a stand with something live at the look before and a look after it that counts.", func(e *Effect) result.Value { return result.OfCount(e.Jobs) }},
		{field.Stands, "Stands", result.NoUnit, result.Count, "Stands worked on.", func(e *Effect) result.Value { return result.OfCount(e.Stands) }},
		{"crew_days", "Crews on days", result.NoUnit, result.Count, "Number of days and applicators: all work of one applicator on one day is one cluster for the intervals.", func(e *Effect) result.Value { return result.OfCount(e.Clusters) }},
		{field.BeforeAcres, "Before", result.Acres, result.Number, "Live acres at the last look before the work.", func(e *Effect) result.Value { return result.OfNumber(e.Before, result.Acres) }},
		{field.AfterAcres, "After", result.Acres, result.Number, "Live acres at the first look after it that counts.", func(e *Effect) result.Value { return result.OfNumber(e.After, result.Acres) }},
		{field.LastAcres, "Last", result.Acres, result.Number, "Live acres at the last look before the next work, or the last of all.", func(e *Effect) result.Value { return result.OfNumber(e.Last, result.Acres) }},
	}
	columns = append(columns, interval(field.Control, "Gone at the first look", result.Probability, "Share of before_acres that was gone at the look of after_acres; below 0 where there was more. It says what was seen, not what caused it.", func(e *Effect) estimate.Interval { return e.Control })...)
	columns = append(columns, interval(field.ControlHeld, "Gone at the last look", result.Probability, "Share of before_acres that was gone at the look of last_acres.", func(e *Effect) estimate.Interval { return e.Held })...)
	columns = append(columns, column[Effect]{field.Watched, "Watched", result.NoUnit, result.Count, "Days of work after which the first look found nothing live, and that had a later look before the next work.", func(e *Effect) result.Value { return result.OfCount(e.Watched) }})
	columns = append(columns, interval("regrown", "Live again", result.Probability, "Share of watched that were live at a later look; blank where none was watched.", func(e *Effect) estimate.Interval { return e.Regrown })...)
	return table("treatment_effect", "One row for each group of work: live acres before and after it", a.Treated.Groups, columns)
}

func clearTable(a *Answer) result.Table {
	columns := []column[ClearBy]{
		{field.WorkDays, "Days of work", result.NoUnit, result.Count, "Number of days of work on a stand.", func(c *ClearBy) result.Value { return result.OfCount(c.Visits) }},
		{field.Stands, "Stands that count", result.NoUnit, result.Count, "Stands that were clear by then, and stands that were still live after so many days of work.", func(c *ClearBy) result.Value { return result.OfCount(c.Stands) }},
	}
	columns = append(columns, interval("clear", "Share clear", result.Probability, "Share of treated stands with nothing live after so many days of work, nor at any later look. Turnbull's estimate, since a stand becomes clear at an unknown time between two looks.", func(c *ClearBy) estimate.Interval { return c.Share })...)
	return table("treatment_clear", "One row for each number of days of work, with the share of stands that are clear by then", a.Treated.Clear, columns)
}

func hardTable(a *Answer) result.Table {
	day := func(t time.Time) result.Value {
		if t.IsZero() {
			return result.Value{}
		}
		return result.Value{Kind: result.Date, Text: t.Format(time.DateOnly)}
	}
	return table("hard_stands", "One row for each stand that was treated three times or more and was live at the last look", a.Treated.Hard, []column[HardStand]{
		{field.StandID, "Stand", result.NoUnit, result.Text, "Identity of the stand.", func(h *HardStand) result.Value { return result.OfText(h.StandID) }},
		{field.WorkDays, "Days of work", result.NoUnit, result.Count, "Days of work on it before the last look.", func(h *HardStand) result.Value { return result.OfCount(h.Visits) }},
		{field.LastTreated, "Last work", result.NoUnit, result.Date, "Last day of work on it.", func(h *HardStand) result.Value { return day(h.Last) }},
		{field.LastSeen, "Live on", result.NoUnit, result.Date, "Day of the last look.", func(h *HardStand) result.Value { return day(h.Seen) }},
		{field.LiveAcres, "Live", result.Acres, result.Number, "Live acres then.", func(h *HardStand) result.Value { return result.OfNumber(h.Acres, result.Acres) }},
	})
}

func labourTable(a *Answer) result.Table {
	columns := []column[Labour]{
		{"year_after_first", "Year after the first", result.NoUnit, result.Count, "1 is the second year since a stand was first worked on.", func(l *Labour) result.Value { return result.OfCount(l.Year) }},
		{field.Stands, "Stands", result.NoUnit, result.Count, "Stands with hours of work, first worked on so long ago that this year is over.", func(l *Labour) result.Value { return result.OfCount(l.Stands) }},
	}
	columns = append(columns, interval("labour_share", "Share of the first year's", result.Probability, "Hours of work in the year divided by those of the first year, for the same stands.", func(l *Labour) estimate.Interval { return l.Share })...)
	return table("labour", "One row for each year after a stand's first, with its labour as a share of the first year's", a.Labour, columns)
}

func growthTable(a *Answer) result.Table {
	columns := []column[GrowthOf]{
		{field.GroupedBy, "Grouped by", result.NoUnit, result.Text, "all, size (measured acres at the first look) or water.", func(g *GrowthOf) result.Value { return result.OfText(g.By) }},
		{"group", "Group", result.NoUnit, result.Text, "Which of them; blank for all.", func(g *GrowthOf) result.Value { return result.OfText(g.Of) }},
		{field.Stands, "Stands", result.NoUnit, result.Count, "Untreated stands measured over half a year or more.", func(g *GrowthOf) result.Value { return result.OfCount(g.Stands) }},
		{field.StandYears, "Years in all", result.Index, result.Number, "Years between the first look and the last, summed over the stands.", func(g *GrowthOf) result.Value { return result.OfNumber(g.Years, result.Index) }},
	}
	columns = append(columns, interval("yearly_factor", "Factor a year", result.Index, "Acres after a year divided by acres before: 1.2 is a fifth more.", func(g *GrowthOf) estimate.Interval { return g.Yearly })...)
	return table("growth", "One row for each group of untreated stands, with how fast they grow", a.Growth.Groups, columns)
}
