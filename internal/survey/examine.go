package survey

import "driftreach/internal/check"

// Checked is the result of Examine for the records of one batch.
type Checked struct {
	Records  []Record // accepted, sorted by id
	Findings []check.Finding
	Aside    []Aside // by file
	Quarters []Dated // number of all input records by quarter, the earliest first
}

// Examine checks the records of one batch, from all its files. It sets aside records of earlier
// quarters and rejects those that cannot be records of the quarter. It blanks implausible values, so
// that the defaults are used instead. It makes an id from file and row for records without one. If
// records with the same id show the same plant, only the newest is kept; ids that are still repeated
// are made unique. The result depends on the set of records, not on their order. It takes the slice
// over and returns its memory. The cost is n log n.
func Examine(records []Record, o Options) Checked {
	e := NewExaminer(o)
	records = e.Block(records)
	e.expect(len(records))
	for i := range records {
		e.Next(&records[i])
	}
	out := e.End(func(i int) *Record { return &records[i] })
	out.Records = records
	return out
}

// Examiner does what Examine does for records that come in blocks, so that they need not be in memory
// together: Meet is given all of them, Block one block after another, Next all accepted ones sorted by
// id, and End what is left to find. The result is that of Examine.
type Examiner struct {
	c        *checker
	days     map[Day]int // records by first day
	repeats  repeats
	coarse   coarseness
	crews    beside
	accepted int
}

// NewExaminer returns an examiner of one batch.
func NewExaminer(o Options) *Examiner {
	return &Examiner{c: newChecker(o), days: map[Day]int{}, coarse: newCoarseness(o.JoinDistance), crews: newBeside()}
}

// Again returns an examiner that has met the same records and examined none.
func (e *Examiner) Again() *Examiner {
	again := NewExaminer(e.c.options)
	again.c.MeetAs(&e.c.Checker)
	return again
}

// Meet is given records before they come in blocks, in any order.
func (e *Examiner) Meet(records []Record) {
	for first := 0; first < len(records); first++ {
		last := first
		for last < len(records) && !e.c.isEarly(&records[last]) {
			last++
		}
		e.c.Meet(records[first:last])
		first = last
	}
}

// Block checks records by themselves and against those with the same id, all of which must be in the
// same block, with those whose id differs only in an ending such as "~2". It returns those accepted,
// sorted by id. It takes the slice over and returns its memory.
func (e *Examiner) Block(records []Record) []Record {
	for i := range records {
		e.days[records[i].Begin]++
	}
	return e.c.Unify(e.c.Accept(e.c.setEarlierAside(records), e.c.accept))
}

// expect makes room for so many accepted records.
func (e *Examiner) expect(n int) {
	if !e.c.options.Quiet {
		e.repeats.places, e.crews.cells = make([]uint64, 0, n), make([]int32, 0, n)
	}
}

// Next is given the accepted records, sorted by id.
func (e *Examiner) Next(r *Record) {
	if e.c.options.Quiet {
		return
	}
	e.repeats.next(e.accepted, r)
	e.coarse.next(e.c, r)
	e.crews.next(r)
	e.accepted++
}

// Aside returns the number of records set aside so far.
func (e *Examiner) Aside() int {
	n := 0
	for _, records := range e.c.aside {
		n += records
	}
	for _, s := range e.c.early {
		n += s.Rows
	}
	return n
}

// End returns what was found, without the records. at returns an accepted record by its place among
// those that Next was given; it is asked for few.
func (e *Examiner) End(at func(int) *Record) Checked {
	e.repeats.end(e.c, at)
	e.coarse.end(e.c)
	e.crews.end(e.c, at)
	e.c.tellEarly()
	e.c.tellTurned(e.days)
	e.c.tellDrawn()
	return Checked{Findings: e.c.Findings(), Aside: e.c.asides(), Quarters: byQuarter(e.days)}
}
