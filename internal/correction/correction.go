// Package correction says what a correction of an earlier record or stand is and
// checks it: what was taken for the plant and was not, which stands are one or two,
// and where somebody missed what was there.
package correction

import (
	"strings"
	"time"
)

// Kind is what a correction says.
type Kind string

// The kinds, in the words of the correction column.
const (
	// Misidentified: the record or the stand was a look-alike and never the plant.
	Misidentified Kind = "misidentified"
	// SameStand: the stand, or the find, is the other stand.
	SameStand Kind = "same stand as"
	// NotSameStand: the stand, or the find, is not the other stand.
	NotSameStand Kind = "not the same stand"
	// AbsenceWrong: the stand was there where somebody found nothing.
	AbsenceWrong Kind = "absence was wrong"
)

// Kinds returns every kind.
func Kinds() []Kind { return []Kind{Misidentified, SameStand, NotSameStand, AbsenceWrong} }

// kinds are the words by which each kind is known, as folded writes them.
var kinds = map[string]Kind{
	"misidentified": Misidentified, "misidentification": Misidentified, "look alike": Misidentified, "lookalike": Misidentified, "wrong species": Misidentified,
	"same stand as": SameStand, "same stand": SameStand, "same as": SameStand, "is the same stand": SameStand,
	"not the same stand": NotSameStand, "not same stand": NotSameStand, "not the same stand as": NotSameStand, "not the same": NotSameStand, "other stand": NotSameStand, "different stand": NotSameStand,
	"absence was wrong": AbsenceWrong, "absence wrong": AbsenceWrong, "wrong absence": AbsenceWrong, "false absence": AbsenceWrong, "overlooked": AbsenceWrong, "missed": AbsenceWrong,
}

// ParseKind returns the word of the kind that text is, whatever its case and whether
// its words are joined by blanks, dashes or underscores; else the text.
func ParseKind(text string) (string, bool) {
	words := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return strings.ContainsRune(" _-", r) })
	if k, ok := kinds[strings.Join(words, " ")]; ok {
		return string(k), true
	}
	return text, false
}

// Correction is one row: what somebody found out on a day about a record or a stand.
type Correction struct {
	File     string    // as the user named it; blank for one that the chain carries
	Row      int       // its place there, counted from 1
	Date     time.Time // day it was found out, UTC midnight
	Kind     Kind
	RecordID string // occurrenceID; blank for not given
	StandID  string // likewise
	OtherID  string // the other stand, where two are held against each other
	Reason   string // as it was written

	Taken   string   // quarter of the batch that took it up; blank for one not taken up yet
	Records []string // occurrenceIDs that it withdrew
	Stands  []string // stands that it took out, or made of parts of others
	Effect  string   // what it did there, in words
}

// pair returns the two stands, or the find and the stand, that a row is about.
func (c *Correction) pair() (subject, stand string) {
	switch {
	case c.RecordID != "" && c.OtherID != "":
		return "record " + c.RecordID, c.OtherID
	case c.RecordID != "":
		return "record " + c.RecordID, c.StandID
	}
	return c.StandID, c.OtherID
}

// Against returns the stand that the row's find or stand is, or is not.
func (c *Correction) Against() string {
	_, stand := c.pair()
	return stand
}

// names returns what a row is about, as findings write it.
func (c *Correction) names() string {
	switch c.Kind {
	case SameStand, NotSameStand:
		a, b := c.pair()
		if c.RecordID == "" {
			a = "stand " + a
		}
		return a + " and stand " + b
	}
	if c.RecordID != "" {
		return "record " + c.RecordID
	}
	return "stand " + c.StandID
}
