package check

import (
	"fmt"
	"slices"
)

// DefaultLimit is how many warnings or notes of one kind are listed for a file. If there are more, one
// sentence gives their number. Our choice: a person can still read such a list, and a million blank
// dates become one line.
const DefaultLimit = 1000

// Log collects findings. It keeps all errors, since users must be able to look up each rejected record.
// For one file, rule and field it keeps at most Limit warnings or notes; if there are more, one finding
// with their number replaces them. So the result depends on the set of findings and not on their order.
// The zero Log is ready for use.
type Log struct {
	Limit int  // 0 means DefaultLimit
	Quiet bool // keep nothing

	full   [][]Finding // blocks of errors
	last   []Finding   // the block with free space
	groups map[group]*tally
}

// Errors are kept in blocks, so that a file in which every record is wrong does not cause repeated
// copying. Each block is twice as large as the one before. Our choice: from a few findings up to a
// megabyte.
const (
	firstBlock = 16
	mostBlock  = 1 << 13
)

// keep appends an error to the last block.
func (l *Log) keep(f Finding) {
	if len(l.last) == cap(l.last) {
		if len(l.last) > 0 {
			l.full = append(l.full, l.last)
		}
		l.last = make([]Finding, 0, min(max(firstBlock, 2*cap(l.last)), mostBlock))
	}
	l.last = append(l.last, f)
}

type group struct{ file, code, field string }

type tally struct {
	count int
	first Finding // the first in sorted order, kept as the example
	kept  []Finding
}

// Add adds a finding to the log.
func (l *Log) Add(f Finding) {
	if l.Quiet {
		return
	}
	if f.Rule.Severity == Error {
		l.keep(f)
		return
	}
	key := group{f.File, f.Rule.Code, f.Field}
	t := l.groups[key]
	if t == nil {
		if l.groups == nil {
			l.groups = map[group]*tally{}
		}
		t = &tally{first: f}
		l.groups[key] = t
	}
	t.add(f, l.limit())
}

func (l *Log) limit() int {
	if l.Limit > 0 {
		return l.Limit
	}
	return DefaultLimit
}

func (t *tally) add(f Finding, limit int) {
	t.count++
	if compare(&f, &t.first) < 0 {
		t.first = f
	}
	if t.count <= limit {
		t.kept = append(t.kept, f)
	} else {
		t.kept = nil
	}
}

// Take adds what another log with the same limit holds, as if each of its findings had been added here.
// The other must not be used afterwards.
func (l *Log) Take(other *Log) {
	if l.Quiet {
		return
	}
	l.full = append(append(l.full, other.full...), other.last)
	for key, more := range other.groups { // each group by itself
		t := l.groups[key]
		if t == nil {
			if l.groups == nil {
				l.groups = map[group]*tally{}
			}
			l.groups[key] = more
			continue
		}
		t.count += more.count
		if compare(&more.first, &t.first) < 0 {
			t.first = more.first
		}
		if t.count <= l.limit() {
			t.kept = append(t.kept, more.kept...)
		} else {
			t.kept = nil
		}
	}
}

// Findings returns the collected findings, sorted as Sort does.
func (l *Log) Findings() []Finding {
	parts := append(slices.Clip(l.full), l.last)
	for _, t := range l.groups { // the order does not matter: sorted below
		told := t.kept
		if told == nil {
			told = []Finding{t.summary()}
		}
		parts = append(parts, told)
	}
	all := joined(parts)
	Sort(all)
	return all
}

func (t *tally) summary() Finding {
	f := t.first
	f.Message = fmt.Sprintf("%d records have this trouble, for example %s: %s", t.count, f.Record, f.Message)
	f.Record = ""
	f.Position = nil
	return f
}
