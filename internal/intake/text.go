package intake

import (
	"driftreach/internal/cell"
	"driftreach/internal/format"
)

// text reads a text column. A whole number from a spreadsheet loses its ".0".
func (r *featureReader) text(f *format.Feature, field int) string {
	return r.store.keep(wholeText(r.columns.Cell(f, field)))
}

// word reads a column of words with the user's table. An unknown word is kept.
func (r *featureReader) word(f *format.Feature, field int, table map[string]string, parse func(string) (string, bool)) string {
	text := r.columns.Cell(f, field)
	if cell.IsBlank(text) {
		return ""
	}
	word, known := parse(translate(table, r.store.keep(text)))
	meaning := word
	if !known {
		meaning = ""
	}
	r.columns.Count(field, text, meaning)
	return word
}
