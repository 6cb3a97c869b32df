package intake

// walk is the first and the last moment of a track's positions, as written: their
// order is that of the texts, since GPX writes all in one form.
type walk struct{ first, last string }

// add takes one more moment.
func (w *walk) add(moment string) {
	if w.first == "" || moment < w.first {
		w.first = moment
	}
	w.last = max(w.last, moment)
}
