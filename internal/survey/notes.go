package survey

import (
	"cmp"
	"encoding/binary"
	"slices"
	"strings"
)

// Notes are the texts of a record, on which no figure depends.
type Notes struct {
	RecordedBy string
	Parcel     string
	Remarks    string
	Extra      []string // values of the carried columns, sorted by column name
}

// PackedNotes are notes in one string, which takes a third of the memory: each text after its length. They
// are blank if there are no texts and no carried columns.
type PackedNotes string

// Pack returns the notes in one string.
func (n Notes) Pack() PackedNotes {
	if n.RecordedBy == "" && n.Parcel == "" && n.Remarks == "" && len(n.Extra) == 0 {
		return ""
	}
	room := len(n.RecordedBy) + len(n.Parcel) + len(n.Remarks) + 3*binary.MaxVarintLen64
	for _, text := range n.Extra {
		room += len(text) + binary.MaxVarintLen64
	}
	b := AppendText(AppendText(AppendText(make([]byte, 0, room), n.RecordedBy), n.Parcel), n.Remarks)
	for _, text := range n.Extra {
		b = AppendText(b, text)
	}
	return PackedNotes(b)
}

// AppendText adds one text to packed ones, after its length. Packed notes are the observer, the parcel, the
// remarks, and the values of the carried columns, in this order.
func AppendText[T ~string | ~[]byte](b []byte, text T) []byte {
	return append(binary.AppendUvarint(b, uint64(len(text))), text...)
}

// next returns the first text and what follows it. A text that is cut off ends with the notes.
func (p PackedNotes) next() (string, PackedNotes) {
	length, at := uint64(0), 0
	for at < len(p) {
		b := p[at]
		length |= uint64(b&0x7f) << (7 * at)
		at++
		if b < 0x80 {
			break
		}
	}
	end := len(p)
	if length < uint64(end-at) {
		end = at + int(length)
	}
	return string(p[at:end]), p[end:]
}

// text returns text k, counted from 0, and whether there is one.
func (p PackedNotes) text(k int) (text string, there bool) {
	for p != "" {
		if text, p = p.next(); k == 0 {
			return text, true
		}
		k--
	}
	return "", false
}

// Where the texts are in packed notes.
const (
	noteRecordedBy = iota
	noteParcel
	noteRemarks
	noteCarried // and those after it
)

// Unpack returns the notes. Their texts share memory with the packed ones.
func (p PackedNotes) Unpack() (n Notes) {
	if p == "" {
		return n
	}
	n.RecordedBy, p = p.next()
	n.Parcel, p = p.next()
	n.Remarks, p = p.next()
	for p != "" {
		var text string
		text, p = p.next()
		n.Extra = append(n.Extra, text)
	}
	return n
}

// Told returns the record's notes.
func (r *Record) Told() Notes { return r.Notes.Unpack() }

// Columns returns how many carried columns the notes have a value for.
func (p PackedNotes) Columns() int {
	n := -noteCarried
	for ; p != ""; n++ {
		_, p = p.next()
	}
	return max(0, n)
}

// RecordedBy returns the observer; blank if none is named.
func (r *Record) RecordedBy() string { return r.note(noteRecordedBy) }

// Parcel returns the parcel; blank if none is named.
func (r *Record) Parcel() string { return r.note(noteParcel) }

// Remarks returns the remarks; blank if there are none.
func (r *Record) Remarks() string { return r.note(noteRemarks) }

// Carried returns the value of carried column k, counted from 0, and whether the record has that column.
func (r *Record) Carried(k int) (value string, told bool) { return r.Notes.text(noteCarried + k) }

func (r *Record) note(k int) string {
	text, _ := r.Notes.text(k)
	return text
}

func compareNotes(one, other PackedNotes) int {
	if one == other {
		return 0
	}
	a, b := one.Unpack(), other.Unpack()
	return cmp.Or(
		strings.Compare(a.RecordedBy, b.RecordedBy),
		strings.Compare(a.Parcel, b.Parcel),
		strings.Compare(a.Remarks, b.Remarks),
		slices.Compare(a.Extra, b.Extra),
	)
}
