package xmldoc

// Walk is the first and the last moment of a track's positions, as written: their
// order is that of the texts, since GPX writes all in one form.
type Walk struct{ First, Last string }

// Add takes one more moment.
func (w *Walk) Add(moment string) {
	if w.First == "" || moment < w.First {
		w.First = moment
	}
	w.Last = max(w.Last, moment)
}
