package intake

import (
	"driftreach/internal/cell"
	"driftreach/internal/column"
	"driftreach/internal/survey"
)

// pointReader makes features into records.
type pointReader struct {
	featureReader
	records    []survey.Record
	badDate    map[int]bool // places in records whose date was reported as unreadable
	dates      words[days]
	status     words[statusWord]
	occurrence words[occurrenceWord]
	classes    map[string]string
	slab       slab
	presence   presence

	occurrences map[string]string // the user's words of occurrenceStatus
	blankFound  bool              // what a blank occurrenceStatus says
	notebook    notebook
}

type days struct {
	begin, end survey.Day
	ok         bool
	serial     bool // a day number
}

type statusWord struct {
	status survey.Status
	ok     bool
}

// text is our word; blank for none.
func (w statusWord) text() string {
	if !w.ok {
		return ""
	}
	return w.status.String()
}

type occurrenceWord struct{ detected, ok bool }

// text is our word; blank for none.
func (w occurrenceWord) text() string {
	switch {
	case !w.ok:
		return ""
	case w.detected:
		return "detected"
	}
	return "notDetected"
}

func newPointReader(o Options) *pointReader {
	p := &pointReader{badDate: map[int]bool{}, notebook: notebook{known: map[told]*survey.Notes{}}}
	p.options, p.presenceFirst = o, true
	p.columns = column.New(fieldsFor(o.CRS), recognisedPoints, o.Mapping)
	p.id = pointID
	p.classes = o.Mapping.Words("canopy_cover_class")
	order := o.Mapping.Order("eventDate")
	p.dates = newWords(func(text string) days {
		begin, end, serial, err := cell.ParseDays(text, order)
		return days{survey.DayOf(begin), survey.DayOf(end), err == nil, serial}
	})
	statuses := o.Mapping.Words("management_status")
	p.occurrences, p.blankFound = o.Mapping.Words("occurrenceStatus"), true
	if detected, ok := p.occurrenceOf(""); ok {
		p.blankFound = detected
	}
	p.status = newWords(func(text string) statusWord {
		s, ok := survey.ParseStatus(translate(statuses, text))
		return statusWord{s, ok}
	})
	p.occurrence = newWords(func(text string) occurrenceWord {
		detected, ok := p.occurrenceOf(text)
		return occurrenceWord{detected, ok}
	})
	return p
}
