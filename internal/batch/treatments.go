package batch

import (
	"crypto/sha256"
	"fmt"
	"slices"
	"strconv"
	"time"

	"driftreach/geo"
	"driftreach/internal/allocate"
	"driftreach/internal/check"
	"driftreach/internal/result"
	"driftreach/internal/survey"
	"driftreach/internal/treatment"
)

// mostOfStand is the ratio of treated to infested acres of a stand in a quarter above which a finding
// is made. Our choice: the ground treated twice.
const mostOfStand = 2

// addTreatments lists the control work known in the chain, with the stands it was done on. done gives
// the stands of each action; at gives the index of a stand on the map by its id. A piece of work counts
// in the acres of at most one quarter.
func (c *computation) addTreatments(done [][]string, at map[string]int32) {
	c.run.WorkGiven = c.in.WorkGiven
	var carried []result.Treatment
	known := map[string]int32{}
	if before := c.in.Previous; before != nil {
		carried = before.Treatments
		for k := range before.Known {
			known[before.Known[k].ID] = int32(k)
		}
	}
	told := make(map[string]int, len(carried))
	jobs := slices.Clone(carried)
	for i := range carried {
		told[carried[i].Key] = i
	}
	early, late := survey.Spans{}, survey.Spans{}
	begun := c.chainBegun()
	for k := range c.in.Actions {
		a := &c.in.Actions[k]
		j := result.Treatment{Treatment: *a, Key: jobKey(a), Unit: result.UnknownUnit}
		i, again := told[j.Key]
		counted := again && !jobs[i].CountedIn.IsZero()
		switch counts := survey.DayOf(a.Date) >= c.in.WorkFirst; {
		case again && (counted || !counts):
			continue // keep the previous batch's version
		case counts:
			j.CountedIn = c.run.Quarter
		case survey.DayOf(a.Date) >= begun:
			late.Take(a.File, survey.DayOf(a.Date), survey.DayOf(a.Date))
		default:
			early.Take(a.File, survey.DayOf(a.Date), survey.DayOf(a.Date))
		}
		for _, id := range done[k] {
			if stand, there := at[id]; there {
				j.On = append(j.On, result.Ground{Stand: stand, Known: -1})
			} else if old, there := known[id]; there {
				j.On = append(j.On, result.Ground{Stand: -1, Known: old})
			}
		}
		if again {
			jobs[i] = j
			continue
		}
		jobs = append(jobs, j)
	}
	result.SortTreatments(jobs)
	c.run.Treatments = jobs
	c.tellEarly(early, treatment.RuleBeforeQuarter(), "part of follow-up, and in the acres of no quarter")
	c.tellEarly(late, treatment.RuleTooLate(), "the batch of its quarter was made without it, so that its acres are among those treated of no quarter; part of follow-up")
	c.run.Findings = append(c.run.Findings, c.beyondStands()...)
}

// placeTreatments finds the reporting unit of work that has a position but is on no mapped stand.
func (c *computation) placeTreatments(units *allocate.Map) {
	for i := range c.run.Treatments {
		if j := &c.run.Treatments[i]; j.Placed && !slices.ContainsFunc(j.On, func(g result.Ground) bool { return g.Stand >= 0 }) {
			j.Unit = units.At(j.Position)
		}
	}
}

// keyLength is the length of a work key in hexadecimal digits: 64 bits.
const keyLength = 16

// jobKey returns a key made from everything that is recorded about a piece of work.
func jobKey(a *treatment.Treatment) string {
	said := fmt.Sprintf("%s\n%q\n%t %v\n%q\n%q\n%v\n%+v", a.Date.Format(time.DateOnly), a.StandID, a.Placed, a.Position, a.Method, a.FormulationClass, a.TreatedAcres, quoted(a.Application))
	if a.Photos != "" { // only then, so that older keys stay the same
		said += fmt.Sprintf("\n%q", a.Photos)
	}
	if len(a.Ground) > 0 { // only then, so that older keys stay the same
		said += fmt.Sprintf("\n%v", a.Ground)
	}
	return fmt.Sprintf("%x", sha256.Sum256([]byte(said)))[:keyLength]
}

// quoted returns the values of an application with its texts quoted, so that two different ones never
// look the same.
func quoted(a treatment.Application) []any {
	return []any{
		strconv.Quote(a.Product), strconv.Quote(a.Registration), a.Amount, strconv.Quote(a.AmountUnit), strconv.Quote(a.Applicator),
		strconv.Quote(a.Licence), strconv.Quote(a.Start), strconv.Quote(a.End), a.Wind, a.Temperature, a.Hours,
	}
}

// chainBegun returns the first day of the first quarter of the chain; that of this quarter if it begins
// one.
func (c *computation) chainBegun() survey.Day {
	first := c.run.Quarter
	if before := c.in.Previous; before != nil {
		first = before.Quarter
		if h := before.History.Batches; len(h) > 0 {
			first = h[0].Quarter
		}
	}
	return survey.DayOf(first.Begin())
}

// tellEarly reports, once a file, work that is dated before the first day that counts and was counted
// in no earlier batch.
func (c *computation) tellEarly(early survey.Spans, rule check.Rule, what string) {
	for file, s := range early { // findings are sorted
		c.run.Findings = append(c.run.Findings, check.Finding{
			Rule: rule, File: file, Field: "date", Value: s.String(),
			Message: fmt.Sprintf("%s of work dated before %s, the first day that counts for %s: %s", rowsOf(s.Rows), c.in.WorkFirst, c.run.Quarter, what),
		})
	}
}

func rowsOf(n int) string {
	if n == 1 {
		return "1 row"
	}
	return strconv.Itoa(n) + " rows"
}

// beyondStands finds work of the quarter that treated more than twice the acres of its stand: a single
// row, or the row with which the sum of rows passes that.
func (c *computation) beyondStands() []check.Finding {
	var found []check.Finding
	type sum struct {
		acres float64
		rows  int
		told  bool
	}
	sums := map[result.Ground]*sum{}
	for i := range c.run.Treatments {
		j := &c.run.Treatments[i]
		if len(j.On) == 0 || !j.AcresTold() || j.Carried || j.CountedIn != c.run.Quarter {
			continue
		}
		if sums[j.On[0]] == nil {
			sums[j.On[0]] = &sum{}
		}
		s, has, name := sums[j.On[0]], 0.0, "stand"
		s.acres += j.TreatedAcres
		s.rows++
		for k, g := range j.On {
			id, acres := c.run.GroundBefore(g)
			has += acres
			name += []string{" ", " and "}[min(k, 1)] + id
		}
		message := ""
		switch {
		case j.TreatedAcres > mostOfStand*has:
			message = fmt.Sprintf("%s acres treated on %s, more than twice its %s infested acres", geo.Acres(j.TreatedAcres).Text(), name, geo.Acres(has).Text())
		case len(j.On) == 1 && s.acres > mostOfStand*has && !s.told:
			message = fmt.Sprintf("%s acres treated on %s in %s of the quarter, more than twice its %s infested acres", geo.Acres(s.acres).Text(), name, rowsOf(s.rows), geo.Acres(has).Text())
		default:
			continue
		}
		s.told = true
		f := check.Finding{
			Rule: treatment.RuleBeyondStand(), File: j.File, Record: "row " + strconv.Itoa(j.Row), Field: "treated_acres",
			Value: check.Digits(j.TreatedAcres, 10), Message: message + "; it counts as it was entered",
		}
		if j.Placed {
			f.Position = &j.Position
		}
		found = append(found, f)
	}
	return found
}
