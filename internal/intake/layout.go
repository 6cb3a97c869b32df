package intake

import (
	"bytes"
	"strconv"
)

// span is a piece of a text; a zero end means that there is none.
type span struct{ begin, end int }

// layout gathers a feature's texts in any order and lays them out by column.
type layout struct {
	feature feature
	text    []byte // the feature's texts, one after the other
	spans   []span // by column: where its text is
}

// begin clears the feature; its row goes on counting.
func (l *layout) begin() {
	f := &l.feature
	f.id = f.id[:0]
	f.shape.reset()
	f.cells = f.cells[:0]
	f.wrong = ""
	l.text = l.text[:0]
	l.spans = l.spans[:0]
}

// put gives a column its text; of several the first that is not blank stays.
func (l *layout) put(column int, text []byte) {
	for len(l.spans) <= column {
		l.spans = append(l.spans, span{})
	}
	text = bytes.TrimSpace(text)
	if s := l.spans[column]; s.end > s.begin || len(text) == 0 {
		return
	}
	begin := len(l.text)
	l.text = append(l.text, text...)
	l.spans[column] = span{begin, len(l.text)}
}

// putNumber gives a column a number, written the shortest way that reads back
// the same.
func (l *layout) putNumber(column int, v float64) {
	var room [32]byte
	l.put(column, strconv.AppendFloat(room[:0], v, 'f', -1, 64))
}

// finish lays the texts out and counts the feature.
func (l *layout) finish() *feature {
	f := &l.feature
	for _, s := range l.spans {
		f.cells = append(f.cells, cell{l.text[s.begin:s.end]})
	}
	f.row++
	return f
}
