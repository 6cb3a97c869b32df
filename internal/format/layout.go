package format

import (
	"bytes"
	"strconv"
)

// Span is a range of bytes in a text. If End is zero, there is no text.
type Span struct{ Begin, End int }

// Layout collects the texts of a feature in any order and puts them in column order.
type Layout struct {
	Feature Feature
	Text    []byte // the feature's texts, one after the other
	spans   []Span // by column: the position of its text
}

// Begin clears the feature but not its row number.
func (l *Layout) Begin() {
	f := &l.Feature
	f.ID = f.ID[:0]
	f.Shape.Reset()
	f.Cells = f.Cells[:0]
	f.Wrong = ""
	l.Text = l.Text[:0]
	l.spans = l.spans[:0]
}

// Put sets the text of a column. If a column gets several texts, the first that is not blank is kept.
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

// PutNumber sets a column to a number, written in the shortest form that reads back as the same value.
func (l *Layout) PutNumber(column int, v float64) {
	var room [32]byte
	l.Put(column, strconv.AppendFloat(room[:0], v, 'f', -1, 64))
}

// Finish puts the texts in column order and counts the feature.
func (l *Layout) Finish() *Feature {
	f := &l.Feature
	for _, s := range l.spans {
		f.Cells = append(f.Cells, Cell{l.Text[s.Begin:s.End]})
	}
	f.Row++
	return f
}
