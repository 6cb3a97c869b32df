package margin

import (
	"strings"

	"driftreach/internal/survey"
)

// Causes numbers the errors that several acreages may share.
type Causes struct {
	observers map[observer]int32
	next      int32
	blocks    []block // sorted by their first cause
}

// observer is a person who measured patches, and the quarter.
type observer struct {
	name    string
	quarter survey.Quarter
}

// The errors common to everything that uses a default.
const (
	defaultPatch int32 = iota
	defaultCover
	firstCause
)

// NewCauses returns the causes of the defaults alone.
func NewCauses() *Causes { return &Causes{observers: map[observer]int32{}, next: firstCause} }

// Of returns, by record, the error common to all patches that its observer measured in its quarter.
// Records without an observer share one. The number of an error depends on the order of the
// records, which are sorted.
func (c *Causes) Of(records survey.Records, quarter func(i int) survey.Quarter) []int32 {
	out := make([]int32, records.Len())
	for i := range out {
		by := observer{records.At(i).RecordedBy(), quarter(i)}
		cause, there := c.observers[by]
		if !there {
			by.name = strings.Clone(by.name) // not the other texts of the record
			cause = c.add(1, by.quarter)
			c.observers[by] = cause
		}
		out[i] = cause
	}
	return out
}

// OwnOf gives three new causes to each record at the given places, for the errors it shares only
// with its own copies. quarter gives the quarter of each survey. It returns, for n records, the
// first of the three, and 0 for other records.
func (c *Causes) OwnOf(n int, places []int32, quarter func(i int) survey.Quarter) []int32 {
	out := make([]int32, n)
	for _, i := range places {
		out[i] = c.add(perRecord, quarter(int(i)))
	}
	return out
}

// perRecord is the number of a record's own errors: its patch, and its position in x and in y.
const perRecord = 3

func (c *Causes) add(n int32, quarter survey.Quarter) int32 {
	first := c.next
	c.next += n
	if last := len(c.blocks) - 1; last < 0 || c.blocks[last].quarter != quarter {
		c.blocks = append(c.blocks, block{first, quarter})
	}
	return first
}

// block is a run of consecutive causes from one quarter.
type block struct {
	first   int32
	quarter survey.Quarter
}
