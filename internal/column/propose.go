package column

import (
	"slices"
)

// Propose makes mappings for carried columns that are recognised by name and content, in the order of
// the recognised fields. A column is proposed once, and a field only if the file has no column for it.
// comma says that numbers may have a decimal comma.
func (c *Columns) Propose(comma bool) {
	var out []Proposal
	taken := map[int]bool{}
	for _, k := range c.recognised {
		at := c.fieldOf(k.field)
		if at < 0 || c.Has(at) {
			continue
		}
		for _, name := range k.names {
			column, unit := c.recognise(c.fields[at], k.content, name, taken, comma)
			if column < 0 {
				continue
			}
			taken[column] = true
			out = append(out, Proposal{k.field, c.bound[column], unit})
			break
		}
	}
	out = append(out, c.proposeCut(out, comma)...)
	c.proposals = append(out, c.proposeDate(out)...)
}

// recognise returns the column with this name and fitting content; -1 for none.
func (c *Columns) recognise(field Field, content Content, name string, taken map[int]bool, comma bool) (column int, unit string) {
	for i, theirs := range c.bound {
		if taken[i] || c.extra[i] < 0 {
			continue
		}
		stem, unit := field.withoutUnit(theirs)
		switch {
		case stem != name && plain(theirs) != name:
		case i >= len(c.samples):
			return i, unit
		case content == Numbers && c.samples[i].fitsNumbers(field, comma):
			if unit == "" && !field.UnitSaid(theirs) {
				unit = c.samples[i].unitOf(field, comma)
			}
			return i, unit
		case c.samples[i].fits(content):
			return i, unit
		case content == Dates && c.samples[i].dateOrder() != "":
			return i, c.samples[i].dateOrder()
		}
	}
	return -1, ""
}

// ProposeOnly proposes a column for this field only.
func (c *Columns) ProposeOnly(field, column string) {
	all := slices.DeleteFunc(c.proposals, func(p Proposal) bool { return p.Column == column })
	at := slices.IndexFunc(all, func(p Proposal) bool { return c.fieldOf(p.Field) > c.fieldOf(field) })
	if at < 0 {
		at = len(all)
	}
	c.proposals = slices.Insert(all, at, Proposal{Field: field, Column: column})
}

// Named returns the first carried column with one of these names, in lower case letters and digits,
// without accents; blank for none.
func (c *Columns) Named(names ...string) string {
	for i, theirs := range c.bound {
		if c.extra[i] >= 0 && slices.Contains(names, plain(theirs)) {
			return theirs
		}
	}
	return ""
}

// Proposals returns the proposed mappings.
func (c *Columns) Proposals() []Proposal { return c.proposals }

// ProposedWords returns the words in the proposed columns, so that columns and words can be mapped in
// one step.
func (c *Columns) ProposedWords() []WordCount {
	var out []WordCount
	for _, p := range c.proposals {
		column := slices.Index(c.bound, p.Column)
		if !c.decidedByWords(p.Field) || column < 0 || column >= len(c.samples) {
			continue
		}
		for _, text := range c.samples[column].texts {
			out = append(out, WordCount{Field: p.Field, Word: text})
		}
	}
	return out
}

// decidedByWords says whether a field takes one of a few words for which survey sheets use others. The
// field for found or not found is left out: its words are understood without a mapping, and an unknown
// one stops the batch anyway.
func (c *Columns) decidedByWords(field string) bool {
	at := c.fieldOf(field)
	return at >= 0 && len(c.fields[at].Words) > 0 && field != occurrence
}

// doubtful says whether a column was reported because its name was cut.
func (c *Columns) doubtful(column string) bool {
	return slices.ContainsFunc(c.doubts, func(d doubt) bool { return d.column == column })
}
