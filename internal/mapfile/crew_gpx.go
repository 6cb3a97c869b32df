package mapfile

import (
	"bufio"
	"io"
	"strconv"
	"strings"
	"time"

	"driftreach/internal/check"
	"driftreach/internal/result"
)

// gpxFile is the file that is loaded onto GPS units.
const gpxFile = "crew.gpx"

// writeCrewGPX writes crew.gpx (GPX 1.1). It has a waypoint inside each stand that is not released, the
// stops of the crew first and in their order, and the stretches to survey next as routes down the
// stream. Names are short enough for the screens of units. Units use name and comment, both plain text;
// the description is for map programs. The file is dated the quarter's last day; the clock is not read.
func writeCrewGPX(w io.Writer, run *result.Run) error {
	out := bufio.NewWriterSize(w, flushAt)
	out.WriteString(xmlHead)
	out.WriteString(`<gpx xmlns="http://www.topografix.com/GPX/1/1" version="1.1" creator="driftreach">` + "\n<metadata>")
	b := appendElement(nil, "name", "Stops of the crew, "+run.Quarter.String())
	b = appendElement(b, "desc", strings.Join(result.CrewCautions(run), " "))
	b = appendElement(b, "time", run.Quarter.End().Format(time.RFC3339))
	b = append(b, "</metadata>\n"...)
	for _, s := range result.Stops(run) {
		b = appendWaypoint(b, run, s)
		if len(b) >= flushAt {
			if _, err := out.Write(b); err != nil {
				return err
			}
			b = b[:0]
		}
	}
	for _, i := range walks(run) {
		b = appendRoute(b, run, i)
	}
	out.Write(append(b, "</gpx>\n"...))
	return out.Flush()
}

const xmlHead = `<?xml version="1.0" encoding="UTF-8"?>` + "\n"

// stopRows is the number of waypoints and routes that writeCrewGPX writes.
func stopRows(run *result.Run) int { return len(result.Stops(run)) + len(walks(run)) }

// appendWaypoint appends one waypoint, with its child elements in the order of the schema.
func appendWaypoint(b []byte, run *result.Run, s result.Stop) []byte {
	b = appendGPXPlace(append(b, "<wpt"...), wrapped(s.At))
	b = appendElement(b, "name", s.Name)
	b = appendElement(b, "cmt", stopComment(run, s))
	b = appendElement(b, "desc", stopText(run, s))
	b = appendElement(b, "type", run.Task(s))
	return append(b, "</wpt>\n"...)
}

// stopComment is the line that a unit shows below the name, in capitals and digits.
func stopComment(run *result.Run, s result.Stop) string {
	words := []string{strings.ToUpper(run.Task(s))}
	if s.Number > 0 {
		words = append([]string{strconv.Itoa(s.Number)}, words...)
	}
	v := &run.Visits[s.Visit]
	if v.Stand >= 0 {
		words = append(words, run.AcresShown(run.Stands[v.Stand].Infested.Grains())+" AC")
	}
	if !v.Due.IsZero() {
		words = append(words, "BY "+v.Due.Format(time.DateOnly))
	}
	return strings.Join(words, " ")
}

// stopText describes a stop in full.
func stopText(run *result.Run, s result.Stop) string {
	v := &run.Visits[s.Visit]
	there := *v
	there.Place.Position = s.At
	text := []string{"Stand " + v.StandID, sentence(v.What(run.FollowUp)), "Why: " + strings.Join(v.Why(run.FollowUp), "; "), "Where: " + visitPlace(&there)}
	if v.Stand >= 0 {
		for _, r := range run.Stands[v.Stand].Advice.Requirements {
			text = append(text, sentence(r))
		}
	}
	return check.Visible(strings.Join(text, ". ") + ". " + result.FloodCaution + " " + result.LabelCaution)
}
