package column

import (
	"cmp"
	"slices"
	"strings"

	"driftreach/internal/format"
)

// Layout is what a format says about the columns of a file as a whole.
type Layout struct {
	Cut    int // length to which names are cut, in letters; 0 for none
	Hidden int // the geometry column, counted from 1, which is neither a field nor carried; 0 for none
}

// Lay sets the layout. It must be called before any column is learnt.
func (b *binding) Lay(l Layout) {
	b.cut, b.hidden = l.Cut, l.Hidden
}

// Learn binds the columns added since the last call.
func (b *binding) Learn(names []string) {
	fresh := names[len(b.bound):]
	b.met = names
	var carried []string
	for k, name := range fresh {
		claims := b.known[key(name)]
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

// Knows says whether a column of that name is one of our fields.
func (b *binding) Knows(name string) bool {
	return len(b.known[key(name)]) > 0
}

// Has says whether the file has a column for the field.
func (b *binding) Has(field int) bool { return len(b.columns[field]) > 0 }

// Cell returns the feature's text for a field: the first text that is not blank among the field's
// columns.
func (b *binding) Cell(f *format.Feature, field int) []byte {
	text, _ := b.priceOf(f, field)
	return text
}

// priceOf returns the same text, with the scale of its column's numbers.
func (b *binding) priceOf(f *format.Feature, field int) (text []byte, s scale) {
	for i := range b.columns[field] {
		c := &b.columns[field][i]
		if c.column < len(f.Cells) && len(f.Cells[c.column].Text) > 0 {
			return f.Cells[c.column].Text, c.scale
		}
	}
	return nil, asItIs
}

// Names returns the names of all columns met so far, in the order of the file.
func (b *binding) Names() []string { return b.bound }

// Carried returns the names of the columns that are not our fields and are carried through, in file
// order.
func (b *binding) Carried() []string { return b.carried }

// Place returns the index of a column among the carried columns; -1 for one of our fields.
func (b *binding) Place(column int) int { return b.extra[column] }

// FieldName returns our name of a field.
func (b *binding) FieldName(field int) string { return b.fields[field].Name }

// Asked returns the columns that the settings name for a field; false if the settings do not name the
// field.
func (b *binding) Asked(field string) (Names, bool) {
	names, asked := b.mapped[field]
	return names, asked
}

// Adopt records that a carried column was also read as a field.
func (b *binding) Adopt(field, column string) { b.adopted = append(b.adopted, Report{field, column}) }

// Geometry returns the name of the geometry column; blank for none.
func (b *binding) Geometry() string {
	if b.hidden == 0 {
		return ""
	}
	return b.bound[b.hidden-1]
}
