package learn

import (
	"fmt"
	"math"
	"strconv"

	"driftreach/internal/check"
	"driftreach/internal/estimate"
	"driftreach/internal/report"
)

// Page puts the answer into words.
func (a *Answer) Page(version string) report.AnswerPage {
	p := report.AnswerPage{
		Title: "What the history of " + a.span() + " says", Version: version,
		Days: plural(len(a.Quarters), "batch") + ", " + a.span(),
		Lead: []string{"Every batch assumes rates. The answers here come from the batches themselves. Each has an interval: where the assumptions hold, the true figure lies in it 95 times in 100. " +
			"The page changes nothing. Values that the data support are in adopt.toml beside it, to be copied into the settings."},
		Parts:    []report.AnswerPart{a.riskPart(), a.distancePart(), a.treatedPart(), a.foundPart(), a.growthPart()},
		Cautions: a.cautions(),
	}
	if len(a.Quarters) != 1 {
		p.Days = strconv.Itoa(len(a.Quarters)) + " batches, " + a.span()
	}
	return p
}

// span names the first and the last quarter.
func (a *Answer) span() string {
	first, last := a.Quarters[0], a.Quarters[len(a.Quarters)-1]
	if first == last {
		return first.String()
	}
	return first.String() + " to " + last.String()
}

// cautions are what the figures of the page do not show.
func (a *Answer) cautions() []string {
	return []string{
		"This is a planning aid. The product label is the law; permits and local rules decide.",
		"What was found is what somebody looked for. Plants that nobody found are in no figure unless the page says so.",
		"The figures are of this programme, its ground and its years. Another river may differ.",
	}
}

func (a *Answer) riskPart() report.AnswerPart {
	r := &a.Risk
	part := report.AnswerPart{ID: "risk", Title: "Does the map of risk come true?", Verdict: r.verdict()}
	atRisk := r.atRisk()
	if r.Counted > 0 {
		part.Text = append(part.Text, fmt.Sprintf("Of %s, %d were found on stream that the batch before showed as at risk: %s. Of the %s km of stream that were looked at, and had been before, %s was at risk, weighted by the time between looks. The first share divided by the second is %s; 1 would be no more than elsewhere.",
			plural(r.Counted, "new stand")+" by the water that were found on ground looked at before", atRisk.Found, percents(atRisk.Share), figure(r.LookedKm, 4), percent(atRisk.Ground), times(atRisk.Ratio)))
		if area := r.Curve.Area; area.Known() {
			part.Text = append(part.Text, fmt.Sprintf("Pair each place where a new stand was found with a place where none was: in %s of the pairs more had floated by at the new stand (area under the curve; 50 %% is chance).", percents(area)))
		}
	}
	part.Text = append(part.Text, r.asideWords())
	if unexplained := r.unexplained(); len(unexplained) > 0 {
		part.Tables = append(part.Tables, report.AnswerGrid("unexplained", "New stands that no known stand explains, and the stream above each on which an unknown source may lie",
			[]string{"stand", "quarter", "stream", "#river km", "#stream to survey, km", "stretches, the nearest first"}, unexplained))
	}
	part.Pictures = a.riskPictures()
	var rows [][]string
	for _, c := range r.Classes {
		rows = append(rows, []string{c.Name, figure(c.LookedKm, 4), percent(c.Ground), strconv.Itoa(c.Found), figure(c.PerYear(), 2), times(c.Ratio)})
	}
	part.Tables = append([]report.Grid{report.AnswerGrid("classes", "New stands against stream looked at, by class of the batch before",
		[]string{"class", "#looked at, km", "#share of it", "#new stands", "#on 100 km a year", "#ratio"}, rows)}, part.Tables...)
	part.Assumed = []string{fmt.Sprintf("Assumed: a new stand within %s m of a known one is growth of that stand, and a plant taller than %s m was there before. Intervals are Wilson's; that of the area is DeLong's.", plain(a.Options.Clonal), plain(a.Options.Tall))}
	return part
}

// atRisk is the row for all stream at risk.
func (r *Risk) atRisk() ClassShare {
	if len(r.Classes) == 0 {
		return ClassShare{Share: estimate.None(), Ratio: estimate.None()}
	}
	return r.Classes[len(r.Classes)-1]
}

