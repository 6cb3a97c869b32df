package learn

import (
	"fmt"
	"io"
)

// WriteAdopt writes the settings that the data support, each with what it rests on, as a
// settings file that a batch reads. What they do not support stands in it as a comment, so
// that nobody takes it for an answer.
func (a *Answer) WriteAdopt(w io.Writer) error {
	text := fmt.Sprintf("# What the history of %s supports. Copy what you adopt into the settings; nothing here is in use.\n", a.span())
	text += a.adoptDistance()
	_, err := io.WriteString(w, text)
	return err
}

func (a *Answer) adoptDistance() string {
	d := &a.Distance
	if d.Verdict != Supported {
		return fmt.Sprintf("\n# [drift] half_distance_by_order_km: %s (n = %d new stands); the assumed values stay.\n", d.Verdict, d.Counted)
	}
	best := d.Scale.Scale
	return fmt.Sprintf("\n[drift]\n# measured, this programme, n = %d new stands, %s; 95 %%: %s to %s\nhalf_distance_by_order_km = %s\n",
		d.Counted, a.span(), numbers(d.HalfDistances(best.Low)), numbers(d.HalfDistances(best.High)), numbers(d.HalfDistances(best.Value)))
}
