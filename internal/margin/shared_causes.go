package margin

import (
	"driftreach/internal/survey"
)

// Causes numbers the errors that acres may have in common.
type Causes struct {
	observers map[observer]int32
	next      int32
	blocks    []block // by their first cause
}

// observer is who measured patches, and in which quarter.
type observer struct {
	name    string
	quarter survey.Quarter
}

// The errors that all have in common who rest on a default.
const (
	defaultPatch int32 = iota
	defaultCover
	firstCause
)

// NewCauses returns none but those of the defaults.
func NewCauses() *Causes { return &Causes{observers: map[observer]int32{}, next: firstCause} }

// Of returns, by record, the error shared by all patches that its observer measured
// in its quarter. Records that name nobody share one. Which number an error gets hangs
// on the order of the records, which are sorted.
func (c *Causes) Of(records []survey.Record, quarter func(i int) survey.Quarter) []int32 {
	out := make([]int32, len(records))
	for i := range records {
		by := observer{quarter: quarter(i)}
		if notes := records[i].Notes; notes != nil {
			by.name = notes.RecordedBy
		}
		cause, there := c.observers[by]
		if !there {
			cause = c.add(1, by.quarter)
			c.observers[by] = cause
		}
		out[i] = cause
	}
	return out
}

// OwnOf returns n numbers of three for what the records at the given places, looked at
// in a quarter each, share with nobody but their own copies: by record the first of its
// three, 0 for others.
func (c *Causes) OwnOf(n int, places []int32, quarter func(i int) survey.Quarter) []int32 {
	out := make([]int32, n)
	for _, i := range places {
		out[i] = c.add(perRecord, quarter(int(i)))
	}
	return out
}

// perRecord is how many errors a record has of its own: its patch, and its place in x
// and in y.
const perRecord = 3

func (c *Causes) add(n int32, quarter survey.Quarter) int32 {
	first := c.next
	c.next += n
	if last := len(c.blocks) - 1; last < 0 || c.blocks[last].quarter != quarter {
		c.blocks = append(c.blocks, block{first, quarter})
	}
	return first
}
