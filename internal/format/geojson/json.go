package geojson

import (
	"fmt"

	"driftreach/internal/format"
)

// reader scans JSON text once, without building a tree. After the first error wrong is set and every
// method returns at once.
type reader struct {
	*format.Reading
	wrong   string // what is wrong; blank while there is no error
	feature format.Feature
	text    []byte        // the feature's texts, one after the other
	spans   []format.Span // by column: the position of its text
	key     []byte
	depth   int // of the coordinates being read; 0 before the first position
	room    []byte
}

func (j *reader) fail(found string) {
	if j.wrong == "" {
		j.wrong = found
	}
}

// failure returns the error that ends the reading of the file.
func (j *reader) failure() error {
	if err := j.Reading.Text.Failed(); err != nil {
		return err
	}
	place := fmt.Sprintf("byte %d", j.Reading.Text.Place())
	if j.feature.Row > 0 {
		place += fmt.Sprintf(", after feature %d", j.feature.Row)
	}
	return j.Unusable(place, j.wrong, "repair the file at that place, or write it again")
}

// peek returns the next byte that is not white space. It returns 0 at the end of the text and after an
// error.
func (j *reader) peek() byte {
	w := j.Reading.Text
	for j.wrong == "" {
		for w.Buf[w.Pos] <= ' ' && w.Pos < w.End {
			w.Pos++
		}
		if w.Pos < w.End {
			return w.Buf[w.Pos]
		}
		if !w.More() {
			return 0
		}
	}
	return 0
}

// take reads the byte b, which must be the next one.
func (j *reader) take(b byte) bool {
	if got := j.peek(); got != b {
		j.fail(fmt.Sprintf("%s where %q should be", describe(got), b))
		return false
	}
	j.Reading.Text.Pos++
	return true
}

func describe(b byte) string {
	if b == 0 {
		return "the text ends"
	}
	return fmt.Sprintf("there is %q", b)
}

// next moves to the next member of an object or array that ends with closing. If first is true, no
// member has been read yet. It returns false after the last member.
func (j *reader) next(closing byte, first bool) bool {
	b := j.peek()
	w := j.Reading.Text
	switch {
	case j.wrong != "":
		return false
	case b == closing:
		w.Pos++
		return false
	case first:
		return true
	case b == ',':
		w.Pos++
		if j.peek() == closing { // [C] a trailing comma does no harm
			w.Pos++
			return false
		}
		return j.wrong == ""
	}
	j.fail(fmt.Sprintf("%s where ',' or %q should be", describe(b), closing))
	return false
}

// member reads the key of an object's next member. The key is valid until anything else is read.
func (j *reader) member(first bool) ([]byte, bool) {
	if !j.next('}', first) {
		return nil, false
	}
	j.key = j.string(j.key[:0])
	return j.key, j.take(':')
}

// skip passes over a value of any kind. If keep is true, it returns the value's text.
func (j *reader) skip(keep bool, into []byte) []byte {
	w := j.Reading.Text
	j.peek()
	level, quoted, begin := 0, false, w.Pos
	flush := func() {
		if keep {
			into = append(into, w.Buf[begin:w.Pos]...)
		}
	}
	for j.wrong == "" {
		if w.Pos == w.End {
			flush()
			more := w.More()
			begin = w.Pos
			if !more {
				if level > 0 || quoted {
					j.fail("the text ends inside a value")
				}
				return into
			}
		}
		b := w.Buf[w.Pos]
		switch {
		case quoted && b == '\\':
			w.Pos++
			if w.Pos == w.End {
				flush()
				w.More()
				begin = w.Pos
				if w.Pos == w.End {
					continue
				}
			}
		case b == '"':
			quoted = !quoted
			if !quoted && level == 0 {
				w.Pos++
				flush()
				return into
			}
		case quoted:
		case b == '{' || b == '[':
			level++
			if level > j.Limits.Nesting {
				j.fail("arrays or objects are nested deeper than limits.nesting allows")
			}
		case b == '}' || b == ']':
			level--
			if level == 0 {
				w.Pos++
				flush()
				return into
			}
			if level < 0 {
				flush()
				return into
			}
		case level == 0 && (b == ',' || b <= ' '):
			flush()
			return into
		}
		w.Pos++
	}
	return into
}
