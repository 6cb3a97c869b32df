package column

import (
	"strings"
)

// binding tells which columns of a file hold which of our fields.
type binding struct {
	fields  []Field
	mapped  map[string]Names // our field -> the user's columns, as the settings say
	mapping Mapping
	known   map[string][]claim // small-letter column name -> who wants it
	columns [][]claim          // by field: its columns, best first
	extra   []int              // by column: its place among the carried ones, -1 for our fields
	carried []string           // names of the carried columns, in the order met
	bound   []string           // columns looked at so far
	cut     int                // letters that the format cuts names to; 0 for none
	doubts  []doubt
	adopted []Report // columns that are carried and were read as fields all the same
	hidden  int      // column of geometries, from 1; 0 for none
	met     []string // columns of the file so far
}

// claim is a field's wish for a column, or the column it got.
type claim struct {
	field, rank, column int
	name                string
	scale               scale  // of its numbers
	unit                string // that the column's own name says and the settings do not
}

// doubt is a cut name that may be several of our fields.
type doubt struct {
	column string
	fields []string
}

// Report tells which column of a file was read as which field.
type Report struct {
	Field  string // our name
	Column string // as the file has it
}

// ours is the first rank of our own names: those of the settings go before.
const ours = 1000

// newBinding claims the columns that the settings name, in their order, and then our
// own: a mapping adds names to ours and takes none away.
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
			if key := strings.ToLower(name); len(b.known[key]) == 0 {
				b.claim(name, b.priced(claim{field: i, rank: ours + rank, name: name}))
			}
		}
	}
	return b
}

// priced gives a claim the scale of its numbers: by the unit that the settings
// name, else by the one at the end of the user's column's name. Our own names carry
// our unit, unless the settings name a unit and no column for it. Units were checked.
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
	key := strings.ToLower(strings.TrimSpace(name))
	b.known[key] = append(b.known[key], c)
}

// isMapped says whether the file has a column that the settings name for a field.
func (b *binding) isMapped(field string) bool {
	for _, name := range b.mapped[field] {
		for _, met := range b.met {
			if strings.EqualFold(strings.TrimSpace(name), strings.TrimSpace(met)) {
				return true
			}
		}
	}
	return false
}
