package intake

import "slices"

// grown returns rows with capacity for the rows to come, estimated from the share of the text that the
// rows so far used. Go's own growth would copy a long slice five times. The capacity is at most three
// times the present number, so that a file that begins with short rows does not reserve memory for rows
// it does not have.
func grown[T any](r *featureReader, rows []T) []T {
	const enough = 1000 // our choice: enough rows to estimate the mean length of those to come
	if len(rows) < max(cap(rows), enough) || r.Text == nil || r.Text.Place() <= 0 {
		return rows
	}
	// two percent more, since rows get longer as their numbers do
	total := float64(len(rows)) * 1.02 * float64(r.size) / float64(r.Text.Place())
	return slices.Grow(rows, max(0, min(int(total), 4*len(rows), r.Limits.Records)-len(rows)))
}
