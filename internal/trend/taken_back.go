package trend

import (
	"cmp"
	"slices"
	"strings"

	"driftreach/internal/field"
)

// order sorts rows by all values that identify them.
func (b *TakenBack) order(o *TakenBack) int {
	shared := func(t *TakenBack) int {
		if t.Shared {
			return 1
		}
		return 0
	}
	return cmp.Or(
		cmp.Compare(b.Quarter.Ordinal(), o.Quarter.Ordinal()), cmp.Compare(b.Scope, o.Scope), strings.Compare(b.Name, o.Name),
		strings.Compare(b.UnitID, o.UnitID), strings.Compare(b.StandID, o.StandID), cmp.Compare(b.Taken.Ordinal(), o.Taken.Ordinal()), cmp.Compare(shared(b), shared(o)),
	)
}

// correct enters the changes taken back into the sections where they were counted: streams, the
// total, and units. Each batch of a chain lists all corrections up to it, so a row may occur more
// than once.
func (h *History) correct(batches []Batch) {
	var all []TakenBack
	for _, b := range batches {
		all = append(all, b.TakenBack...)
	}
	slices.SortFunc(all, func(a, b TakenBack) int { return a.order(&b) })
	all = slices.CompactFunc(all, func(a, b TakenBack) bool { return a.order(&b) == 0 })
	at := map[sectionKey][]int{}
	for i := range h.Sections {
		s := &h.Sections[i]
		at[s.key()] = append(at[s.key()], i)
		if s.IsUnits() {
			at[anyUnit] = append(at[anyUnit], i)
		}
	}
	for i := range all {
		b := &all[i]
		k := b.Quarter.Ordinal() - h.Quarters[0].Ordinal()
		if k < 0 || k >= len(h.Quarters) || b.Taken.Ordinal() > h.Quarters[len(h.Quarters)-1].Ordinal() {
			continue
		}
		of := Section{Scope: b.Scope, Name: b.Name, UnitID: b.UnitID}
		counted := at[of.key()]
		if !of.IsUnits() {
			counted = slices.Concat(counted, at[sectionKey{scope: field.ScopeTotal}])
		}
		for _, section := range counted {
			h.Sections[section].takeBack(b, k, len(h.Quarters))
		}
	}
}

// anyUnit is the key for changes that may have been counted in any unit.
var anyUnit = sectionKey{scope: field.ScopeUnit}

// sectionKey identifies a section: a unit by its id, others by their name.
type sectionKey struct {
	scope field.RowScope
	which string
}

func (s *Section) key() sectionKey {
	if s.UnitID != "" {
		return sectionKey{s.Scope, s.UnitID}
	}
	return sectionKey{s.Scope, s.Name}
}

// takeBack enters one row into the section, at the index of the quarter in which it was counted.
func (s *Section) takeBack(b *TakenBack, k, quarters int) {
	if i, there := slices.BinarySearch(s.Corrected, b.StandID); !there {
		s.Corrected = slices.Insert(s.Corrected, i, b.StandID)
	}
	if b.Shared {
		s.Unknown = max(s.Unknown, k)
		return
	}
	if s.Back == nil {
		s.Back = make([][acreages]int64, quarters)
	}
	for m := range b.Acres {
		s.Back[k][m] += b.Acres[m]
	}
}
