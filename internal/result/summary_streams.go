package result

import (
	"slices"
	"strings"

	"driftreach/internal/lineage"
)

// sumStreams returns one row for each stream. A stand, even one on dry land, belongs to its nearest
// stream, and all its fragments are counted there. A reach belongs to its own stream, and control work
// to the stream of the stand it was done on.
func sumStreams(run *Run) []Sum {
	rows := make(map[string]*Sum)
	for i := range run.Stands {
		t := &run.Stands[i]
		s := row(rows, run, t.Zone.Line)
		s.addStand(t)
		acres := wholeAcres(t)
		s.addAcres(t, acres)
		s.Since.addNow(run, t, acres, t.Parts)
		s.Margin.addStand(t, acres, t.Parts)
		if run.Previous != nil {
			s.Change.addStand(run, t, t.Parts)
		}
	}
	addKnown(rows, run)
	addBefore(rows, run)
	for i := range run.Reaches {
		r := &run.Reaches[i]
		if !r.Class.AtRisk() {
			continue
		}
		row(rows, run, r.Line).addReach(r.Stage, units(float64(r.LengthKm), Kilometers))
	}
	streamWork(rows, run)
	parts := make([]Sum, 0, len(rows))
	for _, s := range rows { // sorted below
		parts = append(parts, *s)
	}
	slices.SortFunc(parts, bySection)
	return parts
}

// row returns the sum in which the centerline at index i counts.
func row(rows map[string]*Sum, run *Run, i int32) *Sum { return rowOf(rows, streamRow(run, i)) }

// streamRow returns the row for the centerline at index i, without figures.
func streamRow(run *Run, i int32) Sum {
	s := Sum{Scope: NoStream, Quarter: run.Quarter.String()}
	if i >= 0 {
		s.Scope, s.Name = WaterBody, run.Line(i).Name
		if s.Name == "" {
			s.Scope = Unnamed
		}
	}
	return s
}

// rowOf returns the sum with the same scope and name as s, and adds it if there is none.
func rowOf(rows map[string]*Sum, s Sum) *Sum {
	key := string(s.Scope) + "\x00" + s.Name
	have := rows[key]
	if have == nil {
		have = new(Sum) // not &s, so that s is allocated only for new rows
		*have, rows[key] = s, have
	}
	return have
}

// addKnown adds the stands of the previous batch. What that batch printed is added to the stream where
// a stand was then. What it has under the present rules is added where it counts now: with the stand
// that continues it.
func addKnown(rows map[string]*Sum, run *Run) {
	if run.Previous == nil {
		return
	}
	for k := range run.Previous.Known {
		known := &run.Previous.Known[k]
		if known.Absent {
			continue
		}
		then := &run.Previous.Then[k]
		rowOf(rows, knownRow(run, then.StreamID, then.WaterBody)).Change.addPrinted(then.Infested)
		now := rowOf(rows, knownRow(run, known.StreamID, known.WaterBody))
		if home := run.Previous.Home[k]; home >= 0 {
			now = row(rows, run, run.Stands[home].Zone.Line)
		}
		now.Change.addKnown(known, run.Previous.Fates[k], run.Previous.Restated[k])
		now.Margin.addKnown(run.Previous, k, run.Previous.Restated[k])
	}
}

// knownRow returns the row of the stream of a known stand, now or then.
func knownRow(run *Run, streamID, waterBody string) Sum {
	s := Sum{Scope: NoStream, Quarter: run.Quarter.String()}
	switch {
	case waterBody != "":
		s.Scope, s.Name = WaterBody, waterBody
	case streamID != "":
		s.Scope = Unnamed
	}
	return s
}

// addBefore subtracts the previous acres of known stands that were surveyed. If a stand was found
// again, they are subtracted in the row where it counts now, so that a new name of a stream causes no
// change.
func addBefore(rows map[string]*Sum, run *Run) {
	if run.Previous == nil {
		return
	}
	for k := range run.Previous.Known {
		known := &run.Previous.Known[k]
		s := rowOf(rows, knownRow(run, known.StreamID, known.WaterBody))
		switch home := run.Previous.Home[k]; {
		case run.Previous.Fates[k] == lineage.NotResurveyed:
			continue
		case home >= 0:
			s = row(rows, run, run.Stands[home].Zone.Line)
		}
		s.Since.addBefore(run, k, knownAcres(known))
	}
}

// bySection orders rows: water bodies by name, then stands on streams without a name, then those
// without a stream.
func bySection(a, b Sum) int {
	rank := map[Scope]int{WaterBody: 1, Unnamed: 2, NoStream: 3, NoStand: 4}
	if d := rank[a.Scope] - rank[b.Scope]; d != 0 {
		return d
	}
	return strings.Compare(a.Name, b.Name)
}

// streamWork adds the quarter's work to the rows of streams. Work on no known stand goes into a row of
// its own.
func streamWork(rows map[string]*Sum, run *Run) {
	for i := range run.Treatments {
		j := &run.Treatments[i]
		if !run.counts(j) {
			continue
		}
		if len(j.On) == 0 {
			s := rowOf(rows, Sum{Scope: NoStand, Name: noStandName, Quarter: run.Quarter.String()})
			s.Work.addTreatment(j)
			s.Work.addAcres(j, run.treatmentAcres(j))
			continue
		}
		parts := run.grounds(j)
		for k, g := range j.On {
			rowOf(rows, run.waterOf(g)).Work.addAcres(j, parts[k])
		}
		rowOf(rows, run.waterOf(j.On[largest(parts)])).Work.addTreatment(j)
	}
}

// waterOf returns the row of the stream in which a stand's ground counts.
func (r *Run) waterOf(g Ground) Sum {
	if g.Stand < 0 {
		known := &r.Previous.Known[g.Known]
		return knownRow(r, known.StreamID, known.WaterBody)
	}
	return streamRow(r, r.Stands[g.Stand].Zone.Line)
}
