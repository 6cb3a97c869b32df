package column

import (
	"driftreach/internal/format"
)

// Look samples the carried columns of a feature.
func (c *Columns) Look(f *format.Feature) {
	if c.looked++; c.looked > sampled {
		c.lookOn(f)
		return
	}
	for len(c.samples) < len(c.bound) {
		c.samples = append(c.samples, sample{})
	}
	for i := range f.Cells {
		text := f.Cells[i].Text
		if len(text) == 0 || c.extra[i] < 0 {
			continue
		}
		s := &c.samples[i]
		s.filled++
		if k := s.known(text); k >= 0 {
			s.times[k]++
			continue
		}
		if len(s.texts) >= sampledTexts || s.seen[string(text)] {
			continue
		}
		if s.seen == nil {
			s.seen = map[string]bool{}
		}
		s.seen[string(text)] = true
		if len(s.texts) < 2 {
			s.times[len(s.texts)]++
		}
		s.texts = append(s.texts, string(text))
	}
}

// lookOn continues to sample the columns that have had at most two values so far.
func (c *Columns) lookOn(f *format.Feature) {
	for i := range min(len(f.Cells), len(c.samples)) {
		s, text := &c.samples[i], f.Cells[i].Text
		if len(text) == 0 || len(s.texts) > 2 || c.extra[i] < 0 {
			continue
		}
		s.filled++
		switch k := s.known(text); {
		case k >= 0:
			s.times[k]++
		default:
			s.texts = append(s.texts, string(text))
			if n := len(s.texts); n <= 2 {
				s.times[n-1]++
			}
		}
	}
}

// Texts returns the different texts seen in a carried column, in file order, up to the number that is
// kept.
func (c *Columns) Texts(column int) []string {
	if column >= len(c.samples) {
		return nil
	}
	return c.samples[column].texts
}
