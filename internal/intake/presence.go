package intake

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"driftreach/internal/check"
	"driftreach/internal/column"
	"driftreach/internal/format"
	"driftreach/internal/survey"
)

// hear records what the columns say about the record at index at.
func (p *pointReader) hear(f *format.Feature, at int) {
	h := &p.presence
	for ; h.looked < len(p.columns.Names()); h.looked++ {
		if p.columns.Place(h.looked) < 0 {
			continue
		}
		claim := column.PresenceOf(p.columns.Names()[h.looked])
		if claim == column.SaysNothing {
			claim = column.WordsSay
		}
		p.listen(h.looked, claim)
	}
	dropped := false
	for k := range h.columns {
		c := &h.columns[k]
		if !c.hear(f, at) {
			c.column, dropped = -1, true
		}
	}
	if dropped {
		h.columns = slices.DeleteFunc(h.columns, func(c presenceColumn) bool { return c.column < 0 })
	}
}

// listen begins to record what a column says.
func (p *pointReader) listen(column int, claim column.Claimed) {
	p.presence.columns = append(p.presence.columns, presenceColumn{
		column: column, name: p.columns.Names()[column], claim: claim, words: []string{""}, at: map[string]uint16{"": 0},
	})
}

// decide reads occurrenceStatus from the only column that says whether the plant was found. It returns
// an error for a column whose name claims this but whose words are not known, for one with ticks and
// blanks, and for two columns that differ.
func (p *pointReader) decide() error {
	if names, mapped := p.columns.Asked("occurrenceStatus"); p.columns.Has(pointOccurrence) || mapped && strings.Join(names, "") == "" {
		return nil
	}
	if p.before+len(p.records) == 0 {
		p.presenceOfSamples()
		return nil
	}
	// the columns of GeoJSON depend on the order of records
	slices.SortFunc(p.presence.columns, func(a, b presenceColumn) int {
		return cmp.Or(strings.Compare(a.name, b.name), cmp.Compare(a.column, b.column))
	})
	var clear []*presenceColumn
	for k := range p.presence.columns {
		c := &p.presence.columns[k]
		for len(c.heard) < p.before+len(p.records) {
			c.heard = append(c.heard, 0)
		}
		said, err := p.understand(c)
		if err != nil {
			return err
		}
		if said {
			clear = append(clear, c)
		}
	}
	// a column with a suitable name takes precedence over one recognised by its words alone
	for _, claim := range []column.Claimed{column.SaysPresence, column.WordsSay} {
		if slices.ContainsFunc(clear, func(c *presenceColumn) bool { return c.claim == claim }) {
			clear = slices.DeleteFunc(clear, func(c *presenceColumn) bool { return c.claim != claim })
		}
	}
	if len(clear) == 0 {
		return nil
	}
	for _, other := range clear[1:] {
		if err := p.agree(clear[0], other); err != nil {
			return err
		}
	}
	p.apply(clear[0])
	return nil
}

// presenceOfSamples proposes a column, by its name and the words seen in it, for a file whose records
// have no position yet.
func (p *pointReader) presenceOfSamples() {
	unknown := func(word string) bool { _, ok := p.occurrences.of(word); return !ok }
	for i, name := range p.columns.Names() {
		texts := p.columns.Texts(i)
		if p.columns.Place(i) >= 0 && column.PresenceOf(name) == column.SaysPresence && len(texts) > 0 && !slices.ContainsFunc(texts, unknown) {
			p.proposePresence(&presenceColumn{name: name})
			return
		}
	}
}