// verdict is the answer in one sentence.
func (r *Risk) verdict() string {
	at := r.atRisk()
	switch {
	case r.LookedKm == 0:
		return "Too little data: no stream was looked at twice. It takes two quarters with surveyed ground (--surveyed) on the same streams."
	case r.Needed > 0:
		return fmt.Sprintf("Too little data: %s found on ground looked at before. It takes about %d more.", wereNew(r.Counted), r.Needed)
	case at.Ground > 0.9:
		return fmt.Sprintf("Nothing can be said: %s of the stream that was looked at is at risk. Look at stream that is not at risk too; the random sample in survey_next.csv has some.", percent(at.Ground))
	case at.Ratio.Low > 1:
		return "It does: new stands came more often on stream at risk than on other stream looked at."
	case at.Ratio.High < 1:
		return "It does not: new stands came less often on stream at risk than on other stream looked at."
	case r.Curve.Area.Low > 0.5:
		return "Partly: it is not certain that stream at risk has more new stands than other stream looked at, but more were found where more floats."
	}
	return "It cannot tell: new stands may be as frequent on stream at risk as elsewhere."
}

func wereNew(n int) string {
	if n == 1 {
		return "1 new stand was"
	}
	return strconv.Itoa(n) + " new stands were"
}

// asideWords says which new stands do not count.
func (r *Risk) asideWords() string {
	counts := map[Kind]int{}
	for i := range r.Arrivals {
		counts[r.Arrivals[i].Kind]++
	}
	words := ""
	for _, k := range []Kind{Upland, Clonal, TooTall, Unseen} {
		if counts[k] > 0 {
			words += fmt.Sprintf(", %d %s", counts[k], k)
		}
	}
	if words == "" {
		return fmt.Sprintf("The batches have %s; all count.", plural(len(r.Arrivals), "new stand"))
	}
	return fmt.Sprintf("The batches have %s; not counted are%s. They are in new_stands.csv.", plural(len(r.Arrivals), "new stand"), words[1:])
}

func (r *Risk) unexplained() (rows [][]string) {
	for i := range r.Arrivals {
		if one := &r.Arrivals[i]; one.Kind == Miss && len(rows) < mostRows {
			rows = append(rows, []string{one.StandID, one.Quarter.String(), one.Stream, figure(one.RiverKm, 4), figure(float64(one.AboveKm), 3), check.FirstOf(one.Stretches, 6, ", ")})
		}
	}
	return rows
}

func (a *Answer) riskPictures() []report.Picture {
	var out []report.Picture
	if len(a.Lines) > 0 && a.Risk.Counted > 0 {
		one := report.Picture{Title: "Hits and misses", Text: fmt.Sprintf("Map of the streams with %s.", plural(a.Risk.Counted, "new stand")), Caption: "Filled: a new stand on stream that was at risk. Hollow: one that was not. Stream at risk is that of the last batch but one."}
		for _, line := range a.Lines {
			one.Paths = append(one.Paths, report.MapPath{Path: line.Path, Class: line.Class})
		}
		for i := range a.Risk.Arrivals {
			if at := &a.Risk.Arrivals[i]; at.Kind.Counts() {
				one.Marks = append(one.Marks, report.MapMark{At: at.At, Miss: at.Kind == Miss, Label: at.StandID + ", " + at.Quarter.String() + ": " + at.Kind.String()})
			}
		}
		out = append(out, one)
	}
	if curve := a.Risk.Curve; curve.Area.Known() {
		line := report.ChartLine{}
		for _, p := range curve.Points {
			line.At = append(line.At, [2]float64{p.Controls, p.Cases})
		}
		out = append(out, report.Picture{
			Title: "ROC curve", Text: "Share of new stands against share of other cells, from the highest exposure down: area " + percents(curve.Area) + ".",
			Caption: "Of the places looked at, those by which most had floated come first. The dashed line is chance.",
			X:       report.Axis{Label: "share of places without a new stand", Ticks: shares()}, Y: report.Axis{Label: "share of new stands", Ticks: shares()},
			Lines: []report.ChartLine{{At: [][2]float64{{0, 0}, {1, 1}}, Dashed: true}, line},
		})
	}
	return out
}

func shares() []report.Tick {
	return []report.Tick{{At: 0, Label: "0"}, {At: 0.25, Label: "25 %"}, {At: 0.5, Label: "50 %"}, {At: 0.75, Label: "75 %"}, {At: 1, Label: "100 %"}}
}

