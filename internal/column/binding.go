package column

import (
	"strings"
)

// binding records which columns of a file hold which of our fields.
type binding struct {
	fields  []Field
	mapped  map[string]Names // our field -> the user's columns, from the settings
	mapping Mapping
	known   map[string][]claim // column name in lower case -> the fields that claim it
	columns [][]claim          // by field: its columns, best first
	extra   []int              // by column: its index among the carried columns; -1 for our fields
	carried []string           // names of the carried columns, in file order
	bound   []string           // columns handled so far
	cut     int                // length to which the format cuts names, in letters; 0 for none
	doubts  []doubt
	adopted []Report // columns that are both carried and read as fields
	hidden  int      // the geometry column, counted from 1; 0 for none
	met     []string // columns of the file so far
}

// claim is a field's claim to a column, or the column it was given.
type claim struct {
	field, rank, column int
	name                string
	scale               scale  // for its numbers
	unit                string // unit in the column name, if the settings give none
}

// doubt is a column name that was cut and fits several of our fields.
type doubt struct {
	column string
	fields []string
}

// Report says which column of a file was read as which field.
type Report struct {
	Field  string // our name
	Column string // as written in the file
}

// ours is the first rank of our own names: names from the settings rank before it.
const ours = 1000

// newBinding enters the columns that the settings name, in their order, and then our own names. A
// mapping adds names to ours and removes none.
func newBinding(fields []Field, m Mapping) *binding {
	b := &binding{fields: fields, mapping: m, mapped: map[string]Names{}, known: map[string][]claim{}, columns: make([][]claim, len(fields))}
	for i, f := range fields {
		theirs, ok := m.names(f.Name)
		if !ok {
			continue
		}
		b.mapped[f.Name] = theirs
		for rank, name := range theirs {
			if strings.TrimSpace(name) != "" && rank < ours {
				b.claim(name, b.priced(claim{field: i, rank: rank, name: name}))
			}
		}
	}
	for i, f := range fields {
		for rank, name := range append([]string{f.Name}, f.Also...) {
			if len(b.known[key(name)]) == 0 {
				b.claim(name, b.priced(claim{field: i, rank: ours + rank, name: name}))
			}
		}
	}
	return b
}

// priced sets the scale of a claim's numbers: from the unit in the settings, or else from the unit at
// the end of the user's column name. A column with one of our own names is in our unit, unless the
// settings give the field a unit but no column. The units have been checked before.
func (b *binding) priced(c claim) claim {
	c.scale = asItIs
	field := b.fields[c.field]
	unit := b.mapping.unit(field.Name)
	switch mapped := len(b.mapped[field.Name]) > 0; {
	case mapped && c.rank >= ours, field.Dated():
		return c
	case unit == "" && c.rank < ours:
		_, unit = field.withoutUnit(c.name)
		c.unit = unit
	}
	if unit == "" {
		return c
	}
	if s, err := field.scaleOf(unit); err == nil {
		c.scale = s
	}
	return c
}

func (b *binding) claim(name string, c claim) {
	b.known[key(name)] = append(b.known[key(name)], c)
}

// isMapped says whether the file has a column that the settings name for a field.
func (b *binding) isMapped(field string) bool {
	for _, name := range b.mapped[field] {
		for _, met := range b.met {
			if key(name) == key(met) {
				return true
			}
		}
	}
	return false
}