// understand says whether every word of the column says if the plant was found. A column that claims to
// but does not is an error.
func (p *pointReader) understand(c *presenceColumn) (bool, error) {
	count := make([]int, mostPresenceWords+1)
	for _, word := range c.heard {
		count[word]++
	}
	finds, absences, dated, plainly := 0, 0, 0, 0
	var unknown []string
	for i, word := range c.words {
		detected, ok := p.occurrences.of(word)
		switch {
		case i == 0 && !ok:
		case !ok:
			unknown = append(unknown, word)
			if _, _, err := survey.ParseDate(word); err == nil {
				dated++
			}
		case count[i] == 0:
		case detected:
			finds += count[i]
		default:
			absences += count[i]
			if column.FindsPlainly(word) {
				plainly += count[i]
			}
		}
	}
	slices.Sort(unknown)
	said := finds + absences
	switch {
	case finds+absences+len(unknown) == 0, dated > 0 && dated == len(unknown) && finds+absences == 0:
		return false, nil // a column of blanks, or of the dates of finds
	case c.claim == column.MaySay && (len(unknown) > 0 || finds == 0 || absences == 0), c.claim == column.WordsSay && (plainly == 0 || len(unknown) > 0 && 2*said < len(c.heard)-count[0]):
		return false, nil
	case c.claim == column.SaysAbsence:
		return false, p.presenceStop(c, fmt.Sprintf("the column %q says that the plant was not found, and its yes may mean no", c.name), slices.Sorted(slices.Values(nonBlank(c.words))))
	case len(unknown) > 0 && c.claim == column.WordsSay:
		return false, p.presenceStop(c, fmt.Sprintf("the column %q says of %d records that the plant was not found, and has words that are not known: %s", c.name, absences, wordList(unknown)), unknown)
	case len(unknown) > 0:
		return false, p.presenceStop(c, fmt.Sprintf("the column %q says whether the plant was found, in words that are not known: %s", c.name, wordList(unknown)), unknown)
	case absences == 0 && count[0] > 0:
		return false, p.presenceStop(c, fmt.Sprintf("the column %q has %s in %d records and is blank in %d: nobody can know whether the plant was found there", c.name, wordList(slices.Sorted(slices.Values(c.words[1:]))), len(c.heard)-count[0], count[0]), []string{""})
	}
	return true, nil
}

// agree returns an error for the first record about which two columns say different things.
func (p *pointReader) agree(a, b *presenceColumn) error {
	for i := range a.heard {
		first, knownA := p.occurrences.of(a.words[a.heard[i]])
		second, knownB := p.occurrences.of(b.words[b.heard[i]])
		if knownA && knownB && first != second {
			if p.give != nil {
				return errOfRecords
			}
			return p.stop(p.records[i].Name(), fmt.Sprintf("the columns %q and %q both say whether the plant was found, and differ: %s, %s", a.name, b.name, a.words[a.heard[i]], b.words[b.heard[i]]),
				fmt.Sprintf("name the one that holds under [columns.points], as in occurrenceStatus = %q", a.name))
		}
	}
	return nil
}

// apply reads the column as occurrenceStatus and reports this once for the file.
func (p *pointReader) apply(c *presenceColumn) {
	p.decided = c
	counts := make([]int, len(c.words))
	for i, word := range c.heard {
		counts[word]++
		if p.give != nil {
			continue
		}
		if detected, ok := p.occurrences.of(c.words[word]); ok {
			p.records[i].Detected = detected
		}
	}
	var told []string
	for _, i := range c.sorted() {
		word := c.words[i]
		detected, ok := p.occurrences.of(word)
		if counts[i] == 0 {
			continue
		}
		read := "not found"
		if detected || !ok { // blank
			read = "found"
		}
		if word == "" {
			word = "blank"
		}
		told = append(told, fmt.Sprintf("%s %d times as %s", format.Shorten(word), counts[i], read))
		if i > 0 {
			p.columns.CountMany(pointOccurrence, c.words[i], statusOfFind(detected), counts[i])
		}
	}
	p.columns.Adopt("occurrenceStatus", c.name)
	p.proposePresence(c)
	p.ReportFile(rulePresence, "occurrenceStatus", c.name, fmt.Sprintf("the column %q was read as occurrenceStatus by its name and words: %s", c.name, strings.Join(told, ", ")))
}

// proposePresence proposes the column as occurrenceStatus only.
func (p *pointReader) proposePresence(c *presenceColumn) {
	p.columns.ProposeOnly("occurrenceStatus", c.name)
}

func statusOfFind(detected bool) string { return occurrenceWord{detected, true}.text() }

// presenceStop returns the error for a column that claims to say whether the plant was found, with the
// mapping to write.
func (p *pointReader) presenceStop(c *presenceColumn, found string, words []string) error {
	p.proposePresence(c)
	lines := make([]string, 0, len(words))
	for _, word := range words[:min(len(words), 3)] {
		lines = append(lines, fmt.Sprintf("%q = \"detected\" or \"notDetected\"", word))
	}
	return p.stop("header", found, fmt.Sprintf("write occurrenceStatus = %q under [columns.points] and %s under [values.occurrenceStatus]; or occurrenceStatus = \"\" if the column says something else",
		c.name, strings.Join(lines, ", ")))
}

func nonBlank(words []string) []string {
	return slices.DeleteFunc(slices.Clone(words), func(word string) bool { return word == "" })
}

// wordList returns the first few words, for a message.
func wordList(words []string) string {
	return format.Shorten(check.FirstOf(words, 5, ", "))
}

// errOfRecords says that a file has an error that names a record already given.
var errOfRecords = errors.New("a record given before makes the file unusable")
