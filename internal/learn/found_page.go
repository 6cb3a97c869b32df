package learn

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"time"

	"driftreach/internal/estimate"
	"driftreach/internal/field"
	"driftreach/internal/report"
	"driftreach/internal/result"
)

func (a *Answer) foundPart() report.AnswerPart {
	f := &a.Found
	part := report.AnswerPart{ID: "gone", Title: "Is it really gone?"}
	find := estimate.None()
	if len(f.Groups) > 0 {
		find = f.Groups[0].Find
	}
	if f.Used < leastPlaces {
		part.Verdict = fmt.Sprintf("Too little data: %s that two looks in one season came by, the second without knowing what the first had found, on stretches of the random sample in survey_next.csv. It takes %d places for any answer, and about %d for an answer to within a tenth.", placesWere(f.Used), leastPlaces, goodPlaces)
		part.Text = append(part.Text, "Name the file of such places with --second-looks. Until then nobody knows how many clear looks mean that nothing is left, and this page gives no number.")
	} else {
		part.Verdict = fmt.Sprintf("One look finds %s of what is there. ", percents(find)) + f.looksWords(a.Options)
		part.Text = append(part.Text, "No row has a plant that both looks missed and nobody found later. The estimate allows for such plants: the places were drawn at random, and each plant of a kind is taken to be as easy to miss as any other. Plants that no look could find are not in it.")
	}
	var rows [][]string
	for _, g := range f.Groups {
		name := g.Of
		if name == "" {
			name = g.By
		}
		row := []string{name, strconv.Itoa(g.Places), "too few to tell"}
		if g.Places >= leastPlaces {
			row[2] = percents(g.Find)
		}
		rows = append(rows, row)
	}
	if f.Used > 0 {
		part.Tables = append(part.Tables, report.AnswerGrid("find", "Share of what is there that one look finds, by size of the plants and by effort", []string{"looks", "#places", "#found"}, rows))
	}
	rows = nil
	byLooks := map[int]int{}
	for _, one := range f.Clear {
		byLooks[one.Looks]++
	}
	for _, n := range slices.Sorted(maps.Keys(byLooks)) {
		row := []string{strconv.Itoa(n), strconv.Itoa(byLooks[n]), "not known"}
		if f.Used >= leastPlaces {
			row[2] = percents(f.absent(n))
		}
		rows = append(rows, row)
	}
	if len(rows) > 0 {
		part.Tables = append(part.Tables, report.AnswerGrid("absent", "Stands that were looked for and not found: how likely it is that nothing is left", []string{"clear looks in a row", "#stands", "#nothing left"}, rows))
	}
	for _, why := range slices.Sorted(maps.Keys(f.Aside)) {
		part.Text = append(part.Text, fmt.Sprintf("Second looks: %s not counted: %s.", plural(f.Aside[why], "row"), why))
	}
	part.Assumed = []string{fmt.Sprintf("Assumed: before anybody looks, something is left of a treated stand with probability %s (--before). One look does not depend on the other, nothing new comes between them, and looks at stands find as much as these did. Method: the two-look estimate with one probability for both looks; by effort, the share of what the other look had found.", plain(a.Options.Before))}
	return part
}

// absent returns the probability that nothing is left after a number of clear looks, from the
// stands with that number.
func (f *Found) absent(looks int) estimate.Interval {
	for _, one := range f.Clear {
		if one.Looks == looks {
			return one.Absent
		}
	}
	return estimate.None()
}

// looksWords says how many clear looks give the required certainty.
func (f *Found) looksWords(o Options) string {
	if f.Looks == 0 {
		return ""
	}
	looks := plural(f.Looks, "clear look") + " in a row make"
	if f.Looks == 1 {
		looks = "1 clear look makes"
	}
	text := fmt.Sprintf("%s it at least %s likely that nothing is left", looks, percent(o.Certainty))
	if f.Safe > f.Looks {
		text += fmt.Sprintf(", and %d if a look finds as little as the lower bound", f.Safe)
	}
	return text + "."
}

func placesWere(n int) string {
	if n == 1 {
		return "there is 1 place"
	}
	return "there are " + strconv.Itoa(n) + " places"
}

func findTable(a *Answer) result.Table {
	columns := []column[FindOf]{
		{field.GroupedBy, "Grouped by", result.NoUnit, result.Text, "all, size (of the plants, as entered) or effort (of the look).", func(g *FindOf) result.Value { return result.OfText(g.By) }},
		{"group", "Group", result.NoUnit, result.Text, "Which of them; blank for all.", func(g *FindOf) result.Value { return result.OfText(g.Of) }},
		{"places", "Places", result.NoUnit, result.Count, "Places where at least one look found plants; by effort, places where the other look found plants.", func(g *FindOf) result.Value { return result.OfCount(g.Places) }},
	}
	columns = append(columns, interval("found", "Found by one look", result.Probability, "Probability that one look finds what is there.", func(g *FindOf) estimate.Interval { return g.Find })...)
	return table("found_by_a_look", "One row for each group of second looks: how often a look finds what is there", a.Found.Groups, columns)
}

func absentTable(a *Answer) result.Table {
	columns := []column[ClearStand]{
		{field.StandID, "Stand", result.NoUnit, result.Text, "Identity of the stand, which was looked for and not found.", func(c *ClearStand) result.Value { return result.OfText(c.StandID) }},
		{field.ClearLooks, "Clear looks", result.NoUnit, result.Count, "Batches in a row in which somebody looked and found nothing, up to the last.", func(c *ClearStand) result.Value { return result.OfCount(c.Looks) }},
		{"clear_years", "Clear years", result.NoUnit, result.Count, "Clear looks that follow-up counts: one a year.", func(c *ClearStand) result.Value { return result.OfCount(c.Years) }},
		{field.ClearSince, "Clear since", result.NoUnit, result.Date, "First of the looks that follow-up counts; blank for none.", func(c *ClearStand) result.Value {
			if c.Since.IsZero() {
				return result.Value{}
			}
			return result.Value{Kind: result.Date, Text: c.Since.Format(time.DateOnly)}
		}},
	}
	columns = append(columns, interval("nothing_left", "Nothing left", result.Probability, "Probability that nothing is left. It comes from the probability that one look finds what is there, and is blank where that is not known.", func(c *ClearStand) estimate.Interval { return c.Absent })...)
	return table("nothing_left", "One row for each stand that was looked for and not found: how likely it is that nothing is left", a.Found.Clear, columns)
}
