package intake

import (
	"driftreach/internal/cell"
	"driftreach/internal/check"
	"driftreach/internal/survey"
)

// pointReader turns features into records.
type pointReader struct {
	featureReader
	records    []survey.Record
	badDate    map[int]bool // indices in records whose date was reported as unreadable
	dates      words[days]
	utc        int // minutes since midnight UTC of the date read last; -1 where it has none
	utcDays    utcDays
	status     words[statusWord]
	occurrence words[occurrenceWord]
	classes    map[string]string
	slab       slab
	presence   presence

	occurrences occurrences
	blankFound  bool // meaning of a blank occurrenceStatus
	notebook    notebook

	give     func([]survey.Record) error // takes blocks of records; nil to keep all
	before   int                         // records given so far
	undated  check.Log                   // of records without a date, if the file has a column for it
	bare     []uint64                    // a bit for each record given: it has no outline
	bareFind bool                        // such a record is a find by its own words
	decided  *presenceColumn             // read as occurrenceStatus by its name or words; nil for none
}

func newPointReader(o Options) *pointReader {
	p := &pointReader{featureReader: newReader(fieldsFor(o.CRS), pointID, recognisedPoints, o), badDate: map[int]bool{}}
	p.presenceFirst = true
	p.notebook = newNotebook(p.columns)
	p.classes = o.Mapping.Words("canopy_cover_class")
	order := o.Mapping.Order("eventDate")
	p.dates = newWords(func(text string) days {
		begin, end, serial, err := cell.ParseDays(text, order)
		return days{survey.DayOf(begin), survey.DayOf(end), err == nil, serial, utcMinutes(text)}
	})
	statuses := o.Mapping.Words("management_status")
	p.occurrences, p.blankFound = o.Mapping.Words("occurrenceStatus"), true
	if detected, ok := p.occurrences.of(""); ok {
		p.blankFound = detected
	}
	p.status = newWords(func(text string) statusWord {
		s, ok := survey.ParseStatus(translate(statuses, text))
		return statusWord{s, ok}
	})
	p.occurrence = newWords(func(text string) occurrenceWord {
		detected, ok := p.occurrences.of(text)
		return occurrenceWord{detected, ok}
	})
	return p
}
