package intake

import (
	"bytes"
	"cmp"
	"maps"
	"slices"
	"strings"

	"driftreach/internal/cell"
	"driftreach/internal/survey"
)

// Proposal is a mapping that would make a carried column one of our fields.
type Proposal struct {
	Field  string
	Column string
	Unit   string // of its numbers, where its name tells another than ours
}

// orderWords orders counted words: field, most frequent first, word.
func orderWords(a, b tallied, timesA, timesB int) int {
	return cmp.Or(cmp.Compare(a.field, b.field), cmp.Compare(timesB, timesA), strings.Compare(a.word, b.word))
}

// content is what a column's texts must be for it to be recognised.
type content uint8

const (
	anything content = iota
	numbers
	dates
	different // no text comes twice
	fewWords  // the same few come again and again
)

// recognised is a field with the names that columns for it have elsewhere.
type recognised struct {
	field   string
	content content
	names   []string // letters and digits only, small; without units
}

// propose returns mappings for carried columns that are recognised by name and
// content, in the order of fields. A column is proposed once, and a field only when
// the file has no column for it.
func (r *featureReader) propose(known []recognised) []Proposal {
	var out []Proposal
	taken := map[int]bool{}
	for _, k := range known {
		if at := slices.IndexFunc(r.binding.fields, func(f fieldName) bool { return f.name == k.field }); at < 0 || r.binding.has(at) {
			continue
		}
		for _, name := range k.names {
			column, unit := r.recognise(k, name, taken)
			if column < 0 {
				continue
			}
			taken[column] = true
			out = append(out, Proposal{k.field, r.binding.bound[column], unit})
			break
		}
	}
	return append(out, r.proposeCut(known, out)...)
}

// proposedWords returns the words of columns that are proposed, so that columns
// and words can be mapped in one go.
func (r *featureReader) proposedWords(proposals []Proposal) []WordCount {
	var out []WordCount
	for _, p := range proposals {
		column := slices.Index(r.binding.bound, p.Column)
		if knownWords[p.Field] == nil || p.Field == "occurrenceStatus" || // its words are understood as they are
			column < 0 || column >= len(r.samples) {
			continue
		}
		for _, text := range r.samples[column].texts {
			out = append(out, WordCount{Field: p.Field, Word: text})
		}
	}
	return out
}

// recognise returns the column of a name whose content fits, -1 for none.
func (r *featureReader) recognise(k recognised, name string, taken map[int]bool) (column int, unit string) {
	for i, theirs := range r.binding.bound {
		if taken[i] || r.binding.extra[i] < 0 {
			continue
		}
		stem, unit := withoutUnit(k.field, theirs)
		switch {
		case stem != name && plain(theirs) != name:
		case i >= len(r.samples):
			return i, unit
		case k.content == numbers && r.samples[i].fitsNumbers(k.field, r.Comma):
			if unit == "" && !UnitSaid(k.field, theirs) {
				unit = r.samples[i].unit(k.field)
			}
			return i, unit
		case r.samples[i].fits(k.content):
			return i, unit
		case k.content == dates && r.samples[i].dateOrder() != "":
			return i, r.samples[i].dateOrder()
		}
	}
	return -1, ""
}

// withoutUnit takes a unit off the end of a column's name, as in "Area (ft2)",
// "height_ft" or "AreaSqFt". A name that is a unit itself, such as "Acres", keeps it.
// unit is blank where it is ours.
func withoutUnit(field, column string) (stem, unit string) {
	stem, unit, _ = cutUnit(field, column)
	return stem, unit
}

// UnitSaid says whether the name of a column for a field tells its unit.
func UnitSaid(field, column string) bool {
	_, _, said := cutUnit(field, column)
	return said
}

// HasUnit says whether a field is a measure, and in which unit it is, as in "m2".
func HasUnit(field string) (unit string, has bool) {
	ours, measured := fieldUnits[field]
	if !measured {
		return "", false
	}
	for _, word := range []string{"m2", "m", "%", "km2", "km", "ac", "share", "m/s", "m3/s", "h", "c"} {
		if unit, _ := cell.FindUnit(word); unit == ours {
			return word, true
		}
	}
	return "", false
}

func cutUnit(field, column string) (stem, unit string, said bool) {
	if field == amountField {
		unit = amountUnitOf(column)
		if stem = strings.Replace(plain(column), plain(unit), "", 1); stem == "" {
			stem = plain(column)
		}
		return stem, unit, unit != ""
	}
	ours, measured := fieldUnits[field]
	if !measured {
		return plain(column), "", false
	}
	for _, words := range [][]string{
		strings.FieldsFunc(strings.ToLower(strings.TrimSpace(column)), func(r rune) bool { return strings.ContainsRune(" _-()[].,:", r) }),
		nameWords(column),
	} {
		for n := min(2, len(words)); n > 0; n-- {
			last := strings.Join(words[len(words)-n:], " ")
			m, known := cell.FindUnit(last)
			if !known || m.Of != ours.Of {
				continue
			}
			if m.Size != ours.Size {
				unit = last
			}
			if n == len(words) {
				return plain(column), unit, true
			}
			return plain(strings.Join(words[:len(words)-n], "")), unit, true
		}
	}
	return plain(column), "", false
}

// plain keeps a name's letters and digits.
func plain(name string) string {
	return strings.Map(func(r rune) rune {
		if strings.ContainsRune(" _-()[].,:/#?!*'\"", r) {
			return -1
		}
		return r
	}, strings.ToLower(name))
}

// fits says whether the texts are what they should be. An empty column fits nothing
// but anything.
func (s *sample) fits(c content) bool {
	good := 0
	for _, text := range s.texts {
		switch c {
		case dates:
			if _, _, _, err := cell.ParseDays(text, survey.NoOrder); err == nil {
				good++
			}
		}
	}
	switch c {
	case anything:
		return true
	case different:
		return s.filled > 0 && (len(s.texts) == s.filled || len(s.texts) == sampledTexts)
	case fewWords:
		return len(s.texts) > 0 && len(s.texts) <= 30 && !bytes.ContainsAny([]byte(s.texts[0]), "0123456789")
	}
	// nine in ten: a typing mistake must not hide a column
	return len(s.texts) > 0 && 10*good >= 9*len(s.texts)
}

// dateOrder returns the one order in which nine in ten of the texts are dates,
// in the words of dateOrders; blank for none or both.
func (s *sample) dateOrder() string {
	found := ""
	for _, word := range slices.Sorted(maps.Keys(dateOrders)) {
		good := 0
		for _, text := range s.texts {
			if _, _, _, err := cell.ParseDays(text, dateOrders[word]); err == nil {
				good++
			}
		}
		if len(s.texts) == 0 || 10*good < 9*len(s.texts) {
			continue
		}
		if found != "" {
			return ""
		}
		found = word
	}
	return found
}

// ProposedWord returns our word for a word of a column that is not understood,
// by what survey sheets say; blank for none.
func ProposedWord(field, word string) string {
	for ours, theirs := range knownWords[field] { // one at most
		if slices.Contains(theirs, plain(word)) {
			return ours
		}
	}
	return ""
}
