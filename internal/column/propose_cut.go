package column

import "slices"

// proposeCut returns mappings, judged by content, for columns whose names a Shapefile cut so short that
// they fit several fields. proposals are the mappings made so far.
func (c *Columns) proposeCut(proposals []Proposal, comma bool) []Proposal {
	var out []Proposal
	done := map[string]bool{} // fields and columns
	for _, p := range proposals {
		done[p.Field], done[p.Column] = true, true
	}
	// columns that their content tells apart go first; the rest are remarks
	for _, plain := range []bool{false, true} {
		for _, d := range c.doubts {
			if field := c.meant(d, done, plain, comma); field != "" && !done[d.column] {
				done[field], done[d.column] = true, true
				out = append(out, Proposal{Field: field, Column: d.column})
			}
		}
	}
	return out
}

// meant returns the only field that the texts of a doubtful column fit; blank if there is none. If
// plain is true, it tries the fields that any text fits.
func (c *Columns) meant(d doubt, done map[string]bool, plain, comma bool) string {
	column := slices.Index(c.bound, d.column)
	if column < 0 || column >= len(c.samples) || c.samples[column].filled == 0 {
		return ""
	}
	s := &c.samples[column]
	var fits []string
	for _, k := range c.recognised {
		if done[k.field] || !slices.Contains(d.fields, k.field) || (k.content == Anything) != plain {
			continue
		}
		field := c.fields[c.fieldOf(k.field)]
		if k.field == occurrence && s.tellsOccurrence(field) {
			return k.field // ids never look like these words
		}
		if k.field != occurrence && (k.content == Numbers && s.fitsNumbers(field, comma) || k.content != Numbers && s.fits(k.content)) {
			fits = append(fits, k.field)
		}
	}
	if len(fits) != 1 {
		return ""
	}
	return fits[0]
}
