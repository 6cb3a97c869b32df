package result

import (
	"fmt"
	"slices"
	"strings"

	"driftreach/internal/field"
	"driftreach/internal/stretch"
)

// SurveyNextTable returns the table of where to survey next, one row for each stretch of stream.
func SurveyNextTable(run *Run) Table {
	return Table{
		Name: "survey_next", Title: "One row for each stretch of stream in the order in which to look: the list first, then the rest by rank",
		Fields: slices.Concat(stretchPlace(), stretchLooks(), stretchReasons()), Rows: len(run.Stretches),
	}
}

func stretchPlace() []Field {
	of := func(r *Run, i int) *stretch.Stretch { return &r.Stretches[i] }
	return []Field{
		{field.SurveyOrder, "Survey order", NoUnit, Count, "1 first. Stretches are ranked by exposure_density; a share of the list goes to stretches for which drift says nothing, and another to a random sample.", "[A]",
			func(r *Run, i int) Value { return count(i + 1) }},
		{field.StretchID, "Stretch", NoUnit, Text, "Identity of the stretch: its uppermost stream line, a slash, its number there from the upper end. It changes when the length of stretches or the streams change.", "",
			func(r *Run, i int) Value { return text(of(r, i).ID) }},
		{field.Listed, "On the list", NoUnit, Flag, "Whether it is on the list, which is the first survey_next.list_share of all kilometres.", "[A]",
			func(r *Run, i int) Value { return flag(of(r, i).Listed) }},
		{field.Why, "Why", NoUnit, List, "never looked at in this chain of batches, or most of it: half of its banks or more. exposure: fragments floated by since it was last looked at. above the highest stand of its tributary: the plants of that stand came from somewhere. head of a stream: where plants from beyond the network come in. " +
			"planned work below a live stand: ground is opened where fragments come. random sample.", "common practice [C]",
			func(r *Run, i int) Value { return list(r.whyLook(of(r, i))) }},
		{"stream_ids", "Stream lines", NoUnit, List, "Identities of the stream lines that it lies on, downstream.", "",
			func(r *Run, i int) Value {
				var ids []string
				for _, line := range of(r, i).Lines {
					ids = append(ids, r.Line(line).ID)
				}
				return list(ids)
			}},
		{field.WaterBody, "Stream", NoUnit, Text, "Name of the stream; blank when it has none.", "Darwin Core waterBody [P]",
			func(r *Run, i int) Value { return text(r.Line(of(r, i).Lines[0]).Name) }},
		{"from_km", "From river km", Kilometers, Number, "River km at the upstream end: distance to the outlet along the main path.", "",
			func(r *Run, i int) Value { return number(of(r, i).FromKm, Kilometers) }},
		{"to_km", "To river km", Kilometers, Number, "River km at the downstream end.", "",
			func(r *Run, i int) Value { return number(of(r, i).ToKm, Kilometers) }},
		{field.LengthKm, "To walk", Kilometers, Number, "Length of the stretch along the channel. Confluences end a stretch, and survey_next.stretch_km is the longest.", "[A]",
			func(r *Run, i int) Value { return number(of(r, i).Length.Kilometers(), Kilometers) }},
		{field.DecimalLongitude, "Upper end, longitude", Degrees, Number, "WGS 84.", "",
			func(r *Run, i int) Value { return number(of(r, i).Start()[0], Degrees) }},
		{field.DecimalLatitude, "Upper end, latitude", Degrees, Number, "WGS 84.", "",
			func(r *Run, i int) Value { return number(of(r, i).Start()[1], Degrees) }},
	}
}

