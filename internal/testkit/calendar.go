package testkit

import (
	"bytes"
	"fmt"
	"os/exec"
	"strconv"
	"strings"

	ical "github.com/arran4/golang-ical"
	"github.com/paulmach/orb"
)

// readers are Python programs by package. The packages are independent of each other and of us. Each
// program reads a calendar from standard input and prints one line for each event.
var readers = map[string]string{
	"icalendar": `
import sys, icalendar
for e in icalendar.Calendar.from_ical(sys.stdin.buffer.read()).walk("VEVENT"):
    if e.errors: sys.exit(str(e.errors))
    print(e["UID"], e["SEQUENCE"], e.get("STATUS", "-"), e.decoded("DTSTART").isoformat(), e.decoded("DTSTAMP").date().isoformat())
`,
	"vobject": `
import sys, vobject
for e in vobject.readOne(sys.stdin.buffer.read().decode()).vevent_list:
    c = e.contents
    print(e.uid.value, c["sequence"][0].value, c["status"][0].value if "status" in c else "-", e.dtstart.value.isoformat(), e.dtstamp.value.date().isoformat())
`,
}

// Events returns, by parser, the all-day events of a calendar, one line each: UID, SEQUENCE, STATUS
// ("-" for none), day, and day of DTSTAMP. The parsers are golang-ical, a library in Go, and two Python
// packages of Debian. Packages that are not installed are left out and listed in absent.
func Events(data []byte) (read map[string][]string, absent []string, err error) {
	lines, err := goEvents(data)
	if err != nil {
		return nil, nil, fmt.Errorf("golang-ical: %w", err)
	}
	read = map[string][]string{"golang-ical": lines}
	for _, name := range []string{"icalendar", "vobject"} {
		if exec.Command(python, "-c", "import "+name).Run() != nil {
			absent = append(absent, "python3-"+name)
			continue
		}
		command := exec.Command(python, "-c", readers[name])
		command.Stdin = bytes.NewReader(data)
		out, err := command.CombinedOutput()
		if err != nil {
			return nil, nil, fmt.Errorf("%s: %w\n%s", name, err, out)
		}
		read[name] = strings.Split(strings.TrimSpace(string(out)), "\n")
	}
	return read, absent, nil
}

// goEvents reads a calendar with golang-ical.
func goEvents(data []byte) ([]string, error) {
	calendar, err := ical.ParseCalendar(bytes.NewReader(data))
	if err != nil {
		return nil, err
	}
	var lines []string
	for _, e := range calendar.Events() {
		start, err := e.GetAllDayStartAt()
		if err != nil {
			return nil, err
		}
		stamp, err := e.GetDtStampTime()
		if err != nil {
			return nil, err
		}
		sequence, status := e.GetProperty(ical.ComponentPropertySequence), "-"
		if sequence == nil {
			return nil, fmt.Errorf("%s has no SEQUENCE", e.Id())
		}
		if s := e.GetProperty(ical.ComponentPropertyStatus); s != nil {
			status = s.Value
		}
		lines = append(lines, fmt.Sprint(e.Id(), " ", sequence.Value, " ", status, " ", start.Format("2006-01-02"), " ", stamp.Format("2006-01-02")))
	}
	return lines, nil
}

// position is the place of an event.
type position struct {
	stand, kind string // from the UID
	at          orb.Point
}

// positions returns the GEO of every event that has one, read by golang-ical.
func positions(data []byte) ([]position, error) {
	calendar, err := ical.ParseCalendar(bytes.NewReader(data))
	if err != nil {
		return nil, err
	}
	var out []position
	for _, e := range calendar.Events() {
		geo := e.GetProperty(ical.ComponentPropertyGeo)
		status := e.GetProperty(ical.ComponentPropertyStatus)
		if geo == nil || status != nil { // a cancelled event is from an earlier quarter
			continue
		}
		lat, lon, _ := strings.Cut(geo.Value, ";")
		names := strings.Split(e.Id(), ".")
		out = append(out, position{names[0], names[1], degrees(lon, lat)})
	}
	return out, nil
}

// degrees reads a position. If a text is not a number, the position is NaN and inside nothing.
func degrees(lon, lat string) orb.Point {
	x, errX := strconv.ParseFloat(lon, 64)
	y, errY := strconv.ParseFloat(lat, 64)
	if errX != nil || errY != nil {
		return orb.Point{1000, 1000}
	}
	return orb.Point{x, y}
}
