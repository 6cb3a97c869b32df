// Package work says what a planned work of somebody else is and checks it:
// mowing, earthwork, channel work, near the water or not.
package work

import (
	"time"

	"github.com/paulmach/orb"
)

// Work is one planned job, read and checked. Its place is of one kind: points,
// lines or areas.
type Work struct {
	ID         string    // work_id
	File       string    // as the user named it
	Row        int       // the work's place there, counted from 1
	Kind       string    // one of Kinds, or as it was written; blank for not given
	Start, End time.Time // UTC midnights; zero for not given
	Contact    string    // who is to be told; blank for not given

	Points orb.MultiPoint      // WGS 84 degrees
	Lines  orb.MultiLineString // longitudes run on past 180 rather than jump
	Areas  orb.MultiPolygon    // likewise; rings closed
}

// The kinds, in the words of the kind column.
const (
	Mowing      = "mowing"
	Earthwork   = "earthwork"
	ChannelWork = "channel work"
)

// Kinds returns the kinds of work that are known by name.
func Kinds() []string { return []string{Mowing, Earthwork, ChannelWork} }

// Paths returns the work as lines of degrees: a point as a line of one vertex,
// each line, each ring. They are the work's own memory, points apart.
func (w *Work) Paths() []orb.LineString {
	out := make([]orb.LineString, 0, len(w.Points)+len(w.Lines)+len(w.Areas))
	for _, p := range w.Points {
		out = append(out, orb.LineString{p})
	}
	out = append(out, w.Lines...)
	for _, polygon := range w.Areas {
		for _, ring := range polygon {
			out = append(out, orb.LineString(ring))
		}
	}
	return out
}

// Over says whether the work ended before a day. One without an end is not over.
func (w *Work) Over(day time.Time) bool { return !w.End.IsZero() && w.End.Before(day) }
