package check

import "github.com/paulmach/orb"

// Checker checks the records of one kind, from all files of a batch. Accept checks each record by
// itself; Unify then compares them with each other.
type Checker[R any] struct {
	Kind[R]
	Log
	// Settle decides between different records with the same id. It returns the indices of those to
	// keep; the first keeps the id. alike lists them by index, sorted by content. If Settle is nil, all
	// are kept.
	Settle func(all []R, alike []int) []int

	made     map[int]bool    // by index: records whose id was made from file and row
	met      map[string]bool // by file: whether a record has an id
	nameless map[string]bool // files in which none has one, which is reported once; nil before
}

// Report adds a finding about a record.
func (c *Checker[R]) Report(r *R, rule Rule, field, value, message string) {
	c.Add(c.Finding(r, rule, field, value, message))
}

// Accept returns the records for which accept is true, in their order. If the kind has ids, a missing
// id is made from file and row, and reported. Accept takes the slice over. It may be called with one
// block after another if Meet was given all records before.
func (c *Checker[R]) Accept(records []R, accept func(*R) bool) []R {
	c.made = map[int]bool{}
	if c.Names != nil && c.Names.PerFile && c.nameless == nil {
		if c.met == nil {
			c.Meet(records)
		}
		c.tellNameless()
	}
	kept := records[:0]
	for i := range records {
		r := &records[i]
		if !accept(r) {
			continue
		}
		if c.Names != nil && *c.Names.ID(r) == "" {
			c.made[len(kept)] = true
			c.name(r)
		}
		kept = append(kept, *r)
	}
	clear(records[len(kept):])
	return kept
}

// Made says whether the id of a record was made. i is its index in the result of Accept.
func (c *Checker[R]) Made(i int) bool { return c.made[i] }

// name makes an id for a record that has none.
func (c *Checker[R]) name(r *R) {
	file, row := c.Origin(r)
	id := MadeID(file, row)
	*c.Names.ID(r) = id
	if !c.nameless[file] {
		c.Report(r, c.Names.NoID, c.Names.Field, "", "the "+c.Noun+" has no id; "+id+" was made from file and row")
	}
}

// Meet notes in which files records have ids, for records that Accept is given later in blocks.
func (c *Checker[R]) Meet(records []R) {
	if c.met == nil {
		c.met = map[string]bool{}
	}
	last, named := "", false // most records are in the same file as the one before
	for i := range records {
		file, _ := c.Origin(&records[i])
		if i == 0 || file != last {
			last, named = file, c.met[file]
			c.met[file] = named
		}
		if !named && *c.Names.ID(&records[i]) != "" {
			named, c.met[file] = true, true
		}
	}
}

// MeetAs notes what another checker has met.
func (c *Checker[R]) MeetAs(other *Checker[R]) { c.met = other.met }

// tellNameless reports, once a file, files in which no record has an id.
func (c *Checker[R]) tellNameless() {
	c.nameless = map[string]bool{}
	for file, named := range c.met { // the log sorts them
		if !named {
			c.nameless[file] = true
			c.Add(Finding{Rule: c.Names.NoID, File: file, Field: c.Names.Field, Message: "the file has no ids; they were made from file and row"})
		}
	}
}

// Placed says whether every position of a record's paths is plausible. If not, the record is reported
// as rejected.
func Placed[R any, P ~[]orb.Point](c *Checker[R], r *R, paths []P) bool {
	at, why := PathsOf(paths)
	text := ""
	switch why {
	case WellPlaced:
		return true
	case NotFinite:
		text = "a coordinate is not a finite number"
	case NullIsland:
		text = "a " + c.Corner + " is 0, 0"
	case OutOfRange:
		text = "a " + c.Corner + " is outside the range of degrees"
	}
	c.Report(r, c.Misplaced[why], "geometry", Degrees(at), text+"; the "+c.Noun+" was rejected")
	return false
}
