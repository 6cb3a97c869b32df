// Package correction defines and checks corrections of earlier records and stands: a find that was not
// the plant, stands that are one or two, and plants that a survey missed.
package correction

import (
	"strings"
	"time"
)

// Kind is what a correction says.
type Kind string

// The kinds, as written in the correction column.
const (
	// Misidentified: the record or the stand was a look-alike and never the plant.
	Misidentified Kind = "misidentified"
	// SameStand: the stand, or the find, is the other stand.
	SameStand Kind = "same stand as"
	// NotSameStand: the stand, or the find, is not the other stand.
	NotSameStand Kind = "not the same stand"
	// AbsenceWrong: the stand was there although a survey found nothing.
	AbsenceWrong Kind = "absence was wrong"
)

// Kinds returns every kind.
func Kinds() []Kind { return []Kind{Misidentified, SameStand, NotSameStand, AbsenceWrong} }

// kinds are the accepted words for each kind, in lower case and with single blanks.
var kinds = map[string]Kind{
	"misidentified": Misidentified, "misidentification": Misidentified, "look alike": Misidentified, "lookalike": Misidentified, "wrong species": Misidentified,
	"same stand as": SameStand, "same stand": SameStand, "same as": SameStand, "is the same stand": SameStand,
	"not the same stand": NotSameStand, "not same stand": NotSameStand, "not the same stand as": NotSameStand, "not the same": NotSameStand, "other stand": NotSameStand, "different stand": NotSameStand,
	"absence was wrong": AbsenceWrong, "absence wrong": AbsenceWrong, "wrong absence": AbsenceWrong, "false absence": AbsenceWrong, "overlooked": AbsenceWrong, "missed": AbsenceWrong,
}

// ParseKind returns the kind that a text means, ignoring case, and blanks, dashes or underscores
// between words. If there is none, it returns the text and false.
func ParseKind(text string) (string, bool) {
	words := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return strings.ContainsRune(" _-", r) })
	if k, ok := kinds[strings.Join(words, " ")]; ok {
		return string(k), true
	}
	return text, false
}

// Correction is one row: what was found out about a record or a stand, and on which day.
type Correction struct {
	File     string    // as the user named it; blank if the chain carries the row
	Row      int       // row number in the file, counted from 1
	Date     time.Time // day on which it was found out, UTC midnight
	Kind     Kind
	RecordID string // occurrenceID; blank for not given
	StandID  string // likewise
	OtherID  string // the other stand, if the row compares two
	Reason   string // as written

	Taken   string   // quarter of the batch that applied it; blank if none has yet
	Records []string // occurrenceIDs that it withdrew
	Stands  []string // stands that it removed, or made from parts of others
	Effect  string   // what it changed there, in words
}

// pair returns the two things that a row compares: two stands, or a find and a stand.
func (c *Correction) pair() (subject, stand string) {
	switch {
	case c.RecordID != "" && c.OtherID != "":
		return "record " + c.RecordID, c.OtherID
	case c.RecordID != "":
		return "record " + c.RecordID, c.StandID
	}
	return c.StandID, c.OtherID
}

// Against returns the stand that the row compares its find or stand with.
func (c *Correction) Against() string {
	_, stand := c.pair()
	return stand
}

// names returns what a row is about, for findings.
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