func stretchLooks() []Field {
	of := func(r *Run, i int) *stretch.Stretch { return &r.Stretches[i] }
	return []Field{
		{field.LookedAt, "Looked at", NoUnit, Text, "When more than half of its banks were last looked at: never (in this chain of batches), quarter not known (the batches before did not keep it), or the quarter since which half of them were looked at.", "distances assumed [A]",
			func(r *Run, i int) Value { return text(lookWord(of(r, i).Last)) }},
		{field.QuartersSinceLook, "Quarters since", NoUnit, Count, "Quarters from looked_at to this one; 0 for this one. Blank where looked_at is never or not known.", "distances assumed [A]",
			func(r *Run, i int) Value {
				n, known := of(r, i).Last.Quarters(r.Quarter)
				if !known {
					return Value{}
				}
				return count(n)
			}},
		{field.NeverLookedPercent, "Banks never looked at", Percent, Number, "Share of its banks, both sides, that nobody looked at in this chain of batches.", "distances assumed [A]",
			func(r *Run, i int) Value { return number(100*of(r, i).NeverShare, Percent) }},
		{field.ExposureDensity, "Exposure since, for each km", Index, Number, "exposure_since_look for each kilometre to walk; stretches are ranked by it.", "relative index [A]",
			func(r *Run, i int) Value { return number(of(r, i).PerKm(), Index) }},
		{"exposure_since_look", "Exposure since it was looked at", IndexKm, Number, "What floated by in the quarters after each bank was last looked at, up to this one: the amount afloat in each, as stands were known then, summed over kilometres and quarters, both banks taken together. A quarter without a batch counts as the next one does.", "relative index [A]",
			func(r *Run, i int) Value { return number(of(r, i).Exposure, IndexKm) }},
		{"exposure_counted_from", "Counted from", NoUnit, Text, "First quarter counted in exposure_since_look, anywhere on the stretch. What floated by before the first known quarter is not counted. For banks that nobody ever looked at, the true exposure is at least as much.", "",
			func(r *Run, i int) Value { return quarterText(of(r, i).Counted) }},
		{"exposure_now", "Exposure this quarter", IndexKm, Number, "What floats by this quarter, summed over kilometres, looked at or not.", "relative index [A]",
			func(r *Run, i int) Value { return number(of(r, i).Now, IndexKm) }},
	}
}

func stretchReasons() []Field {
	of := func(r *Run, i int) *stretch.Stretch { return &r.Stretches[i] }
	return []Field{
		{field.StandsNear, "Live stands near by", NoUnit, Count, "Live stands within survey_next.near_m of the stretch.", "[A]",
			func(r *Run, i int) Value { return count(int(of(r, i).StandsNear)) }},
		{"nearest_stand_id", "Nearest of them", NoUnit, Text, "The live stand nearest to it within that distance; blank for none.", "",
			func(r *Run, i int) Value { return text(r.standID(of(r, i).NearestStand)) }},
		{"works", "Planned works on it", NoUnit, List, "Identities of the planned works that touch the aquatic zone here, on stream that a live stand puts at risk. Works that are over count too, since opened ground stays open.", "",
			func(r *Run, i int) Value { return list(r.workIDs(of(r, i).Works)) }},
		{field.Access, "Access", NoUnit, List, "Text of the column access, in the survey points and in --treatable, for the live stands near by; blank where nobody said how to get to the stretch.", "",
			func(r *Run, i int) Value { return list(of(r, i).Access) }},
		{field.RandomSample, "In the random sample", NoUnit, Flag, "Whether it was drawn for the random sample.", "",
			func(r *Run, i int) Value { return flag(of(r, i).Draw > 0) }},
		{field.InclusionProbability, "Chance of being in it", Probability, Number, "Probability with which each stretch was drawn for the random sample, the same for all rows. An estimate from the sample divides by it.", "simple random sampling without replacement [P]",
			func(r *Run, i int) Value { return number(of(r, i).Chance, Probability) }},
	}
}

// lookWord describes a survey.
func lookWord(l stretch.Look) string {
	switch l.State {
	case stretch.Never:
		return "never"
	case stretch.Unknown:
		return "quarter not known"
	}
	return l.Quarter.String()
}

// whyLook gives the reasons for the place of a stretch in the list.
func (r *Run) whyLook(s *stretch.Stretch) []string {
	var why []string
	switch {
	case s.Last.State == stretch.Never && s.NeverShare < 1:
		why = append(why, "most of it never looked at")
	case s.Last.State == stretch.Never:
		why = append(why, "never looked at")
	}
	if s.Exposure > 0 {
		why = append(why, "exposure")
	}
	if s.Above {
		why = append(why, "above the highest stand of its tributary")
	}
	if s.Head {
		why = append(why, "head of a stream")
	}
	if len(s.Works) > 0 {
		why = append(why, fmt.Sprintf("planned work below a live stand: %s", strings.Join(r.workIDs(s.Works), ", ")))
	}
	if s.Draw > 0 {
		why = append(why, "random sample")
	}
	return why
}

// workIDs returns the ids of planned works.
func (r *Run) workIDs(works []int32) []string {
	ids := make([]string, len(works))
	for i, w := range works {
		ids[i] = r.Works[w].ID
	}
	return ids
}
