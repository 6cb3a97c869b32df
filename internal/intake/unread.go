package intake

import (
	"fmt"
	"slices"
	"strings"

	"driftreach/internal/survey"
)

// reportUnread tells once of the columns that by name and content are measures or words
// that decide figures, and were carried and not read, because nobody asked for them:
// with a patch area left lying, every patch is the default one. Fields that the file
// tells of otherwise are left out.
func (r *featureReader) reportUnread(otherwise func(field string) bool) {
	var columns, lines []string
	for _, p := range r.file.Proposals {
		if _, asked := r.binding.mapped[p.Field]; asked || !decides(p.Field) || otherwise(p.Field) || r.binding.doubtful(p.Column) || slices.ContainsFunc(r.binding.adopted, func(u ColumnReport) bool { return u.Field == p.Field || u.Column == p.Column }) {
			continue
		}
		columns = append(columns, fmt.Sprintf("%q", p.Column))
		lines = append(lines, fmt.Sprintf("%s = %q", p.Field, p.Column))
	}
	if len(columns) == 0 {
		return
	}
	they, were := "column", "looks like a field of ours; it was carried and not read"
	if len(columns) > 1 {
		they, were = "columns", "look like fields of ours; they were carried and not read"
	}
	r.ReportFile(ruleUnread, strings.Join(lines, "; "), "", fmt.Sprintf("the %s %s %s", they, strings.Join(columns, ", "), were))
}

// decides says whether figures hang on a field: the measures, and what is one of a few
// words.
func decides(field string) bool {
	_, measured := fieldUnits[field]
	_, worded := knownWords[field]
	return measured || worded && field != "occurrenceStatus" || field == "canopy_cover_class" // what says found or not stops a batch by itself
}

// nothingElse is of files that tell of their fields in columns alone.
func nothingElse(string) bool { return false }

// drawn says whether a field is a measure of patches that are all drawn.
func (p *pointReader) drawn(field string) bool {
	return strings.HasPrefix(field, "patch_") &&
		!slices.ContainsFunc(p.records, func(r survey.Record) bool { return r.Detected && r.Outline == nil })
}

// doubtful says whether a column was told of as one whose name was cut short.
func (b *binding) doubtful(column string) bool {
	return slices.ContainsFunc(b.doubts, func(d doubt) bool { return d.column == column })
}
