package intake

import (
	"fmt"
	"slices"
	"strings"

	"driftreach/internal/format"
)

// fewestTwoValued is how many values a column must have for two different ones to
// tell of a choice. Our choice.
const fewestTwoValued = 4

// reportTwoValued tells of carried columns with two values: one of them may say that
// the plant was not found, which makes acres of absences.
func (p *pointReader) reportTwoValued() {
	for i := range p.samples {
		s := &p.samples[i]
		name := p.binding.bound[i]
		understood := slices.ContainsFunc(p.binding.adopted, func(u ColumnReport) bool { return u.Column == name }) ||
			slices.ContainsFunc(p.file.Proposals, func(q Proposal) bool { return q.Column == name })
		if p.binding.extra[i] < 0 || understood {
			continue
		}
		if words := s.yesAndNo(); len(words) > 2 || len(words) == 2 && s.filled < fewestTwoValued {
			p.ReportFile(ruleTwoValued, name, "", fmt.Sprintf("the column %q says yes and no, in the words %s; it was carried and not understood", name, format.Shorten(strings.Join(words, ", "))))
			continue
		}
		if len(s.texts) != 2 || s.filled < fewestTwoValued {
			continue
		}
		a, b := 0, 1
		if s.texts[b] < s.texts[a] {
			a, b = b, a
		}
		p.ReportFile(ruleTwoValued, name, "", fmt.Sprintf("the column %q has two values, %s %d times and %s %d times; it was carried and not understood",
			name, format.Shorten(s.texts[a]), s.times[a], format.Shorten(s.texts[b]), s.times[b]))
	}
}

// mostYesAndNo is how many words for yes and no a column of them may have. Our choice.
const mostYesAndNo = 8

// yesAndNo returns the words of a column, sorted, when all of them say yes or no and
// both are said; nothing for any other column.
func (s *sample) yesAndNo() []string {
	yes, no := false, false
	for _, text := range s.texts {
		found, known := parseOccurrence(text)
		if !known || len(s.texts) > mostYesAndNo {
			return nil
		}
		yes, no = yes || found, no || !found
	}
	if !yes || !no {
		return nil
	}
	return slices.Sorted(slices.Values(s.texts))
}
