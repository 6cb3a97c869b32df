package intake

import (
	"driftreach/internal/column"
	"driftreach/internal/format"
	"driftreach/internal/survey"
)

// notebook gives records with the same texts the same notes. A survey has few different ones: one
// observer walks a stream and makes hardly any remarks.
type notebook struct {
	last    survey.PackedNotes // of the previous record: the next one often has the same
	known   map[string]survey.PackedNotes
	pile    pile
	packed  []byte   // of the record at hand
	carried [][]byte // its values in the carried columns

	columns *column.Columns
}

func newNotebook(columns *column.Columns) notebook {
	return notebook{known: map[string]survey.PackedNotes{}, columns: columns}
}

// of returns the feature's notes; blank for none.
func (b *notebook) of(f *format.Feature) survey.PackedNotes {
	b.pack(f)
	if string(b.last) == string(b.packed) {
		return b.last
	}
	if len(b.carried) > 0 {
		b.last = survey.PackedNotes(b.pile.keep(b.packed))
		return b.last
	}
	if len(b.packed) == 0 {
		return ""
	}
	notes := b.known[string(b.packed)] // written so that no string is copied
	if notes == "" {
		notes = survey.PackedNotes(b.pile.keep(b.packed))
		if len(b.known) < mostKept {
			b.known[string(notes)] = notes
		}
	}
	b.last = notes
	return notes
}

// pack sets packed to the feature's texts, with one for each carried column so far. It is empty if there is
// no text and no such column.
func (b *notebook) pack(f *format.Feature) {
	by, parcel, remarks := b.columns.Cell(f, pointBy), b.columns.Cell(f, pointParcel), b.columns.Cell(f, pointRemarks)
	n := len(b.columns.Carried())
	b.packed, b.carried = b.packed[:0], b.carried[:0]
	if len(by)+len(parcel)+len(remarks)+n == 0 {
		return
	}
	b.packed = survey.AppendText(survey.AppendText(survey.AppendText(b.packed, by), parcel), remarks)
	if n == 0 {
		return
	}
	for range n {
		b.carried = append(b.carried, nil)
	}
	for i := range f.Cells {
		if place := b.columns.Place(i); place >= 0 {
			b.carried[place] = f.Cells[i].Text
		}
	}
	for _, text := range b.carried {
		b.packed = survey.AppendText(b.packed, text)
	}
}
