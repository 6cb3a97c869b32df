package intake

import (
	"fmt"
	"slices"
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
		understood := slices.ContainsFunc(p.binding.adopted, func(u Understood) bool { return u.Column == name }) ||
			slices.ContainsFunc(p.file.Proposals, func(q Proposal) bool { return q.Column == name })
		if len(s.texts) != 2 || s.filled < fewestTwoValued || p.binding.extra[i] < 0 || understood {
			continue
		}
		a, b := 0, 1
		if s.texts[b] < s.texts[a] {
			a, b = b, a
		}
		p.reportFile(ruleTwoValued, name, "", fmt.Sprintf("the column %q has two values, %s %d times and %s %d times; it was carried and not understood",
			name, shorten(s.texts[a]), s.times[a], shorten(s.texts[b]), s.times[b]))
	}
}
