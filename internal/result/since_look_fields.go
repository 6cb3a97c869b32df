package result

import (
	"maps"
	"slices"

	"driftreach/internal/field"
	"driftreach/internal/survey"
)

// sinceLookFields are the fields for the changes between the last two surveys, and for their quarters.
func sinceLookFields(rows []Sum) []Field {
	fields := []Field{{field.LastLooks, "Looked at last in", NoUnit, List, "Infested acres by the quarter in which they were last looked at. This quarter is listed when somebody looked at any place of the row, with 0 where nothing is left there or a correction withdrew a look-alike. A trend counts only quarters with a look.", "looked at by surveyed ground or records; the distances are assumed [A]",
		func(r *Run, i int) Value { return list(rows[i].Since.told(r)) }}}
	for k, name := range [...][3]string{
		{"gross", "Gross", "gross acres"}, {"infested", "Infested", "infested acres"}, {"canopy", "Canopy", "canopy acres"},
		{"zone", "In the zone", "infested acres in the aquatic zone"}, {"treated_stands", "Treated stands", "infested acres of stands whose status is treated"},
		{"standing_dead", "Standing dead", "infested acres of standing dead stands"},
	} {
		fields = append(fields, sinceLookField(name[0], name[1], name[2]+" between the last two looks, on ground looked at this quarter and before; carried acres do not count. Trends add these up. Blank in the first batch of a chain.",
			func(i int) int64 { return rows[i].Since.change[k] }))
	}
	fields = append(fields, sinceLookField("live", "Live", "live acres, in the same way: infested_since_last_look_acres less those of treated and standing dead stands. A stand that was treated or died is no longer live; one that grows again is.",
		func(i int) int64 { return rows[i].Since.live() }))
	return append(fields, offByLookFields(rows)...)
}

func sinceLookField(name, label, of string, change func(i int) int64) Field {
	return Field{name + "_since_last_look_acres", label + ", since the last look", Acres, Number, "Change of " + of, "",
		func(r *Run, i int) Value {
			if r.Previous == nil {
				return Value{}
			}
			return r.acres(change(i))
		}}
}

// byQuarter lists the acres by the quarter of their last survey, the earliest first.
func (s *sinceLook) byQuarter(run *Run) []quarterAcres {
	var out []quarterAcres
	for _, q := range slices.SortedFunc(maps.Keys(s.looks), func(a, b survey.Quarter) int { return a.Begin().Compare(b.Begin()) }) {
		out = append(out, quarterAcres{q, run.acres(s.looks[q])})
	}
	return out
}

// told lists the last surveys as "2026Q3 1.25", by quarter.
func (s *sinceLook) told(run *Run) []string {
	out := []string{}
	for _, l := range s.byQuarter(run) {
		out = append(out, l.quarter.String()+" "+l.acres.String())
	}
	return out
}

// Infested returns the change of infested acres, in grains.
func (s *sinceLook) Infested() int64 { return s.change[1] }

// live is the change of infested acres of stands that are neither treated nor dead.
func (s *sinceLook) live() int64 { return s.Infested() - s.change[4] - s.change[5] }
