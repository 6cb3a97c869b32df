package learn

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
)

// SecondLook is one place with plants that was looked at twice in a season, the second time without
// knowledge of the first result. At least one of the looks found the plants.
type SecondLook struct {
	At         orb.Point // degrees
	Days       [2]time.Time
	Found      [2]bool
	Knew       bool             // the second look knew the result of the first
	Size       geo.SquareMeters // NaN if not recorded
	HoursPerKm [2]float64       // of each look; NaN if not recorded
	Row        int              // row in its file
}

// secondColumns are the columns of a file of second looks: the required ones, then the optional
// ones.
var secondColumns = []string{"decimalLongitude", "decimalLatitude", "first_date", "second_date", "first_found", "second_found"}

// mostSecondLooks is the largest number of rows in such a file. Our choice: a century of a large
// programme.
const mostSecondLooks = 1_000_000

// ReadSecondLooks reads second looks from CSV (RFC 4180) with a header. An error names the line,
// the value, and the accepted values.
func ReadSecondLooks(r io.Reader) ([]SecondLook, error) {
	in := csv.NewReader(r)
	head, err := in.Read()
	if err != nil {
		return nil, fmt.Errorf("read the header: %w", err)
	}
	at := map[string]int{}
	for i, name := range head {
		at[strings.ToLower(strings.TrimSpace(strings.TrimPrefix(name, "\ufeff")))] = i
	}
	for _, name := range secondColumns {
		if _, there := at[strings.ToLower(name)]; !there {
			return nil, fmt.Errorf("there is no column %s", name)
		}
	}
	var out []SecondLook
	for {
		row, err := in.Read()
		if errors.Is(err, io.EOF) {
			return out, nil
		}
		if err != nil {
			return nil, err
		}
		line, _ := in.FieldPos(0)
		one, err := secondLook(func(name string) string {
			if i, there := at[strings.ToLower(name)]; there {
				return strings.TrimSpace(row[i])
			}
			return ""
		})
		if err != nil {
			return nil, fmt.Errorf("line %d: %w", line, err)
		}
		one.Row = line
		if out = append(out, one); len(out) > mostSecondLooks {
			return nil, fmt.Errorf("line %d: there are more than %d rows", line, mostSecondLooks)
		}
	}
}

// secondLook reads one row.
func secondLook(cell func(string) string) (one SecondLook, err error) {
	number := func(name string, low, high float64, blank bool) float64 {
		text := cell(name)
		if text == "" && blank {
			return math.NaN()
		}
		v, wrong := strconv.ParseFloat(text, 64)
		if wrong != nil || !(v >= low && v <= high) {
			err = errors.Join(err, fmt.Errorf("%s: %q is not a number from %g to %g", name, text, low, high))
		}
		return v
	}
	day := func(name string) time.Time {
		t, wrong := time.Parse(time.DateOnly, cell(name))
		if wrong != nil {
			err = errors.Join(err, fmt.Errorf("%s: %q is not a day as in 2026-07-14", name, cell(name)))
		}
		return t
	}
	yes := func(name string, blank bool) bool {
		switch text := strings.ToLower(cell(name)); {
		case text == "yes" || text == "true" || text == "1":
			return true
		case text == "no" || text == "false" || text == "0" || text == "" && blank:
			return false
		default:
			err = errors.Join(err, fmt.Errorf("%s: %q is neither yes nor no", name, text))
		}
		return false
	}
	one.At = orb.Point{number("decimalLongitude", -180, 180, false), number("decimalLatitude", -85, 85, false)}
	one.Days = [2]time.Time{day("first_date"), day("second_date")}
	one.Found = [2]bool{yes("first_found", false), yes("second_found", false)}
	one.Knew = yes("second_knew", true)
	one.Size = geo.SquareMeters(number("size_m2", 0, 1e9, true))
	one.HoursPerKm = [2]float64{number("first_hours_per_km", 0, 1e4, true), number("second_hours_per_km", 0, 1e4, true)}
	if err == nil && !one.Found[0] && !one.Found[1] {
		err = errors.New("neither look found anything: a row is a place where at least one did")
	}
	return one, err
}
