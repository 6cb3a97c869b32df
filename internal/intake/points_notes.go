package intake

import (
	"driftreach/internal/column"
	"driftreach/internal/format"
	"driftreach/internal/survey"
)

// notebook gives records with the same texts the same notes. A survey has few different ones: one
// observer walks a stream and makes hardly any remarks.
type notebook struct {
	last  *survey.Notes // of the previous record: the next one often has the same
	known map[told]*survey.Notes
	free  []survey.Notes
	words []string // free slots for carried values

	columns *column.Columns
	store   store
}

func newNotebook(columns *column.Columns, s store) notebook {
	return notebook{known: map[told]*survey.Notes{}, columns: columns, store: s}
}

// told holds the texts of notes without carried columns.
type told struct{ by, parcel, remarks string }

// Allocated at once. Our choice: as many as fill a quarter of a megabyte.
const (
	notesAtOnce = 1 << 12
	wordsAtOnce = 1 << 14
)

// of returns the feature's notes; nil for none.
func (b *notebook) of(f *format.Feature) *survey.Notes {
	by, parcel, remarks := b.columns.Cell(f, pointBy), b.columns.Cell(f, pointParcel), b.columns.Cell(f, pointRemarks)
	if n := b.last; n != nil && n.RecordedBy == string(by) && n.Parcel == string(parcel) && n.Remarks == string(remarks) && b.carriesSame(f, n.Extra) {
		return n
	}
	if len(b.columns.Carried()) > 0 {
		b.last = b.addNotes(by, parcel, remarks)
		b.last.Extra = b.extra(f)
		return b.last
	}
	if len(by)+len(parcel)+len(remarks) == 0 {
		return nil
	}
	n := b.known[told{string(by), string(parcel), string(remarks)}] // written so that no string is copied
	if n == nil {
		n = b.addNotes(by, parcel, remarks)
		if len(b.known) < mostKept {
			b.known[told{n.RecordedBy, n.Parcel, n.Remarks}] = n
		}
	}
	b.last = n
	return n
}

// addNotes keeps new notes.
func (b *notebook) addNotes(by, parcel, remarks []byte) *survey.Notes {
	if len(b.free) == 0 {
		b.free = make([]survey.Notes, notesAtOnce)
	}
	n := &b.free[0]
	b.free = b.free[1:]
	*n = survey.Notes{RecordedBy: b.store.keep(by), Parcel: b.store.keep(parcel), Remarks: b.store.keep(remarks)}
	return n
}

// carriesSame says whether the feature's carried columns hold these values.
func (b *notebook) carriesSame(f *format.Feature, values []string) bool {
	if len(values) != len(b.columns.Carried()) {
		return false
	}
	if len(values) == 0 {
		return true
	}
	filled := 0
	for i := range f.Cells {
		if place := b.columns.Place(i); place >= 0 {
			if values[place] != string(f.Cells[i].Text) {
				return false
			}
			filled++
		}
	}
	return filled == len(values)
}

// extra returns the values of the carried columns.
func (b *notebook) extra(f *format.Feature) []string {
	n := len(b.columns.Carried())
	if len(b.words) < n {
		b.words = make([]string, max(n, wordsAtOnce))
	}
	out := b.words[:n:n]
	b.words = b.words[n:]
	for i := range f.Cells {
		if place := b.columns.Place(i); place >= 0 {
			out[place] = b.store.keep(f.Cells[i].Text)
		}
	}
	return out
}
