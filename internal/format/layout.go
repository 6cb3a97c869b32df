package format

import (
	"bytes"
	"strconv"
)

// Span is a piece of a text; a zero end means that there is none.
type Span struct{ Begin, End int }

// Layout gathers a feature's texts in any order and lays them out by column.
type Layout struct {
	Feature Feature
	Text    []byte // the feature's texts, one after the other
	spans   []Span // by column: where its text is
}

// Begin clears the feature; its row goes on counting.
func (l *Layout) Begin() {
	f := &l.Feature
	f.ID = f.ID[:0]
	f.Shape.Reset()
	f.Cells = f.Cells[:0]
	f.Wrong = ""
	l.Text = l.Text[:0]
	l.spans = l.spans[:0]
}

// Put gives a column its text; of several the first that is not blank stays.
func (l *Layout) Put(column int, text []byte) {
	for len(l.spans) <= column {
		l.spans = append(l.spans, Span{})
	}
	text = bytes.TrimSpace(text)
	if s := l.spans[column]; s.End > s.Begin || len(text) == 0 {
		return
	}
	begin := len(l.Text)
	l.Text = append(l.Text, text...)
	l.spans[column] = Span{begin, len(l.Text)}
}

// PutNumber gives a column a number, written the shortest way that reads back
// the same.
func (l *Layout) PutNumber(column int, v float64) {
	var room [32]byte
	l.Put(column, strconv.AppendFloat(room[:0], v, 'f', -1, 64))
}

// Finish lays the texts out and counts the feature.
func (l *Layout) Finish() *Feature {
	f := &l.Feature
	for _, s := range l.spans {
		f.Cells = append(f.Cells, Cell{l.Text[s.Begin:s.End]})
	}
	f.Row++
	return f
}
