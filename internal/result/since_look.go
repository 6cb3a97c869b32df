package result

import (
	"maps"
	"math/bits"
	"slices"

	"driftreach/internal/allocate"
	"driftreach/internal/field"
	"driftreach/internal/lineage"
	"driftreach/internal/survey"
)

// acreages are the acreages with a trend: gross, infested, canopy, in the zone, of treated stands and
// of standing dead ones.
type acreages [6]int64

// sinceLook is what became of ground since it was surveyed before this quarter, and when all of it was
// last surveyed. A trend adds up these changes, so that ground surveyed in turns counts and carried
// acres do not.
type sinceLook struct {
	change acreages                 // of ground surveyed this quarter and before
	looks  map[survey.Quarter]int64 // infested acres by quarter of the last survey
}

// look counts acres that were last surveyed in a quarter; 0 for a place where nothing is left.
func (s *sinceLook) look(q survey.Quarter, infested int64) {
	if s.looks == nil {
		s.looks = map[survey.Quarter]int64{}
	}
	s.looks[q] += infested
}

// add adds acreages: present ones with sign 1, previous ones with sign -1.
func (s *sinceLook) add(a acreages, sign int64) {
	for k := range a {
		s.change[k] += sign * a[k]
	}
}

// join adds another row.
func (s *sinceLook) join(o *sinceLook) {
	s.add(o.change, 1)
	for q, acres := range o.looks { // the order does not matter for sums
		s.look(q, acres)
	}
}

// told lists the last surveys as "2026Q3 1.25", by quarter.
func (s *sinceLook) told(run *Run) []string {
	quarters := slices.SortedFunc(maps.Keys(s.looks), func(a, b survey.Quarter) int { return a.Begin().Compare(b.Begin()) })
	out := make([]string, len(quarters))
	for i, q := range quarters {
		out[i] = q.String() + " " + run.acres(s.looks[q]).String()
	}
	return out
}

// levels returns a share's acreages, given the status of the stand.
func levels(a allocate.Share, status survey.Status) acreages {
	out := acreages{a.Gross, a.Infested, a.Canopy, a.Zone}
	switch status {
	case survey.Treated:
		out[4] = a.Infested
	case survey.StandingDead:
		out[5] = a.Infested
	}
	return out
}

// addNow adds a stand's present acres, all or a unit's share. parts is what they consist of. Acres on
// ground surveyed for the first time are no change.
func (s *sinceLook) addNow(run *Run, t *Stand, a allocate.Share, parts StandParts) {
	switch {
	case t.Change == lineage.NotResurveyed:
		s.look(t.CarriedFrom, a.Infested)
		return
	case t.Carried():
		s.look(t.CarriedFrom, a.Infested)
		s.add(levels(a, t.Status), 1)
		return
	case parts.Carried > 0:
		s.look(run.Previous.Quarter, parts.Carried)
	}
	s.look(run.Quarter, a.Infested-parts.Carried)
	if parts.FirstLooked > 0 {
		a = partOf(a, a.Infested-parts.FirstLooked)
	}
	s.add(levels(a, t.Status), 1)
}

// addBefore subtracts the acres that a known stand had, all or a unit's share, if its place was
// surveyed this quarter.
func (s *sinceLook) addBefore(run *Run, k int, a allocate.Share) {
	known := &run.Previous.Known[k]
	switch fate := run.Previous.Fates[k]; {
	case fate == lineage.NotResurveyed:
	case known.Absent && fate == lineage.NotDetected:
		s.look(run.Quarter, 0)
	case known.Absent:
	default:
		switch fate {
		case lineage.NotDetected:
			s.look(run.Quarter, a.Infested)
		case lineage.Misidentified: // known not to exist
			s.look(run.Quarter, 0)
		}
		s.add(levels(a, known.Status), -1)
	}
}

// knownAcres returns the acreages of a known stand, under the present rules.
func knownAcres(k *lineage.Known) allocate.Share {
	return allocate.Share{
		Gross: k.Gross.Grains(), Infested: k.InfestedAcres(), Canopy: k.Canopy.Grains(), Zone: k.Zone.Grains(),
	}
}

// partOf scales acreages to a part with the given infested acres.
func partOf(all allocate.Share, infested int64) allocate.Share {
	if all.Infested == 0 {
		return allocate.Share{}
	}
	part := func(n int64) int64 { // the product may not fit into 64 bits
		high, low := bits.Mul64(uint64(n), uint64(min(infested, all.Infested)))
		share, _ := bits.Div64(high, low, uint64(all.Infested))
		return int64(share)
	}
	return allocate.Share{Gross: part(all.Gross), Infested: infested, Canopy: part(all.Canopy), Zone: part(all.Zone)}
}

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

// Infested returns the change of infested acres, in grains.
func (s *sinceLook) Infested() int64 { return s.change[1] }

// live is the change of infested acres of stands that are neither treated nor dead.
func (s *sinceLook) live() int64 { return s.Infested() - s.change[4] - s.change[5] }

func sinceLookField(name, label, of string, change func(i int) int64) Field {
	return Field{name + "_since_last_look_acres", label + ", since the last look", Acres, Number, "Change of " + of, "",
		func(r *Run, i int) Value {
			if r.Previous == nil {
				return Value{}
			}
			return r.acres(change(i))
		}}
}
