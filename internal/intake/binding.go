package intake

import (
	"cmp"
	"slices"
	"strings"

	"driftreach/internal/cell"
	"driftreach/internal/format"
)

// fieldName is one of our fields and the other names it is known by.
type fieldName struct {
	name  string
	also  []string
	in    cell.Unit // the unit of its numbers; day for dates, nothing for texts
	words theirs    // of a field of words: words of survey sheets for ours, as plain keeps them [C]
}

// theirs are other people's words, by our word.
type theirs map[string][]string

// binding tells which columns of a file hold which of our fields.
type binding struct {
	fields  []fieldName
	mapped  map[string]Names // our field -> the user's columns, as the settings say
	mapping Mapping
	known   map[string][]claim // small-letter column name -> who wants it
	columns [][]claim          // by field: its columns, best first
	extra   []int              // by column: its place among the carried ones, -1 for our fields
	carried []string           // names of the carried columns, in the order met
	bound   []string           // columns looked at so far
	cut     int                // letters that the format cuts names to; 0 for none
	doubts  []doubt
	adopted []ColumnReport // columns that are carried and were read as fields all the same
	hidden  int            // column of geometries, from 1; 0 for none
	met     []string       // columns of the file so far
}

// claim is a field's wish for a column, or the column it got.
type claim struct {
	field, rank, column int
	name                string
	scale               scale  // of its numbers
	unit                string // that the column's own name says and the settings do not
}

// ours is the first rank of our own names: those of the settings go before.
const ours = 1000

// newBinding claims the columns that the settings name, in their order, and then our
// own: a mapping adds names to ours and takes none away.
func newBinding(fields []fieldName, m Mapping) *binding {
	b := &binding{fields: fields, mapping: m, mapped: map[string]Names{}, known: map[string][]claim{}, columns: make([][]claim, len(fields))}
	for i, f := range fields {
		theirs, ok := m.names(f.name)
		if !ok {
			continue
		}
		b.mapped[f.name] = theirs
		for rank, name := range theirs {
			if strings.TrimSpace(name) != "" && rank < ours {
				b.claim(name, b.priced(claim{field: i, rank: rank, name: name}))
			}
		}
	}
	for i, f := range fields {
		for rank, name := range append([]string{f.name}, f.also...) {
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
	field := b.fields[c.field].name
	unit := b.mapping.unit(field)
	switch mapped := len(b.mapped[field]) > 0; {
	case mapped && c.rank >= ours, isDate(field):
		return c
	case unit == "" && c.rank < ours:
		_, unit = withoutUnit(field, c.name)
		c.unit = unit
	}
	if unit == "" {
		return c
	}
	if s, err := scaleOf(field, unit); err == nil {
		c.scale = s
	}
	return c
}

func (b *binding) claim(name string, c claim) {
	key := strings.ToLower(strings.TrimSpace(name))
	b.known[key] = append(b.known[key], c)
}

// learn binds the columns that are new since the last call.
func (b *binding) learn(names []string) {
	fresh := names[len(b.bound):]
	b.met = names
	var carried []string
	for k, name := range fresh {
		claims := b.known[strings.ToLower(strings.TrimSpace(name))]
		if len(claims) == 0 && b.cut > 0 {
			claims = b.uncut(name)
		}
		for _, c := range claims {
			c.column, c.name = len(b.bound)+k, name
			b.columns[c.field] = append(b.columns[c.field], c)
			slices.SortFunc(b.columns[c.field], func(a, b claim) int {
				return cmp.Or(cmp.Compare(a.rank, b.rank), strings.Compare(a.name, b.name), cmp.Compare(a.column, b.column))
			})
		}
		if len(claims) == 0 && len(b.bound)+k != b.hidden-1 {
			carried = append(carried, name)
		}
	}
	slices.Sort(carried)
	for _, name := range fresh {
		place := -1
		if k, found := slices.BinarySearch(carried, name); found {
			place = len(b.carried) + k
		}
		b.extra = append(b.extra, place)
	}
	b.carried = append(b.carried, carried...)
	b.bound = append(b.bound, fresh...)
}

// knows says whether a column of that name is one of our fields.
func (b *binding) knows(name string) bool {
	return len(b.known[strings.ToLower(strings.TrimSpace(name))]) > 0
}

// has says whether the file has a column for the field.
func (b *binding) has(field int) bool { return len(b.columns[field]) > 0 }

// cell returns what the feature has for a field: the first of its columns
// that is not blank.
func (b *binding) cell(f *format.Feature, field int) []byte {
	text, _ := b.priceOf(f, field)
	return text
}

// priceOf is cell with the scale of the column's numbers.
func (b *binding) priceOf(f *format.Feature, field int) (text []byte, s scale) {
	for i := range b.columns[field] {
		c := &b.columns[field][i]
		if c.column < len(f.Cells) && len(f.Cells[c.column].Text) > 0 {
			return f.Cells[c.column].Text, c.scale
		}
	}
	return nil, asItIs
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

// unitsByName returns the columns that the settings name without a unit and whose own
// name says one.
func (b *binding) unitsByName() []claim {
	var out []claim
	for _, claims := range b.columns {
		for _, c := range claims {
			if c.unit != "" {
				out = append(out, c)
			}
		}
	}
	return out
}

// lost returns the fields, in order, for which the settings name columns and the
// file has neither one of them nor one of ours.
func (b *binding) lost() []string {
	var out []string
	for i, f := range b.fields {
		if names := b.mapped[f.name]; strings.Join(names, "") != "" && !b.has(i) {
			out = append(out, f.name)
		}
	}
	return out
}

// ColumnReport tells which column of a file was read as which field.
type ColumnReport struct {
	Field  string // our name
	Column string // as the file has it
}

func (b *binding) columnReports() []ColumnReport {
	var out []ColumnReport
	for i, f := range b.fields {
		for _, c := range b.columns[i] {
			out = append(out, ColumnReport{f.name, c.name})
		}
		for _, u := range b.adopted {
			if u.Field == f.name {
				out = append(out, u)
			}
		}
	}
	return out
}
