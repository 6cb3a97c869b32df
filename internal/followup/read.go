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
	"driftreach/internal/survey"
)

// The columns of followup.csv that the next quarter reads.
const (
	columnStand     = "stand_id"
	columnQuarter   = "quarter"
	columnPresent   = "on_map"
	columnLook      = "survey"
	columnState     = "state"
	columnDue       = "due"
	columnAgain     = "look_again" // not in batches of earlier versions
	columnStatus    = "management_status"
	columnSeen      = "last_seen"
	columnLooked    = "last_visit"
	columnTreated   = "last_treated"
	columnDays      = "treatments"
	columnMethod    = "method"
	columnClass     = "formulation_class"
	columnSince     = "clear_since"
	columnLast      = "clear_last"
	columnYears     = "clear_looks"
	columnEarlier   = "earlier_ids"
	columnParcel    = "parcel"
	columnStream    = "stream_id"
	columnWater     = "waterBody"
	columnRiver     = "river_km"
	columnLongitude = "decimalLongitude"
	columnLatitude  = "decimalLatitude"
)

// Columns returns the columns that Read needs.
func Columns() []string {
	return []string{
		columnStand, columnQuarter, columnPresent, columnLook, columnState, columnDue, columnStatus, columnSeen, columnLooked,
		columnTreated, columnDays, columnMethod, columnClass, columnSince, columnLast, columnYears, columnEarlier,
		columnParcel, columnStream, columnWater, columnRiver, columnLongitude, columnLatitude,
	}
}

// Read reads the followup.csv of one batch of the given quarter. Columns are
// found by name and others passed over. Anything a batch does not write is an
// error that names the line.
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

// cellsOf reads the cells of one line; the first trouble stays.
type cellsOf struct {
	at    map[string]int
	cells []string
	err   error
}

func (c *cellsOf) row(quarter survey.Quarter) Row {
	if got := c.text(columnQuarter); got != quarter.String() {
		c.fail(columnQuarter, got)
	}
	r := Row{
		StandID: c.text(columnStand), Present: c.flag(columnPresent), Due: c.day(columnDue),
		LastSeen: c.day(columnSeen), LastLook: c.day(columnLooked),
		Work:  Work{Days: c.count(columnDays), Last: c.day(columnTreated), Method: c.text(columnMethod), FormulationClass: c.text(columnClass)},
		Clear: Clear{Since: c.day(columnSince), Last: c.day(columnLast), Years: c.count(columnYears)},
		Place: Place{
			Position: orb.Point{c.degrees(columnLongitude, 180), c.degrees(columnLatitude, 90)},
			StreamID: c.text(columnStream), WaterBody: c.text(columnWater), RiverKm: c.kilometers(columnRiver), Parcel: c.text(columnParcel),
		},
	}
	if ids := c.text(columnEarlier); ids != "" {
		r.Earlier = strings.Split(ids, "; ")
	}
	if _, there := c.at[columnAgain]; there {
		r.Again = c.day(columnAgain)
	}
	r.State = word(c, columnState, parseState)
	r.Look = word(c, columnLook, parseLook)
	r.Status = word(c, columnStatus, survey.ParseStatus)
	c.fit(&r)
	return r
}

// fit refuses a row whose parts contradict each other.
func (c *cellsOf) fit(r *Row) {
	dated := r.State == LookAgain || r.State == TreatAgain || r.State == Watch
	clear := r.State == Watch || r.State == Released
	switch {
	case c.err != nil:
	case r.StandID == "":
		c.fail(columnStand, "")
	case dated && r.Due.IsZero(), r.State == Released && !r.Due.IsZero():
		c.fail(columnDue, c.text(columnDue))
	case (r.Work.Days > 0) == r.Work.Last.IsZero():
		c.fail(columnDays, c.text(columnDays))
	case (r.Clear.Years > 0) != clear:
		c.fail(columnYears, c.text(columnYears))
	case clear && (r.Clear.Since.IsZero() || r.Clear.Last.Before(r.Clear.Since)):
		c.fail(columnLast, c.text(columnLast))
	}
}

func (c *cellsOf) fail(column, value string) {
	if c.err == nil {
		c.err = fmt.Errorf("%s: %q is not what a batch writes there", column, value)
	}
}

// text returns a cell without the apostrophe that keeps a spreadsheet from
// running it as a formula, in memory of its own.
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

// day reads a day, the zero time where there is none.
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

// kilometers reads a length, NaN where there is none.
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

// word reads one of a column's words.
func word[T any](c *cellsOf, column string, parse func(string) (T, bool)) T {
	value := c.text(column)
	v, ok := parse(value)
	if !ok {
		c.fail(column, value)
	}
	return v
}