func (a *Answer) distancePart() report.AnswerPart {
	d := &a.Distance
	part := report.AnswerPart{ID: "distance", Title: "How far do fragments float?"}
	best := d.Scale.Scale
	switch d.Verdict {
	case Supported:
		part.Verdict = fmt.Sprintf("Supported: new stands lie below known ones as they do when half of what floats settles within %s times the half-distances of the settings.", times(best))
		part.Text = append(part.Text, fmt.Sprintf("That is %[2]s km by stream order, for %[1]s km in the settings. It rests on %[3]s.", numbers(d.Assumed), numbers(d.HalfDistances(best.Value)), plural(d.Counted, "new stand")))
	case NotSupported:
		part.Verdict = fmt.Sprintf("Not supported: drift would put new stands below known ones rather than above them, and %s do not show that. The assumed half-distances stay assumed.", plural(d.Counted, "new stand"))
	default:
		part.Verdict = fmt.Sprintf("Too little data: %s counted so far. %s", wereNew(d.Counted), d.neededWords())
	}
	if d.Counted > 0 && len(d.Scale.Profile) > 0 {
		if d.Verdict != Supported {
			part.Text = append(part.Text, fmt.Sprintf("The best fit so far is a factor of %s on the half-distances. It is no reason to change them.", times(best)))
		}
		part.Text = append(part.Text, fmt.Sprintf("The model puts %s of %d new stands down to drift, %s to spread both up and down the water, and %s to arrivals from elsewhere. Chains drawn at random without any drift fit as well in %s of cases; the answer is \"supported\" at %s or less.",
			figure(d.Scale.Directed, 2), d.Counted, figure(d.Scale.Either, 2), figure(d.Scale.Ground, 2), percent(d.Scale.P), percent(sureOf)))
		part.Pictures = append(part.Pictures, d.picture())
	}
	part.Assumed = []string{"Assumed: one factor on all half-distances stands for release, water stage and half-distance together, since the places where plants come up cannot tell these apart. Barriers, lakes and the shares of branches are those of the settings. Ground so close to known stands that a plant there joins them is left out, with the new stands on it. Plants that crews overlook make the distance look longer. Method: Poisson profile likelihood, with a background that is even over the stream looked at and the time between looks."}
	return part
}

func (d *Distance) neededWords() string {
	switch {
	case d.Counted == 0:
		return "It takes new stands on ground that was looked at before."
	case math.IsInf(d.Needed, 1):
		return "On the stream that was looked at, drift and spread to both sides look the same: look above known stands too."
	case float64(d.Counted) < max(leastArrivals, d.Needed):
		return fmt.Sprintf("With the stream that was looked at, it takes about %.0f.", max(leastArrivals, d.Needed))
	}
	return "They do not bound the half-distance on both sides."
}

// deepest is how far below its maximum the profile is drawn. Our choice: three times the limit of
// the interval.
const deepest = 12.0

func (d *Distance) picture() report.Picture {
	across := func(factor float64) float64 { return (math.Log2(factor) + 3) / 6 }
	line := report.ChartLine{}
	for i, v := range d.Scale.Profile {
		line.At = append(line.At, [2]float64{across(d.Scales[i]), 1 - v/deepest})
	}
	bound := 1 - 3.841459/deepest
	return report.Picture{
		Title: "Profile of the half-distance", Text: "Likelihood of the new stands by factor on the half-distances: the best is " + times(d.Scale.Scale) + ".",
		Caption: "The factors above the dashed line are within the interval.",
		X:       report.Axis{Label: "factor on the half-distances", Ticks: []report.Tick{{At: 0, Label: "1/8"}, {At: 1. / 6, Label: "1/4"}, {At: 2. / 6, Label: "1/2"}, {At: 0.5, Label: "1"}, {At: 4. / 6, Label: "2"}, {At: 5. / 6, Label: "4"}, {At: 1, Label: "8"}}},
		Y:       report.Axis{Label: "twice the log likelihood below the best", Ticks: []report.Tick{{At: 1, Label: "0"}, {At: bound, Label: "3.84"}, {At: 0.5, Label: "6"}, {At: 0, Label: "12"}}},
		Lines:   []report.ChartLine{{At: [][2]float64{{0, bound}, {1, bound}}, Dashed: true}, line},
	}
}
