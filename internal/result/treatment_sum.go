package result

import (
	"slices"
	"strings"

	"driftreach/internal/allocate"
	"driftreach/internal/field"
	"driftreach/internal/treatment"
)

// TreatmentSum is the control work of the quarter in one row of the summary. Acres are in grains,
// rounded as printed, so that they add up exactly: ByMethod and ByClass each to Acres, streams to the
// total, and units to the total.
type TreatmentSum struct {
	Treatments, NoAcres int // NoAcres of the Treatments have no recorded acres
	Acres               int64
	ByMethod            [len(treatment.ByMethod)]int64
	ByClass             [len(treatment.ByClass)]int64
}

// wordAt returns the index of a word in words. A blank word has the last index, and a word that is not
// in the list the one before it.
func wordAt(words []treatment.Split, word string) int {
	last := len(words) - 1
	if strings.TrimSpace(word) == "" {
		return last
	}
	if k := slices.IndexFunc(words[:last-1], func(w treatment.Split) bool { return w.Word == word }); k >= 0 {
		return k
	}
	return last - 1
}

// addAcres adds acres of a treatment.
func (s *TreatmentSum) addAcres(j *Treatment, acres int64) {
	s.Acres += acres
	s.ByMethod[wordAt(treatment.ByMethod[:], j.Method)] += acres
	s.ByClass[wordAt(treatment.ByClass[:], j.FormulationClass)] += acres
}

// addTreatment counts a treatment.
func (s *TreatmentSum) addTreatment(j *Treatment) {
	s.Treatments++
	s.NoAcres += ones(!j.AcresTold())
}

// add adds the figures of another row.
func (s *TreatmentSum) add(o *TreatmentSum) {
	s.Treatments += o.Treatments
	s.NoAcres += o.NoAcres
	s.Acres += o.Acres
	for k := range s.ByMethod {
		s.ByMethod[k] += o.ByMethod[k]
	}
	for k := range s.ByClass {
		s.ByClass[k] += o.ByClass[k]
	}
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

// unitWork adds the quarter's work to the rows of reporting units: work on a stand by the stand's
// shares, other work by its position. It returns a row with the work that has no position.
func unitWork(run *Run, of func(unit int32) *Sum) Sum {
	unknown := Sum{Scope: NoPlace, Name: noStandName, Quarter: run.Quarter.String()}
	for i := range run.Treatments {
		j := &run.Treatments[i]
		switch {
		case !run.counts(j):
		case len(j.On) == 0 && j.Unit == UnknownUnit:
			unknown.Work.addTreatment(j)
			unknown.Work.addAcres(j, run.treatmentAcres(j))
		case len(j.On) == 0:
			of(j.Unit).Work.addTreatment(j)
			of(j.Unit).Work.addAcres(j, run.treatmentAcres(j))
		default:
			run.unitShares(j, of)
		}
	}
	return unknown
}

// unitShares adds a treatment to the reporting units of its stands.
func (r *Run) unitShares(j *Treatment, of func(unit int32) *Sum) {
	most, main := int64(-1), allocate.Outside
	for k, acres := range r.grounds(j) {
		shares := r.unitsOf(j, j.On[k])
		weights := make([]int64, len(shares))
		for i := range shares {
			weights[i] = shares[i].Infested
		}
		for i, part := range r.divided(acres, weights) {
			of(shares[i].Unit).Work.addAcres(j, part)
			if part > most {
				most, main = part, shares[i].Unit
			}
		}
	}
	of(main).Work.addTreatment(j)
}

// largest returns the index of the largest amount; the first of equal ones.
func largest(amounts []int64) int {
	at := 0
	for k := range amounts {
		if amounts[k] > amounts[at] {
			at = k
		}
	}
	return at
}

// sumWork are the columns of control work, if there was any in the input.
func sumWork(run *Run, rows []Sum) []Field {
	if !run.WorkGiven {
		return nil
	}
	acres := func(of func(*TreatmentSum) int64) func(*Run, int) Value {
		return func(r *Run, i int) Value { return r.acres(of(&rows[i].Work)) }
	}
	whole := func(of func(*TreatmentSum) int) func(*Run, int) Value {
		return func(_ *Run, i int) Value { return count(of(&rows[i].Work)) }
	}
	fields := []Field{
		{field.WorkDoneJobs, "Work done", NoUnit, Count, "Rows of control work dated in the quarter; each counts in the stream and the unit with most of its acres. Filled in with --treatments, like the columns of work after it.", "",
			whole(func(s *TreatmentSum) int { return s.Treatments })},
		{field.WorkDoneJobsAcresUnknown, "Work without acres", NoUnit, Count, "Rows among them without acres; they are missing in the acres of work.", "",
			whole(func(s *TreatmentSum) int { return s.NoAcres })},
		{field.WorkDoneAcres, "Acres treated", Acres, Number, "Acres treated by that work, as entered; ground treated twice counts twice. These are acres of work, not infested acres of treated stands. They count in the stream and the unit of the stand; where several stands have one former id, in proportion to their infested acres. noStand has work that names no known stand and is near none.", "",
			acres(func(s *TreatmentSum) int64 { return s.Acres })},
	}
	for k, w := range treatment.ByMethod {
		fields = append(fields, Field{w.Acres(), "Acres treated, " + w.Label(), Acres, Number, "Part of work_done_acres: " + w.Label() + "; the methods add up to it.", "",
			acres(func(s *TreatmentSum) int64 { return s.ByMethod[k] })})
	}
	for k, w := range treatment.ByClass {
		fields = append(fields, Field{w.Acres(), "Acres treated, " + w.Label(), Acres, Number, "Part of work_done_acres: " + w.Label() + "; the classes add up to it.", "",
			acres(func(s *TreatmentSum) int64 { return s.ByClass[k] })})
	}
	return fields
}
