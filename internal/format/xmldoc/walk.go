package xmldoc

// Walk holds the first and the last time of a track's positions, as written. The texts sort in time
// order, since GPX writes all times in one form.
type Walk struct{ First, Last string }

// Add takes one more time.
func (w *Walk) Add(moment string) {
	if w.First == "" || moment < w.First {
		w.First = moment
	}
	w.Last = max(w.Last, moment)
}
