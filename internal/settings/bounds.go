package settings

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"
)

// bounds says which values a setting may have.
type bounds struct {
	low, high  float64
	openLow    bool     // low itself is not allowed
	words      []string // allowed words of a text; nil for numbers
	from, to   int      // allowed number of values in a list; 0 for a single value
	mustAscend bool
	day        bool // a day as in 2026-07-15, or blank
	sentence   bool // one line of the user's own text
	blank      bool // may be blank
}

func within(low, high float64) bounds { return bounds{low: low, high: high} }

func above(low, high float64) bounds { return bounds{low: low, high: high, openLow: true} }

func oneOf(words ...string) bounds { return bounds{words: words} }

func aDay() bounds { return bounds{day: true} }

func inWords() bounds { return bounds{sentence: true} }

func inWordsOrBlank() bounds { return bounds{sentence: true, blank: true} }

// longestSentence is the longest line of the user's own text, in characters. Our choice: three lines in
// a table of a page.
const longestSentence = 200

// allowSentence says whether text is one line without semicolons, which separate the items of lists.
func allowSentence(text string) bool {
	if strings.TrimSpace(text) != text || text == "" || !utf8.ValidString(text) || utf8.RuneCountInString(text) > longestSentence {
		return false
	}
	return !strings.ContainsFunc(text, func(r rune) bool { return r == ';' || unicode.IsControl(r) })
}

func list(from, to int, each bounds) bounds {
	each.from, each.to = from, to
	return each
}

func ascending(b bounds) bounds {
	b.mustAscend = true
	return b
}

// String describes the bounds for messages and tables.
func (b bounds) String() string {
	if b.words != nil {
		return strings.Join(b.words, " or ")
	}
	if b.day {
		return "a day as in 2026-07-15, or blank"
	}
	if b.sentence {
		return fmt.Sprintf("one line of up to %d characters, no semicolon", longestSentence) + map[bool]string{true: ", or blank"}[b.blank]
	}
	one := Number(b.low) + " to " + Number(b.high)
	if b.openLow {
		one = "above " + Number(b.low) + ", up to " + Number(b.high)
	}
	switch {
	case b.to == 0:
		return one
	case b.mustAscend:
		return fmt.Sprintf("%d rising values, each %s", b.to, one)
	default:
		return fmt.Sprintf("%d to %d values, each %s", b.from, b.to, one)
	}
}

// isText says whether the values are texts.
func (b bounds) isText() bool { return b.words != nil || b.day || b.sentence }

// allow says whether the value that at points to is within b.
func (b bounds) allow(at any) bool {
	switch v := at.(type) {
	case *string:
		if b.day {
			_, err := time.Parse(time.DateOnly, *v)
			return err == nil || *v == ""
		}
		if b.sentence {
			return allowSentence(*v) || b.blank && *v == ""
		}
		return slices.Contains(b.words, *v)
	case *int:
		return b.allowNumber(float64(*v))
	case *float64:
		return b.allowNumber(*v)
	case *[]float64:
		return b.allowList(*v)
	}
	panic(fmt.Sprintf("setting of a kind without bounds: %T", at))
}

// allowNumber is written so that NaN is not allowed.
func (b bounds) allowNumber(v float64) bool {
	return (v > b.low || v == b.low && !b.openLow) && v <= b.high
}

func (b bounds) allowList(v []float64) bool {
	if len(v) < b.from || len(v) > b.to {
		return false
	}
	for i, x := range v {
		if !b.allowNumber(x) || b.mustAscend && i > 0 && x <= v[i-1] {
			return false
		}
	}
	return true
}

// Number formats v in the shortest form that reads back as the same value.
func Number(v float64) string {
	if v != 0 && (v < 1e-4 || v >= 1e9) {
		return strconv.FormatFloat(v, 'g', -1, 64)
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}
