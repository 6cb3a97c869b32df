package intake

import (
	"cmp"
	"slices"
	"strings"
)

// fieldName is one of our fields and the other names it is known by.
type fieldName struct {
	name string
	also []string
}

// binding tells which columns of a file hold which of our fields.
type binding struct {
	fields  []fieldName
	mapped  map[string]string  // our field -> the user's column, as the settings say
	known   map[string][]claim // small-letter column name -> who wants it
	columns [][]claim          // by field: its columns, best first
	extra   []int              // by column: its place among the carried ones, -1 for our fields
	carried []string           // names of the carried columns, in the order met
	bound   []string           // columns looked at so far
	cut     bool               // the format cuts names to ten letters
	doubts  []doubt
	hidden  int // column of geometries, from 1; 0 for none
}

// claim is a field's wish for a column, or the column it got.
type claim struct {
	field, rank, column int
	name                string
}

func newBinding(fields []fieldName, m Mapping) *binding {
	b := &binding{fields: fields, mapped: map[string]string{}, known: map[string][]claim{}, columns: make([][]claim, len(fields))}
	for i, f := range fields {
		if theirs, ok := m.column(f.name); ok {
			b.mapped[f.name] = theirs
			b.claim(theirs, claim{field: i})
		}
	}
	for i, f := range fields {
		if _, ok := b.mapped[f.name]; ok {
			continue
		}
		for rank, name := range append([]string{f.name}, f.also...) {
			if key := strings.ToLower(name); len(b.known[key]) == 0 {
				b.claim(name, claim{field: i, rank: rank})
			}
		}
	}
	return b
}

func (b *binding) claim(name string, c claim) {
	key := strings.ToLower(strings.TrimSpace(name))
	b.known[key] = append(b.known[key], c)
}

// learn binds the columns that are new since the last call.
func (b *binding) learn(names []string) {
	fresh := names[len(b.bound):]
	var carried []string
	for k, name := range fresh {
		claims := b.known[strings.ToLower(strings.TrimSpace(name))]
		if len(claims) == 0 && b.cut {
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
func (b *binding) cell(f *feature, field int) []byte {
	for _, c := range b.columns[field] {
		if c.column < len(f.cells) && len(f.cells[c.column].text) > 0 {
			return f.cells[c.column].text
		}
	}
	return nil
}

// lost returns the fields, in order, whose mapped column the file lacks.
func (b *binding) lost() []string {
	var out []string
	for i, f := range b.fields {
		if _, mapped := b.mapped[f.name]; mapped && !b.has(i) {
			out = append(out, f.name)
		}
	}
	return out
}

// Understood tells which column of a file was read as which field.
type Understood struct {
	Field  string // our name
	Column string // as the file has it
}

func (b *binding) understood() []Understood {
	var out []Understood
	for i, f := range b.fields {
		for _, c := range b.columns[i] {
			out = append(out, Understood{f.name, c.name})
		}
	}
	return out
}
