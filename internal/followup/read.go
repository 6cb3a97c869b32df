package followup

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/check"
	"driftreach/internal/field"
	"driftreach/internal/survey"
)

// Columns returns the columns of followup.csv that Read needs. Read also uses look_again, which
// batches of earlier versions lack.
func Columns() []string {
	return []string{
		field.StandID, field.Quarter, field.OnMap, field.Survey, field.State, field.Due, field.ManagementStatus, field.LastSeen, field.LastVisit,
		field.LastTreated, field.Treatments, field.Method, field.FormulationClass, field.ClearSince, field.ClearLast, field.ClearLooks, field.EarlierIDs,
		field.Parcel, field.StreamID, field.WaterBody, field.RiverKm, field.DecimalLongitude, field.DecimalLatitude,
	}
}

// Read reads the followup.csv of a batch of the given quarter. Columns are found by name; others
// are skipped. Anything a batch never writes is an error that names the line.
func Read(r io.Reader, quarter survey.Quarter) ([]Row, error) {
	in := csv.NewReader(r)
	in.ReuseRecord = true
	header, err := in.Read()
	if err != nil {
		return nil, fmt.Errorf("read the header: %w", err)
	}
	at := map[string]int{}
	for i, name := range header {
		at[name] = i
	}
	for _, name := range Columns() {
		if _, ok := at[name]; !ok {
			return nil, fmt.Errorf("there is no column %s", name)
		}
	}
	var rows []Row
	seen := map[string]bool{}
	for {
		cells, err := in.Read()
		if errors.Is(err, io.EOF) {
			return rows, nil
		}
		if err != nil {
			return nil, err
		}
		line := cellsOf{at: at, cells: cells}
		row := line.row(quarter)
		if err := line.err; err != nil {
			n, _ := in.FieldPos(0)
			return nil, fmt.Errorf("line %d: %w", n, err)
		}
		if seen[row.StandID] {
			n, _ := in.FieldPos(0)
			return nil, fmt.Errorf("line %d: stand %s is there twice", n, row.StandID)
		}
		seen[row.StandID] = true
		rows = append(rows, row)
	}
}

// cellsOf reads the cells of one line and keeps the first error.
type cellsOf struct {
	at    map[string]int
	cells []string
	err   error
}

func (c *cellsOf) row(quarter survey.Quarter) Row {
	if got := c.text(field.Quarter); got != quarter.String() {
		c.fail(field.Quarter, got)
	}
	r := Row{
		StandID: c.text(field.StandID), Present: c.flag(field.OnMap), Due: c.day(field.Due),
		LastSeen: c.day(field.LastSeen), LastLook: c.day(field.LastVisit),
		Work:  Work{Days: c.count(field.Treatments), Last: c.day(field.LastTreated), Method: c.text(field.Method), FormulationClass: c.text(field.FormulationClass)},
		Clear: Clear{Since: c.day(field.ClearSince), Last: c.day(field.ClearLast), Years: c.count(field.ClearLooks)},
		Place: Place{
			Position: orb.Point{c.degrees(field.DecimalLongitude, 180), c.degrees(field.DecimalLatitude, 90)},
			StreamID: c.text(field.StreamID), WaterBody: c.text(field.WaterBody), RiverKm: c.kilometers(field.RiverKm), Parcel: c.text(field.Parcel),
		},
	}
	if ids := c.text(field.EarlierIDs); ids != "" {
		r.Earlier = strings.Split(ids, "; ")
	}
	if _, there := c.at[field.LookAgain]; there {
		r.Again = c.day(field.LookAgain)
	}
	r.State = word(c, field.State, parseState)
	r.Look = word(c, field.Survey, parseLook)
	r.Status = word(c, field.ManagementStatus, survey.ParseStatus)
	c.fit(&r)
	return r
}

// fit reports an error for a row whose cells contradict each other.
func (c *cellsOf) fit(r *Row) {
	dated := r.State == LookAgain || r.State == TreatAgain || r.State == Watch
	clear := r.State == Watch || r.State == Released
	switch {
	case c.err != nil:
	case r.StandID == "":
		c.fail(field.StandID, "")
	case dated && r.Due.IsZero(), r.State == Released && !r.Due.IsZero():
		c.fail(field.Due, c.text(field.Due))
	case (r.Work.Days > 0) == r.Work.Last.IsZero():
		c.fail(field.Treatments, c.text(field.Treatments))
	case (r.Clear.Years > 0) != clear:
		c.fail(field.ClearLooks, c.text(field.ClearLooks))
	case clear && (r.Clear.Since.IsZero() || r.Clear.Last.Before(r.Clear.Since)):
		c.fail(field.ClearLast, c.text(field.ClearLast))
	}
}

func (c *cellsOf) fail(column, value string) {
	if c.err == nil {
		c.err = fmt.Errorf("%s: %q is not what a batch writes there", column, value)
	}
}

// text returns a copy of a cell without the apostrophe that keeps a spreadsheet from running it as
// a formula.
func (c *cellsOf) text(column string) string {
	return strings.Clone(check.FromCell(c.cells[c.at[column]]))
}

func (c *cellsOf) flag(column string) bool {
	value := c.text(column)
	if value != "true" && value != "false" {
		c.fail(column, value)
	}
	return value == "true"
}

func (c *cellsOf) count(column string) int {
	value := c.text(column)
	n, err := strconv.ParseUint(value, 10, 31)
	if err != nil {
		c.fail(column, value)
	}
	return int(n)
}

// day reads a day; blank gives the zero time.
func (c *cellsOf) day(column string) time.Time {
	value := c.text(column)
	if value == "" {
		return time.Time{}
	}
	day, err := time.Parse(time.DateOnly, value)
	if err != nil {
		c.fail(column, value)
	}
	return day
}

func (c *cellsOf) degrees(column string, limit float64) float64 {
	value := c.text(column)
	x, err := strconv.ParseFloat(value, 64)
	if err != nil || !(math.Abs(x) <= limit) {
		c.fail(column, value)
	}
	return x
}

// kilometers reads a length; blank gives NaN.
func (c *cellsOf) kilometers(column string) geo.Kilometers {
	value := c.text(column)
	if value == "" {
		return geo.Kilometers(math.NaN())
	}
	x, err := strconv.ParseFloat(value, 64)
	if err != nil || !(x >= 0) || math.IsInf(x, 1) {
		c.fail(column, value)
	}
	return geo.Kilometers(x)
}

// word reads a word of a column with fixed words.
func word[T any](c *cellsOf, column string, parse func(string) (T, bool)) T {
	value := c.text(column)
	v, ok := parse(value)
	if !ok {
		c.fail(column, value)
	}
	return v
}
