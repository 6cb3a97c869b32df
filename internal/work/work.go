// Package work defines work planned by others (mowing, earthwork, channel work), near the water or
// not, and checks it.
package work

import (
	"time"

	"github.com/paulmach/orb"
)

// Work is one planned job, read and checked. It is drawn as points, lines or areas.
type Work struct {
	ID         string    // work_id
	File       string    // as the user named it
	Row        int       // the work's place in the file, counted from 1
	Kind       string    // one of Kinds, or as recorded; blank if not given
	Start, End time.Time // at midnight UTC; zero if not given
	Contact    string    // whom to notify; blank if not given

	Points orb.MultiPoint      // WGS 84 degrees
	Lines  orb.MultiLineString // longitudes continue past 180 without a jump
	Areas  orb.MultiPolygon    // the same; rings closed
}

// The kinds, in the words of the kind column.
const (
	Mowing      = "mowing"
	Earthwork   = "earthwork"
	ChannelWork = "channel work"
)

// Kinds returns the known kinds of work.
func Kinds() []string { return []string{Mowing, Earthwork, ChannelWork} }

// Paths returns the work as lines in degrees: each point as a line of one vertex, each line, and
// each ring. Lines and rings share the work's memory.
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

// Over says whether the work ended before a day. A work without an end is never over.
func (w *Work) Over(day time.Time) bool { return !w.End.IsZero() && w.End.Before(day) }
