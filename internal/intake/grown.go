package intake

import "slices"

// grown returns rows with room for the rows to come, estimated from how much of the text the
// rows so far took: Go's own growth copies a long slice five times over. The room is for at
// most three times as many rows, so that a file that begins with short rows does not take
// memory for rows it does not have.
func grown[T any](r *featureReader, rows []T) []T {
	const enough = 1000 // our choice: enough rows to estimate from their mean length how many are to come
	if len(rows) < max(cap(rows), enough) || r.Text == nil || r.Text.Place() <= 0 {
		return rows
	}
	// a fiftieth more, since rows grow longer as their numbers do
	total := float64(len(rows)) * 1.02 * float64(r.size) / float64(r.Text.Place())
	return slices.Grow(rows, max(0, min(int(total), 4*len(rows), r.Limits.Records)-len(rows)))
}
