package trend

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"driftreach/internal/survey"
)

// MaxQuarters is the most quarters a history may span. Our choice: a century;
// what lies farther apart is a mistyped year.
const MaxQuarters = 400

// Batch is the summary of one finished batch.
type Batch struct {
	Quarter survey.Quarter
	Rows    []Row
	Apart   bool // it does not continue the batch before it here

	// ReachApart says that its reach was made with other files or settings than that of
	// the batch before.
	ReachApart bool

	// TakenBack are changes of earlier quarters that corrections took back, its own and
	// those of the batches of the chain before it.
	TakenBack []TakenBack

	OldNames []string // columns that were read under the names of an earlier version
}

// Row is one line of a summary.
type Row struct {
	Scope, Name string
	UnitID      string // of a reporting unit
	Figures     Figures
	Looks       []Look      // when its ground was looked at last
	LooksTold   bool        // the batch says when its ground was looked at
	Off         *[offs]*Off // what its live and infested acres may be off by; nil where the batch does not say
}

// NewRow returns the row of a section that has none of anything and reports its
// looks: blank but for its levels, which are 0.
func NewRow(scope string) Row {
	r := Row{Scope: scope, LooksTold: true}
	for m := levels; m < measures; m++ {
		r.Figures[m] = Blank
	}
	return r
}

// History is a run of quarters, those without a batch among them, with the
// figures of each section.
type History struct {
	Quarters []survey.Quarter // without a gap
	Known    []bool           // by quarter: there is a batch
	Apart    []bool           // by quarter: and it does not continue the batch before it here
	Breaks   []bool           // by quarter: its reach does not compare with that before
	Sections []Section        // the total first, water bodies by name, other streams, then units by name
	Trends   []Trend          // of every measure of every section, in order
}

// Section is the total, one stream or one reporting unit over the quarters.
type Section struct {
	Scope, Name string
	UnitID      string     // a unit is known by this, and named as it was last
	Figures     []*Figures // by quarter; nil where no batch lists it

	// Ages are, by quarter, its acres by the ordinal of the quarter they were looked at
	// last; nil where nobody looked at any of it in the quarter.
	Ages []map[int]float64

	Offs []*[offs]*Off // by quarter: what its acres may be off by; nil where not known

	// Back are, by quarter, the changes that it counted and corrections took back since,
	// by acreage; nil for none.
	Back [][acreages]int64
	// Unknown is the index of the last quarter of which corrections took back a share that
	// is not known: what was before does not compare. 0 for none.
	Unknown int
	// Corrected are the stands whose changes were taken back, sorted.
	Corrected []string
}

// Assemble puts batches into the order of their quarters, whatever order they
// come in, and judges their trends. A section that a batch has no row for stays open
// in that quarter, and so do the acres of one that has none and that nobody looked
// at; one that was looked at and has nothing left has 0. Two batches of one quarter, or more than MaxQuarters from
// first to last, are an error; none at all is an empty history.
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

// assemble fills in all but the trends.
func (h *History) assemble(batches []Batch) error {
	sorted := slices.SortedFunc(slices.Values(batches), func(a, b Batch) int {
		return cmp.Compare(a.Quarter.Ordinal(), b.Quarter.Ordinal())
	})
	first, last := sorted[0].Quarter, sorted[len(sorted)-1].Quarter
	if span := last.Ordinal() - first.Ordinal() + 1; span > MaxQuarters {
		return fmt.Errorf("%s and %s are %d quarters apart, more than %d", first, last, span-1, MaxQuarters)
	}
	for q := first; q.Ordinal() <= last.Ordinal(); q = q.Next() {
		h.Quarters = append(h.Quarters, q)
	}
	h.Known, h.Apart, h.Breaks = make([]bool, len(h.Quarters)), make([]bool, len(h.Quarters)), make([]bool, len(h.Quarters))
	sections := map[[2]string]*Section{}
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

// enter writes the rows of a batch into their sections.
func (h *History) enter(sections map[[2]string]*Section, b Batch, at int) error {
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
		} else if r.Figures[Infested] == 0 && s.Scope != scopes[0] {
			s.Figures[at] = r.Figures.unseen()
		}
	}
	return nil
}

// scopes are the sections' kinds in the order they are printed.
var scopes = []string{"total", "waterBody", "unnamed", "noStream", "noStand", "unit", "outsideUnits", "noPlace"}

// IsUnits says whether the section is a reporting unit or what lies outside all.
func (s *Section) IsUnits() bool {
	return s.Scope == "unit" || s.Scope == "outsideUnits" || s.Scope == "noPlace"
}

// WorkAlone says whether the section is control work done on no stand that is known,
// which has no acreage and no reach.
func (s *Section) WorkAlone() bool { return workAlone(s.Scope) }

func workAlone(scope string) bool { return scope == "noStand" || scope == "noPlace" }

func bySection(a, b Section) int {
	return cmp.Or(
		cmp.Compare(slices.Index(scopes, a.Scope), slices.Index(scopes, b.Scope)),
		strings.Compare(a.Scope, b.Scope), strings.Compare(a.Name, b.Name),
		strings.Compare(a.UnitID, b.UnitID),
	)
}

// Sum returns what a part of change of section i adds up to, in units of
// 10^-Decimals, and over how many quarters.
func (h *History) Sum(i int, m Measure) (total int64, quarters int) {
	for _, f := range h.Sections[i].Figures {
		if f != nil && f[m] != Blank {
			total += f[m]
			quarters++
		}
	}
	return total, quarters
}
