package trend

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"driftreach/internal/field"
)

// maxQuarters is the largest span of a history. Our choice: a century; a longer span comes from a
// mistyped year.
const maxQuarters = 400

// NewRow returns the row of a section without anything, that reports its looks: all figures are
// blank, except the levels, which are 0.
func NewRow(scope field.RowScope) Row {
	r := Row{Scope: scope, LooksTold: true}
	for m := levels; m < measures; m++ {
		r.Figures[m] = Blank
	}
	return r
}

// Assemble sorts batches by their quarters and computes their trends. A quarter stays open for a
// section without a row in the batch. It also stays open for the acres of a section without acres
// that nobody surveyed; a surveyed section with nothing left has 0. Two batches for one quarter, or
// more than maxQuarters from first to last, are an error; no batches give an empty history.
func Assemble(batches []Batch, rules Rules) (*History, error) {
	h := &History{}
	if len(batches) == 0 {
		return h, nil
	}
	if err := h.assemble(batches); err != nil {
		return nil, err
	}
	h.judge(rules)
	return h, nil
}

// assemble fills in everything except the trends.
func (h *History) assemble(batches []Batch) error {
	sorted := slices.SortedFunc(slices.Values(batches), func(a, b Batch) int {
		return cmp.Compare(a.Quarter.Ordinal(), b.Quarter.Ordinal())
	})
	first, last := sorted[0].Quarter, sorted[len(sorted)-1].Quarter
	if span := last.Ordinal() - first.Ordinal() + 1; span > maxQuarters {
		return fmt.Errorf("%s and %s are %d quarters apart, more than %d", first, last, span-1, maxQuarters)
	}
	for q := first; q.Ordinal() <= last.Ordinal(); q = q.Next() {
		h.Quarters = append(h.Quarters, q)
	}
	h.Known, h.Apart, h.Breaks = make([]bool, len(h.Quarters)), make([]bool, len(h.Quarters)), make([]bool, len(h.Quarters))
	sections := map[sectionKey]*Section{}
	for _, b := range sorted {
		at := b.Quarter.Ordinal() - first.Ordinal()
		if h.Known[at] {
			return fmt.Errorf("two batches of %s", b.Quarter)
		}
		h.Known[at], h.Apart[at], h.Breaks[at] = true, b.Apart, b.ReachApart && at > 0
		if err := h.enter(sections, b, at); err != nil {
			return err
		}
	}
	for _, s := range sections { // sorted below
		h.Sections = append(h.Sections, *s)
	}
	slices.SortFunc(h.Sections, bySection)
	h.correct(batches)
	return nil
}

// enter copies the rows of a batch into their sections.
func (h *History) enter(sections map[sectionKey]*Section, b Batch, at int) error {
	for i := range b.Rows {
		r := &b.Rows[i]
		key := (&Section{Scope: r.Scope, Name: r.Name, UnitID: r.UnitID}).key()
		s := sections[key]
		if s == nil {
			s = &Section{Scope: r.Scope, UnitID: r.UnitID, Figures: make([]*Figures, len(h.Quarters)), Ages: make([]map[int]float64, len(h.Quarters)), Offs: make([]*[offs]*Off, len(h.Quarters))}
			sections[key] = s
		}
		s.Name = r.Name
		if s.Figures[at] != nil {
			return fmt.Errorf("batch %s has two rows for %s %s", b.Quarter, r.Scope, r.Name)
		}
		s.Offs[at] = r.Off
		if s.Figures[at] = &r.Figures; workAlone(r.Scope) {
			s.Figures[at] = r.Figures.workAlone()
		} else if r.lookedAt(b.Quarter) {
			s.Ages[at] = r.ages(b.Quarter)
		} else if r.Figures[Infested] == 0 && s.Scope != field.ScopeTotal {
			s.Figures[at] = r.Figures.unseen()
		}
	}
	return nil
}

// WorkAlone says whether the section is control work on no known stand, which has neither acreage
// nor reach.
func (s *Section) WorkAlone() bool { return workAlone(s.Scope) }

func workAlone(scope field.RowScope) bool {
	return scope == field.ScopeNoStand || scope == field.ScopeNoPlace
}

func bySection(a, b Section) int {
	return cmp.Or(
		cmp.Compare(slices.Index(scopes, a.Scope), slices.Index(scopes, b.Scope)),
		cmp.Compare(a.Scope, b.Scope), strings.Compare(a.Name, b.Name),
		strings.Compare(a.UnitID, b.UnitID),
	)
}

// Sum returns the sum of a part of change of section i, in units of 10^-Decimals, and the number of
// quarters summed.
func (h *History) Sum(i int, m Measure) (total int64, quarters int) {
	for _, f := range h.Sections[i].Figures {
		if f != nil && f[m] != Blank {
			total += f[m]
			quarters++
		}
	}
	return total, quarters
}
